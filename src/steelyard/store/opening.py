"""Opening a ledger: made where there is none, brought up to date after a copy, refused where it is newer."""

from contextlib import closing
from pathlib import Path

from steelyard.errors import Damaged
from steelyard.store.engine import PATIENCE_MS, connect, make_engine, pragma
from steelyard.store.files import FOLDER_MODE, flush, free_name, make_private
from steelyard.store.ledger import SqlLedger
from steelyard.store.migrations import OWN, Migrations, upgrade
from steelyard.store.revision import known_revision
from steelyard.store.trouble import told
from steelyard.words import say


def open_ledger(path: Path, *, patience_ms: int = PATIENCE_MS, migrations: Migrations = OWN) -> SqlLedger:
    """The ledger in a file; folder and file are made where they are missing, for this user alone.

    patience_ms: how long a writer waits for another. [ms] An older file is copied into `copies/`, then
    migrated in one transaction. Takes the same time however many entries there are.
    Raises TooNew, Damaged (neither touches the file), Busy, Full, ReadOnly.
    """
    place = str(path)
    with told(place):
        _make_file(path)
        revision = known_revision(path, place, migrations, patience_ms=patience_ms)
        if revision not in (None, migrations.latest):
            _lay_copy(path, f"before-{migrations.latest}")
    ledger = SqlLedger(path, make_engine(path, patience_ms=patience_ms))
    try:
        if revision != migrations.latest:
            with told(place):
                _migrate(ledger, migrations)
        ledger.head()
    except BaseException:
        ledger.close()
        raise
    return ledger


def _lay_copy(path: Path, why: str) -> None:
    """Copy a ledger into `copies/` beside it. Raises sqlite3.Error, OSError."""
    copy = free_name(path, why)
    make_private(copy)
    try:
        with closing(connect(path)) as connection:
            connection.execute("VACUUM INTO ?", (str(copy),)).close()
        flush(copy)
    except BaseException:
        copy.unlink(missing_ok=True)
        raise


def _make_file(path: Path) -> None:
    path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    try:
        make_private(path)
    except FileExistsError:
        if not path.is_file():
            raise Damaged(str(path), what=say("damaged-no-ledger")) from None


def _migrate(ledger: SqlLedger, migrations: Migrations) -> None:
    """Foreign keys rest meanwhile: a table that is made anew would lose what points to it.

    Source: SQLite, ALTER TABLE, section on other kinds of changes.
    """
    with ledger.writer.connect() as connection:
        pragma(connection, "foreign_keys=OFF")
        try:
            with connection.begin():
                upgrade(connection, migrations)
                if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
                    raise Damaged(ledger.place, what=say("damaged-no-ledger"))
        finally:
            pragma(connection, "foreign_keys=ON")
