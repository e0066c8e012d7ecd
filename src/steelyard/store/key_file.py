"""The private key of a workshop in its folder: for this user alone, replaced whole or not at all."""

import os
from datetime import UTC, datetime
from pathlib import Path

from steelyard.errors import InputRefused
from steelyard.proof import WorkshopKey, fingerprint, key_in_pem, new_key
from steelyard.store.files import COPIES, FILE_MODE, FOLDER_MODE, flush, unused
from steelyard.store.trouble import told

KEY_FILE = "key.pem"
OTHERS = 0o077
"""Mode bits by which others than the owner read or write a file."""
PASSING = ".part"


def read_key(folder: Path) -> WorkshopKey | None:
    """The key in a folder; None where there is none, or none that can be read. Raises StoreTrouble."""
    path = folder / KEY_FILE
    with told(str(path)):
        try:
            return key_in_pem(path.read_bytes())
        except FileNotFoundError:
            return None
        except InputRefused:
            return None


def make_key(folder: Path) -> WorkshopKey:
    """A new key in a folder that has none; of two that are made at once the first one stands.

    Raises StoreTrouble.
    """
    key, path = new_key(), folder / KEY_FILE
    with told(str(path)):
        try:
            _write(path, key.in_pem())
        except FileExistsError:
            return key_in_pem(path.read_bytes())
    return key


def put_key(folder: Path, key: WorkshopKey) -> Path | None:
    """Put a key in the place of the one in a folder; returns where that one was laid, None where none was.

    Raises StoreTrouble.
    """
    path = folder / KEY_FILE
    with told(str(path)):
        passing = unused(path.with_suffix(PASSING))
        _write(passing, key.in_pem())
        aside = _laid_aside(path) if path.exists() else None
        os.replace(passing, path)
        flush(path)
    return aside


def protected_copy(folder: Path, key: WorkshopKey, phrase: str) -> Path:
    """A copy of a key under a pass phrase in a folder; returns where it lies.

    Raises InputRefused (`phrase`), StoreTrouble.
    """
    content = key.in_pem(phrase)
    with told(str(folder)):
        folder.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        path = unused(folder / f"key-{fingerprint(key.public).replace(' ', '')[:8]}.pem")
        _write(path, content)
    return path


def is_private(folder: Path) -> bool:
    """Whether nobody but its owner may read the key; true where the system knows no modes."""
    try:
        mode = (folder / KEY_FILE).stat().st_mode
    except OSError:
        return True
    return os.name != "posix" or not mode & OTHERS


def move_key(folder: Path, to: Path) -> None:
    """Take the key along to another folder; nothing happens where there is none. Raises StoreTrouble."""
    path = folder / KEY_FILE
    with told(str(to)):
        if path.is_file():
            _write(to / KEY_FILE, path.read_bytes())
            path.unlink()


def _laid_aside(path: Path) -> Path:
    folder = path.parent / COPIES
    folder.mkdir(mode=FOLDER_MODE, exist_ok=True)
    aside = unused(folder / f"key-replaced-{datetime.now(UTC):%Y%m%dT%H%M%SZ}.pem")
    os.replace(path, aside)
    return aside


def _write(path: Path, content: bytes) -> None:
    """A new file for this user alone, truly on the disk. Raises FileExistsError, other OSError."""
    with open(path, "xb", opener=lambda name, flags: os.open(name, flags, FILE_MODE)) as file:
        file.write(content)
    flush(path)
