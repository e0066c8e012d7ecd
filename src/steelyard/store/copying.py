"""Copies of a ledger's file that were read back and found whole."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from steelyard.desk.ports import Head
from steelyard.errors import Damaged
from steelyard.records import chain_breaks
from steelyard.store.engine import connect, make_engine
from steelyard.store.files import flush
from steelyard.store.ledger import SqlLedger
from steelyard.store.migrations import OWN, Migrations
from steelyard.store.reading import chain_rows
from steelyard.store.revision import is_database, known_revision
from steelyard.store.trouble import told
from steelyard.words import say

PASSING = ".part"
"""Ends the name of a copy that is not finished."""


@contextmanager
def copied(source: Path, beside: Path, *, migrations: Migrations = OWN) -> Iterator[tuple[Path, Head]]:
    """A verified copy under a passing name beside `beside`, for the caller to move where it belongs.

    The source may be written meanwhile: the copy is what it was at one moment. It is one file without a log.
    What is not moved is deleted. Raises Damaged, TooNew, other StoreTrouble.
    Source: SQLite, Online Backup API.
    """
    with told(str(beside.parent)):
        handle, name = tempfile.mkstemp(PASSING, f".{beside.name}-", beside.parent)
        os.close(handle)
    passing = Path(name)
    try:
        _copy(source, passing, beside)
        yield passing, verify_copy(passing, source, migrations=migrations)
    finally:
        with suppress(OSError):
            passing.unlink(missing_ok=True)


def verify_copy(copy: Path, source: Path, *, migrations: Migrations = OWN) -> Head:
    """That a copy can be opened, that its pages are whole and its chain holds; returns its last entry.

    source: where it came from, to be named to a person. Writes nothing.
    Raises TooNew, Damaged, other StoreTrouble.
    """
    place = str(source)
    with told(place):
        if known_revision(copy, place, migrations) is None:
            raise Damaged(place, what=say("damaged-no-ledger"))
        with SqlLedger(copy, make_engine(copy, mode="ro")) as ledger:
            _refuse_if_broken(ledger, place)
            return ledger.head()


def _copy(source: Path, target: Path, beside: Path) -> None:
    with told(str(source)):
        read = connect(source, mode="ro")
    with closing(read), told(str(beside.parent)), closing(connect(target)) as write:
        read.backup(write)
        write.execute("PRAGMA journal_mode=DELETE").close()
    with told(str(beside.parent)):
        flush(target)


def _refuse_if_broken(ledger: SqlLedger, place: str) -> None:
    with ledger.engine.connect() as connection:
        if connection.exec_driver_sql("PRAGMA quick_check(1)").scalar() != "ok":
            raise Damaged(place, what=say("damaged-not-whole"))
        breaks = next(chain_breaks(chain_rows(connection)), None)
    if breaks is not None:
        raise Damaged(place, what=say("damaged-chain"))


def digest_at(path: Path, number: int) -> str | None:
    """Digest of the entry of a number in a file; None where there is none. Raises StoreTrouble."""
    with told(str(path)), closing(connect(path, mode="ro")) as connection:
        row = connection.execute("SELECT digest FROM entry WHERE number = ?", (number,)).fetchone()
    return None if row is None else str(row[0])


def last_number(path: Path) -> int:
    """Number of the last entry in a file; 0 where there is none. Raises StoreTrouble."""
    with told(str(path)), closing(connect(path, mode="ro")) as connection:
        return int(connection.execute("SELECT coalesce(max(number), 0) FROM entry").fetchone()[0])


def is_free(path: Path) -> bool:
    """Whether no other connection holds a ledger; what its log still holds is put into the file.

    A file that is broken counts as free: there is no telling. Raises StoreTrouble.
    Source: SQLite, Write-Ahead Logging: leaving that mode needs the file alone.
    """
    with told(str(path)):
        if not is_database(path):
            return True
    with told(str(path)), closing(connect(path, patience_ms=0)) as connection:
        try:
            mode = connection.execute("PRAGMA journal_mode=DELETE").fetchone()[0]
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
                return False
            raise
        except sqlite3.DatabaseError:
            return True
    return bool(mode == "delete")


def move(path: Path, to: Path) -> None:
    """Move a file with what SQLite keeps beside it. Raises StoreTrouble."""
    with told(str(path)):
        for suffix in ("-wal", "-shm", "-journal", ""):
            part = path.with_name(path.name + suffix)
            if part.exists():
                os.replace(part, to.with_name(to.name + suffix))
