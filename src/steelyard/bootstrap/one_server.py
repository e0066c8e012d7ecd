"""One server for a folder: the first one holds a lock and leaves its address, the next one finds it.

The system frees the lock when its holder ends, however it ends; an address without a lock is stale.
"""

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from steelyard.errors import Busy

FILE = "server.txt"
LOCK_AT = 1 << 30
"""The byte that is locked, far behind the address: a locked one cannot be read on every system."""
LONGEST = 200
PATIENCE_SECONDS, PAUSE_SECONDS = 5.0, 0.05


@dataclass(frozen=True)
class OneServer:
    """Whether this is the one. other: address of the one that is there already, else None."""

    other: str | None
    _file: int | None = None

    def announce(self, address: str) -> None:
        """Leave the address for whoever comes next."""
        if self._file is not None:
            with suppress(OSError):
                os.lseek(self._file, 0, os.SEEK_SET)
                os.write(self._file, f"{address}\n".encode())


@contextmanager
def one_server(folder: Path, *, patience_seconds: float = PATIENCE_SECONDS) -> Iterator[OneServer]:
    """The place of the server of a folder, held until the end; or the address of who holds it.

    folder: must be there. patience_seconds: how long another one may take to leave its address. [s]
    Where the disk knows no locks nobody is found. Raises Busy where another one leaves no address.
    """
    path = folder / FILE
    try:
        file = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    except OSError:
        yield OneServer(None)
        return
    try:
        if _is_held(file):
            yield OneServer(_address(path, patience_seconds))
            return
        with suppress(OSError):
            os.ftruncate(file, 0)
        try:
            yield OneServer(None, file)
        finally:
            with suppress(OSError):
                os.ftruncate(file, 0)
    finally:
        os.close(file)


def _address(path: Path, patience_seconds: float) -> str:
    until = time.monotonic() + patience_seconds
    while True:
        with path.open("rb") as file:
            line, end, _ = file.read(LONGEST).decode(errors="replace").partition("\n")
        if end:
            return line.strip()
        if time.monotonic() > until:
            raise Busy(str(path.parent))
        time.sleep(PAUSE_SECONDS)


if sys.platform == "win32":
    import msvcrt

    def _is_held(file: int) -> bool:
        """Lock the file, or find it locked by another process."""
        os.lseek(file, LOCK_AT, os.SEEK_SET)
        try:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        except OSError:
            return True
        return False

else:
    import fcntl

    def _is_held(file: int) -> bool:
        """Lock the file, or find it locked by another process; False where the disk knows no locks."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return True
        except OSError:
            return False
        return False
