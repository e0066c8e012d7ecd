"""One run of verifying in the background: how far it is, how it is stopped, what it found."""

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from steelyard.desk import OnStep, Verified
from steelyard.errors import StoreTrouble

PATIENCE_SECONDS = 1.0
"""How long a page waits for a small ledger before it shows how far the run is."""


@dataclass
class ChainRun:
    """A run that was begun. found: None until it is over; trouble: why it could not go on."""

    at: datetime
    done: int = 0
    of: int = 0
    found: Verified | None = None
    trouble: StoreTrouble | None = None
    _stop: threading.Event = field(default_factory=threading.Event)
    _over: threading.Event = field(default_factory=threading.Event)

    @property
    def is_running(self) -> bool:
        """It is not over yet."""
        return not self._over.is_set()

    def begin(self, verify: Callable[[OnStep], Verified]) -> None:
        """Begin, and wait a moment for the end."""
        threading.Thread(target=self._run, args=(verify,), name="verify", daemon=True).start()
        self._over.wait(PATIENCE_SECONDS)

    def stop(self) -> None:
        """End it at the next step, and wait a moment for that."""
        self._stop.set()
        self._over.wait(PATIENCE_SECONDS)

    def _run(self, verify: Callable[[OnStep], Verified]) -> None:
        try:
            self.found = verify(self._step)
        except StoreTrouble as trouble:
            self.trouble = trouble
        finally:
            self._over.set()

    def _step(self, done: int, of: int) -> bool:
        self.done, self.of = done, of
        return not self._stop.is_set()


@dataclass
class ChainRuns:
    """The run of a server; two windows share it."""

    last: ChainRun | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self, verify: Callable[[OnStep], Verified], *, at: datetime) -> ChainRun:
        """Begin a run, unless one is under way."""
        with self._lock:
            if self.last is not None and self.last.is_running:
                return self.last
            self.last = ChainRun(at)
        self.last.begin(verify)
        return self.last
