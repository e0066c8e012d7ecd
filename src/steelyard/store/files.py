"""Files beside a ledger: for this user alone, under names nothing has yet, and truly on the disk."""

import os
from datetime import UTC, datetime
from pathlib import Path

COPIES = "copies"
"""Folder beside a ledger for what is laid aside before it is changed."""
FOLDER_MODE, FILE_MODE = 0o700, 0o600


def free_name(path: Path, why: str) -> Path:
    """A name in `copies/` beside a ledger that nothing has yet; the folder is made. Raises OSError."""
    folder = path.parent / COPIES
    folder.mkdir(mode=FOLDER_MODE, exist_ok=True)
    return unused(folder / f"{path.stem}-{why}-{datetime.now(UTC):%Y%m%dT%H%M%SZ}.sqlite3")


def unused(path: Path) -> Path:
    """This path, or the first one of its kind that nothing has yet."""
    number, free = 1, path
    while free.exists():
        number += 1
        free = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return free


def make_private(path: Path) -> None:
    """An empty file that only this user reads, where the system knows modes. Raises OSError."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, FILE_MODE))


def flush(path: Path) -> None:
    """See that a file, and its name in its folder, are on the disk. Raises OSError."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())
    if os.name == "posix":
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
