"""A file that was brought to the server: tried in the background, kept or dropped; gone at the end."""

import secrets
import shutil
import tempfile
import threading
import weakref
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO

from steelyard.bootstrap.taking_in import Tried, keep_table, try_table
from steelyard.desk import Acting
from steelyard.desk.ports import Streamed
from steelyard.errors import NotFound, SteelyardError
from steelyard.sheets.fates_file import fates_file

PATIENCE_SECONDS = 1.0
"""How long a page waits for a small file before it shows how far the run is."""
MOST_RUNS = 8
"""Files a server holds; one more drops the oldest that nobody works on."""
TABLE, FATES = "table", "fates.csv"


@dataclass
class InRun:
    """One file and what became of it.

    asked: what it is said to hold, empty to find out. name: of the file as the person knows it. tried: None
    until it is tried; written: None until it is kept; trouble: why it could not be. is_keeping: its rows are
    being written, or were.
    """

    folder: Path
    asked: str
    name: str
    key: str = field(default_factory=lambda: secrets.token_urlsafe(9))
    done: int = 0
    of: int = 0
    is_keeping: bool = False
    is_stopped: bool = False
    tried: Tried | None = None
    written: Streamed | None = None
    trouble: SteelyardError | None = None
    _over: threading.Event = field(default_factory=threading.Event)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def __post_init__(self) -> None:
        self._over.set()
        self._cleared = weakref.finalize(self, shutil.rmtree, self.folder, ignore_errors=True)

    @property
    def is_running(self) -> bool:
        """It is tried, or written, just then."""
        return not self._over.is_set()

    @property
    def fates(self) -> Path:
        """The file with what becomes of every row."""
        return self.folder / FATES

    def begin(self, acting: Acting) -> None:
        """Begin to try it, and wait a moment for the end."""
        self._go_on(lambda: self._try(acting))

    def keep(self, acting: Acting) -> None:
        """Begin to write its rows, unless they are written already, and wait a moment for the end."""
        if self.written is None:
            self._go_on(lambda: self._keep(acting))

    def stop(self) -> None:
        """End it at the next step, and wait a moment for that."""
        self.is_stopped = True
        self._over.wait(PATIENCE_SECONDS)

    def drop(self) -> None:
        """Stop it, and throw the file away."""
        self.stop()
        self._cleared()

    def _go_on(self, work: Callable[[], None]) -> None:
        with self._lock:
            if self.is_running:
                return
            self._over.clear()
        self.is_stopped, self.trouble, self.done, self.of = False, None, 0, 0
        threading.Thread(target=self._run, args=(work,), name="bring", daemon=True).start()
        self._over.wait(PATIENCE_SECONDS)

    def _run(self, work: Callable[[], None]) -> None:
        try:
            work()
        except SteelyardError as trouble:
            self.trouble = trouble
        finally:
            self._over.set()

    def _try(self, acting: Acting) -> None:
        with fates_file(self.fates) as each:
            self.tried = try_table(
                acting,
                self.folder / TABLE,
                asked=self.asked,
                name=self.name,
                each=each,
                on_step=self._step,
            )

    def _keep(self, acting: Acting) -> None:
        if self.tried is None:
            return
        self.is_keeping = True
        self.written = keep_table(acting, self.folder / TABLE, self.tried, on_step=self._step)
        if self.written is not None:
            (self.folder / TABLE).unlink(missing_ok=True)

    def _step(self, done: int, of: int) -> bool:
        self.done, self.of = done, of
        return not self.is_stopped


@dataclass
class InRuns:
    """The files of a server, the oldest first."""

    runs: dict[str, InRun] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def bring(self, content: IO[bytes], *, asked: str, name: str) -> InRun:
        """Put a file down. content: read to its end."""
        run = InRun(Path(tempfile.mkdtemp(prefix="steelyard-")), asked, name)
        with (run.folder / TABLE).open("wb") as table:
            shutil.copyfileobj(content, table)
        with self._lock:
            self.runs[run.key] = run
            idle = [key for key, each in self.runs.items() if not each.is_running and key != run.key]
            over = [self.runs.pop(key) for key in idle[: max(0, len(self.runs) - MOST_RUNS)]]
        for each in over:
            each.drop()
        return run

    def one(self, key: str) -> InRun:
        """A file by its key. Raises NotFound where it was dropped."""
        with self._lock:
            run = self.runs.get(key)
        if run is None:
            raise NotFound(key)
        return run

    def drop(self, key: str) -> None:
        """Throw a file away; nothing happens where that was done."""
        with self._lock:
            run = self.runs.pop(key, None)
        if run is not None:
            run.drop()
