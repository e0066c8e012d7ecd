"""A command that serves, run as a person runs it, in a home of its own."""

import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

SECONDS = 60.0
"""How long the slowest machine may take for one line or to end."""
SRC = Path(__file__).parents[2] / "src"


class Served:
    """A running program and what it has said so far."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        self.said: list[str] = []
        self._lines: queue.Queue[str | None] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        for line in self.process.stdout or ():
            self._lines.put(line)
        self._lines.put(None)

    def hear(self, words: str) -> str:
        """The next line with these words; raises with all that was said where it does not come."""
        while (line := self._lines.get(timeout=SECONDS)) is not None:
            self.said.append(line)
            if words in line:
                return line
        raise AssertionError(f"“{words}” was not said:\n{''.join(self.said)}")

    def address(self) -> str:
        """Where its pages are, once they are there."""
        return self.hear("http://127.0.0.1:").split()[-1]

    def end(self, with_signal: int = signal.SIGINT) -> int:
        """Ask it to end; returns its exit status, everything it said is in `said`."""
        self.process.send_signal(with_signal)
        status = self.process.wait(SECONDS)
        while (line := self._lines.get(timeout=SECONDS)) is not None:
            self.said.append(line)
        return status


def _as_from_a_terminal() -> None:
    """What the tests themselves were told to ignore, the program is not."""
    for number in (signal.SIGINT, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


@contextmanager
def serving(home: Path, *words: str, **surround: str) -> Iterator[Served]:
    """`python -m steelyard …` in a home of its own; killed at the end where it still runs.

    surround: variables of its environment; PATH, HOME and those of the system are there.
    """
    own = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT") if name in os.environ}
    own |= {"HOME": str(home), "XDG_DATA_HOME": str(home), "TMPDIR": str(home), "PYTHONPATH": str(SRC)}
    process = subprocess.Popen(
        [sys.executable, "-m", "steelyard", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        stdin=subprocess.DEVNULL,
        text=True,
        encoding="utf-8",
        env=own | {"PYTHONUTF8": "1"} | surround,
        preexec_fn=None if sys.platform == "win32" else _as_from_a_terminal,
    )
    with process:
        try:
            yield Served(process)
        finally:
            process.kill()
