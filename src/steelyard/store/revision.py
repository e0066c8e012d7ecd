"""Which form a ledger's file has, found out without leaving a trace in it."""

from contextlib import closing
from pathlib import Path

from steelyard.errors import Damaged, TooNew
from steelyard.store.engine import PATIENCE_MS, connect
from steelyard.store.migrations import Migrations, is_known
from steelyard.words import say

FIRST_BYTES = b"SQLite format 3\0"
"""Source: SQLite, Database File Format, section 1.3."""


def is_database(path: Path) -> bool:
    """Whether a file begins as a database does, or is still empty.

    Asked first, because SQLite would clear the log of such a file away. Raises OSError.
    """
    with path.open("rb") as file:
        return file.read(len(FIRST_BYTES)) in (b"", FIRST_BYTES)


def known_revision(
    path: Path, place: str, migrations: Migrations, *, patience_ms: int = PATIENCE_MS
) -> str | None:
    """The revision of a file; None where it is still empty. place: as named to a person.
    patience_ms: wait for others. [ms]

    Raises TooNew where none of the migrations made it, Damaged where it is another program's; sqlite3.Error,
    OSError.
    """
    if not is_database(path):
        raise Damaged(place, what=say("damaged-no-ledger"))
    with closing(connect(path, patience_ms=patience_ms)) as connection:
        tables = {
            name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        }
        if not tables:
            return None
        if "alembic_version" not in tables or "entry" not in tables:
            raise Damaged(place, what=say("damaged-no-ledger"))
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    revision = None if row is None else str(row[0])
    if revision != migrations.latest and not is_known(revision, migrations):
        raise TooNew(place)
    return revision
