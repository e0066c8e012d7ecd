"""Reading all entries of a file row by row, whatever was done to them."""

from collections.abc import Generator, Iterator
from contextlib import closing
from typing import Any, NamedTuple

import sqlalchemy as sa

from steelyard.records import Entry, read_entry
from steelyard.store.schema import ENTRY

UNREADABLE = (ValueError, LookupError, TypeError, AttributeError, RecursionError)
"""What an entry raises that is none, or that does not fit what came before it."""

BYTES = sa.cast(ENTRY.c.body, sa.LargeBinary).label("body")
"""The body as bytes: a text that is no UTF-8 any more must not end the reading."""


def count_entries(connection: sa.Connection) -> int:
    """How many entries there are."""
    return connection.scalar(sa.select(sa.func.count()).select_from(ENTRY)) or 0


def chain_rows(connection: sa.Connection) -> Iterator[tuple[int, str, str]]:
    """Number, body and digest of every entry, in the order of their numbers."""
    wanted = sa.select(ENTRY.c.number, BYTES, ENTRY.c.digest).order_by(ENTRY.c.number)
    for number, body, digest in bare_rows(connection, wanted):
        yield number, body.decode(errors="replace"), digest


class EntryRow(NamedTuple):
    """An entry as it is stored, and the digest of the one before it (None where none is there)."""

    number: int
    kind: str
    subject: str
    at: str
    who: str
    digest: str
    body: bytes
    digest_before: str | None


def rows_by_subject(connection: sa.Connection) -> Generator[EntryRow]:
    """Every entry: those of one subject together, in the order of their numbers."""
    before = ENTRY.alias("before")
    columns = (ENTRY.c.number, ENTRY.c.kind, ENTRY.c.subject, ENTRY.c.at, ENTRY.c.who, ENTRY.c.digest)
    wanted = sa.select(*columns, BYTES, before.c.digest).order_by(ENTRY.c.subject, ENTRY.c.number)
    joined = wanted.outerjoin_from(ENTRY, before, before.c.number == ENTRY.c.number - sa.text("1"))
    with closing(bare_rows(connection, joined)) as rows:
        yield from map(EntryRow._make, rows)


def bare_rows(connection: sa.Connection, wanted: sa.Select[Any]) -> Generator[tuple[Any, ...]]:
    """Rows one by one as the driver gives them: there may be a million. wanted: without parameters."""
    raw: Any = connection.connection.driver_connection
    with closing(raw.execute(str(wanted.compile(connection)))) as cursor:
        yield from cursor


def entry_in(row: EntryRow) -> Entry | None:
    """The entry in a row; None where it cannot be read."""
    try:
        return entry_of_body(row.body.decode())
    except UnicodeDecodeError:
        return None


def entry_of_body(body: str) -> Entry | None:
    """The entry that a body is; None where it is none."""
    try:
        return read_entry(body)
    except UNREADABLE:
        return None
