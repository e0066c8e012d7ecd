"""Work of a server in the background: how far it is, how it is stopped, what came of it."""

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Generic, TypeVar

from steelyard.desk import OnStep
from steelyard.errors import SteelyardError

PATIENCE_SECONDS = 1.0
"""How long a page waits for what is soon done before it shows how far the run is."""
Found = TypeVar("Found")


@dataclass
class Run(Generic[Found]):
    """A run that was begun. found: None until it is over; trouble: why it could not go on."""

    at: datetime
    done: int = 0
    of: int = 0
    found: Found | None = None
    trouble: SteelyardError | None = None
    _stop: threading.Event = field(default_factory=threading.Event)
    _over: threading.Event = field(default_factory=threading.Event)

    @property
    def is_running(self) -> bool:
        """It is not over yet."""
        return not self._over.is_set()

    def begin(self, work: Callable[[OnStep], Found | None]) -> None:
        """Begin, and wait a moment for the end."""
        threading.Thread(target=self._run, args=(work,), name="run", daemon=True).start()
        self._over.wait(PATIENCE_SECONDS)

    def stop(self) -> None:
        """End it at the next step, and wait a moment for that."""
        self._stop.set()
        self._over.wait(PATIENCE_SECONDS)

    def _run(self, work: Callable[[OnStep], Found | None]) -> None:
        try:
            self.found = work(self._step)
        except SteelyardError as trouble:
            self.trouble = trouble
        finally:
            self._over.set()

    def _step(self, done: int, of: int) -> bool:
        self.done, self.of = done, of
        return not self._stop.is_set()


@dataclass
class Runs(Generic[Found]):
    """The run of a server; two windows share it."""

    last: Run[Found] | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self, work: Callable[[OnStep], Found | None], *, at: datetime) -> Run[Found]:
        """Begin a run, unless one is under way."""
        with self._lock:
            if self.last is not None and self.last.is_running:
                return self.last
            self.last = Run(at)
        self.last.begin(work)
        return self.last
