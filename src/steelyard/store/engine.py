"""Connections to the file of a ledger: every write is one transaction that survives a pulled plug."""

import sqlite3
from pathlib import Path
from typing import Any

import sqlalchemy as sa

PATIENCE_MS = 5000
"""How long a writer waits for another one. [ms]"""
WRITER = "steelyard_writer"
CONNECTIONS = 10


def connect(path: Path, *, mode: str = "rw", patience_ms: int = PATIENCE_MS) -> sqlite3.Connection:
    """A bare connection without transactions of its own; never makes a file.

    mode: `rw`, or `ro` to be sure that nothing is written. patience_ms: wait for others. [ms]
    Raises sqlite3.OperationalError.
    """
    uri = f"{path.absolute().as_uri()}?mode={mode}"
    seconds = patience_ms / 1000
    return sqlite3.connect(uri, uri=True, timeout=seconds, isolation_level=None, check_same_thread=False)


def make_engine(path: Path, *, mode: str = "rw", patience_ms: int = PATIENCE_MS) -> sa.Engine:
    """Connections to a ledger, to be shared by threads. Arguments as of `connect`.

    Write-ahead log: readers and the writer do not wait for each other. synchronous=FULL: what is committed
    is on the disk. secure_delete: what is forgotten is overwritten, not only unlinked.
    Source: SQLite, Write-Ahead Logging; PRAGMA Statements.
    """

    def opened() -> sqlite3.Connection:
        return connect(path, mode=mode, patience_ms=patience_ms)

    engine = sa.create_engine(
        "sqlite+pysqlite://",
        creator=opened,
        poolclass=sa.QueuePool,
        pool_size=CONNECTIONS,
        max_overflow=CONNECTIONS,
    )
    sa.event.listen(engine, "connect", _settle if mode == "rw" else _settle_reader)
    sa.event.listen(engine, "begin", _begin)
    return engine


def writing(engine: sa.Engine) -> sa.Engine:
    """The same connections, for transactions that write: they hold the file from their first moment."""
    return engine.execution_options(**{WRITER: True})


def pragma(connection: sa.Connection, setting: str) -> None:
    """Set what may be set outside of a transaction only."""
    raw: Any = connection.connection.driver_connection
    raw.execute(f"PRAGMA {setting}").close()


def _settle(connection: Any, _record: Any) -> None:
    _settle_reader(connection, _record)
    for setting in ("journal_mode=WAL", "synchronous=FULL", "secure_delete=ON"):
        connection.execute(f"PRAGMA {setting}").close()


def _settle_reader(connection: Any, _record: Any) -> None:
    connection.execute("PRAGMA foreign_keys=ON").close()


def _begin(connection: sa.Connection) -> None:
    """The driver would begin late and lose updates; a read that turns into a write is refused under load."""
    is_writer = connection.get_execution_options().get(WRITER)
    raw: Any = connection.connection.driver_connection
    raw.execute("BEGIN IMMEDIATE" if is_writer else "BEGIN").close()
