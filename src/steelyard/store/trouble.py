"""What a disk or a database refuses, told as one of the troubles of a ledger."""

import errno
import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

import sqlalchemy as sa

from steelyard.errors import Busy, Damaged, Full, ReadOnly, StoreTrouble
from steelyard.words import say

PRIMARY = 0xFF
"""Mask of the primary code in an extended one. Source: SQLite, Result and Error Codes."""
BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_PROTOCOL}
READ_ONLY = {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM}
UNREADABLE = {
    sqlite3.SQLITE_CORRUPT,
    sqlite3.SQLITE_IOERR_READ,
    sqlite3.SQLITE_IOERR_SHORT_READ,
    sqlite3.SQLITE_IOERR_CORRUPTFS,
}
UNWRITABLE = {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_WRITE}
"""A quota or a limit on the size of a file comes back as a failed write, not as a full disk."""

NO_ROOM = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
NO_LEAVE = {errno.EACCES, errno.EPERM, errno.EROFS}
HELD = {errno.EBUSY, errno.EAGAIN, errno.ETXTBSY}
HELD_ON_WINDOWS = {32, 33}
"""Sharing and lock violation. Source: Microsoft, System Error Codes."""


@contextmanager
def told(place: str) -> Iterator[None]:
    """Whatever the disk or the database refuses inside is raised as a StoreTrouble about `place`.

    What is our own mistake (a constraint broken, a statement that cannot be read) goes through as it is.
    """
    try:
        yield
    except sa.exc.TimeoutError as error:
        raise Busy(place) from error
    except sa.exc.DBAPIError as error:
        if not isinstance(error.orig, sqlite3.Error):
            raise
        _raise(_of_database(error.orig, place), error)
    except sqlite3.Error as error:
        _raise(_of_database(error, place), error)
    except json.JSONDecodeError as error:
        raise Damaged(place, what=say("damaged-unreadable")) from error
    except OSError as error:
        raise _of_system(error, place) from error


def _raise(trouble: StoreTrouble | None, error: Exception) -> None:
    if trouble is None:
        raise error
    raise trouble from error


def _of_database(error: sqlite3.Error, place: str) -> StoreTrouble | None:
    """The trouble behind an error of SQLite; None where the mistake is ours."""
    code: int | None = getattr(error, "sqlite_errorcode", None)
    if code is None:  # the driver's own: a text that is no UTF-8 any more, or a mistake of ours
        is_text = isinstance(error, sqlite3.OperationalError)
        return Damaged(place, what=say("damaged-unreadable")) if is_text else None
    if code in UNWRITABLE:
        return Full(place)
    if code == sqlite3.SQLITE_NOTADB:
        return Damaged(place, what=say("damaged-no-ledger"))
    if code in UNREADABLE or code & PRIMARY == sqlite3.SQLITE_CORRUPT:
        return Damaged(place, what=say("damaged-unreadable"))
    if code & PRIMARY in BUSY:
        return Busy(place)
    if code & PRIMARY in READ_ONLY:
        return ReadOnly(place)
    return StoreTrouble(place) if code & PRIMARY == sqlite3.SQLITE_IOERR else None


def _of_system(error: OSError, place: str) -> StoreTrouble:
    if error.errno in HELD or getattr(error, "winerror", None) in HELD_ON_WINDOWS:
        return Busy(place)
    if error.errno in NO_ROOM:
        return Full(place)
    return ReadOnly(place) if error.errno in NO_LEAVE else StoreTrouble(place)
