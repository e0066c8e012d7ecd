"""The private key of a workshop in its folder: for this user alone, replaced whole or not at all."""

import os
import secrets
import stat
import time
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from steelyard.errors import InputRefused
from steelyard.proof import WorkshopKey, fingerprint, key_in_pem, new_key
from steelyard.proof.under_phrase import ROUNDS, in_key_file, rounds_of
from steelyard.store.files import COPIES, FILE_MODE, FOLDER_MODE, flush, unused
from steelyard.store.trouble import told

KEY_FILE = "key.pem"
OTHERS = 0o077
"""Mode bits by which others than the owner read or write a file."""
PASSING = ".part"
STALE_SECONDS = 3600
"""After which a passing file was left by a program that was killed. [s]"""
REPLACED = "key-replaced-"
MOST_COPIES = 20
"""How many copies of one key are tried with a pass phrase, the newest first: each one takes a moment."""


def read_key(folder: Path) -> WorkshopKey | None:
    """The key in a folder; None where there is none, or none that can be read, for whatever reason."""
    path = folder / KEY_FILE
    try:
        return key_in_pem(path.read_bytes()) if path.is_file() else None
    except (OSError, InputRefused):
        return None


def has_key_file(folder: Path) -> bool:
    """Whether anything bears the name of the key there, readable or not."""
    return os.path.lexists(folder / KEY_FILE)


def make_key(folder: Path) -> WorkshopKey | None:
    """A new key in a folder that has none; of two that are made at once the first one stands.

    It has its name only once it is whole. None where what has the name cannot be read. Raises StoreTrouble.
    """
    key, path = new_key(), folder / KEY_FILE
    with told(str(path)):
        passing = _passing(path, key)
        try:
            _name(passing, path)
        except FileExistsError:
            return read_key(folder)
        finally:
            passing.unlink(missing_ok=True)
        flush(path)
    return key


def put_key(folder: Path, key: WorkshopKey) -> Path | None:
    """Put a key in the place of the one in a folder; returns where that one was laid, None where none was.

    One of the two has the name at each moment. Raises StoreTrouble.
    """
    path = folder / KEY_FILE
    with told(str(path)):
        passing = _passing(path, key)
        try:
            aside = _laid_aside(path) if has_key_file(folder) else None
            os.replace(passing, path)
        finally:
            passing.unlink(missing_ok=True)
        flush(path)
    return aside


def protected_copy(folder: Path, key: WorkshopKey, phrase: str) -> Path:
    """A copy of a key under a pass phrase in a folder; returns where it lies.

    One that lies there already, of this key and under this phrase, is as good.
    Raises InputRefused (`phrase`), StoreTrouble.
    """
    content = key.in_pem(phrase)
    with told(str(folder)):
        folder.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        name = f"key-{fingerprint(key.public).replace(' ', '')[:8]}"
        for copy in _newest(folder, name):
            if _opens(copy, key, phrase):
                return copy
        path = unused(folder / f"{name}.pem")
        _write(path, content)
    return path


def laid_keys(folder: Path) -> tuple[Path, ...]:
    """Where the keys lie that another one took the place of, the latest last."""
    return tuple(sorted((folder / COPIES).glob(f"{REPLACED}*.pem")))


def is_private(folder: Path) -> bool:
    """Whether nobody but its owner may read the key; true where the system knows no modes."""
    try:
        mode = (folder / KEY_FILE).stat().st_mode
    except OSError:
        return True
    return os.name != "posix" or not stat.S_ISREG(mode) or not mode & OTHERS


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
    aside = unused(folder / f"{REPLACED}{datetime.now(UTC):%Y%m%dT%H%M%SZ}.pem")
    try:
        content = path.read_bytes()
    except OSError:  # no key that could be missed meanwhile
        os.replace(path, aside)
    else:
        _write(aside, content)
    return aside


def _passing(path: Path, key: WorkshopKey) -> Path:
    """A key under a name of its own, until it gets the one it is for; those that were left are cleared."""
    for left in path.parent.glob(f".{path.name}-*{PASSING}"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > STALE_SECONDS:
                left.unlink()
    passing = path.with_name(f".{path.name}-{secrets.token_hex(4)}{PASSING}")
    _write(passing, key.in_pem())
    return passing


def _name(passing: Path, path: Path) -> None:
    """Give a file its name, unless something has it. Raises FileExistsError, other OSError."""
    try:
        os.link(passing, path)
    except FileExistsError:
        raise
    except OSError:  # a disk that knows no second names
        _write(path, passing.read_bytes())


def _newest(folder: Path, name: str) -> list[Path]:
    found = [(copy.stat().st_mtime, copy) for copy in folder.glob(f"{name}*.pem") if copy.is_file()]
    return [copy for _, copy in sorted(found, reverse=True)[:MOST_COPIES]]


def _opens(copy: Path, key: WorkshopKey, phrase: str) -> bool:
    """Whether a copy holds this key under this phrase, as slow to guess as one made now."""
    try:
        content = copy.read_bytes()
        return rounds_of(in_key_file(content)[1]) >= ROUNDS and key_in_pem(content, phrase) == key
    except (OSError, InputRefused):
        return False


def _write(path: Path, content: bytes) -> None:
    """A new file for this user alone, truly on the disk, whole or not at all.

    Raises FileExistsError, other OSError.
    """
    with open(path, "xb", opener=lambda name, flags: os.open(name, flags, FILE_MODE)) as file:
        try:
            file.write(content)
            file.flush()
        except OSError:
            path.unlink(missing_ok=True)
            raise
    flush(path)
