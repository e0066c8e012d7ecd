"""Reading all entries of a file row by row, whatever was done to them."""

from collections.abc import Iterator
from typing import Any

import sqlalchemy as sa

from steelyard.records import Entry, digest_of, read_entry
from steelyard.store.schema import ENTRY
from steelyard.store.steps import Steps

AT_ONCE = 500
UNREADABLE = (ValueError, LookupError, TypeError, AttributeError, RecursionError)
"""What an entry raises that is none, or that does not fit what came before it."""

BYTES = sa.cast(ENTRY.c.body, sa.LargeBinary).label("body")
"""The body as bytes: a text that is no UTF-8 any more must not end the reading."""


def streaming(connection: sa.Connection) -> sa.Connection:
    """The same connection, never holding more than a few rows."""
    return connection.execution_options(yield_per=AT_ONCE)


def count_entries(connection: sa.Connection) -> int:
    """How many entries there are."""
    return connection.scalar(sa.select(sa.func.count()).select_from(ENTRY)) or 0


def chain_rows(
    connection: sa.Connection, steps: Steps, unreadable: frozenset[int] | set[int] = frozenset()
) -> Iterator[tuple[int, str, str]]:
    """Number, body and digest of every entry; where the body is known to be unreadable, another one stands there."""
    wanted = sa.select(ENTRY.c.number, BYTES, ENTRY.c.digest).order_by(ENTRY.c.number)
    for number, body, digest in connection.execute(wanted):
        steps()
        text = body.decode(errors="replace")
        yield number, _unlike(digest) if number in unreadable else text, digest


def _unlike(digest: str) -> str:
    """A text that a digest does not fit."""
    return "" if digest_of("") != digest else "-"


def rows_by_subject(connection: sa.Connection) -> Iterator[sa.Row[Any]]:
    """Every entry with what it is filed under: those of one subject together, in the order of numbers."""
    columns = (ENTRY.c.number, ENTRY.c.kind, ENTRY.c.subject, ENTRY.c.at, ENTRY.c.who, BYTES)
    yield from connection.execute(sa.select(*columns).order_by(ENTRY.c.subject, ENTRY.c.number))


def entry_in(row: sa.Row[Any]) -> Entry | None:
    """The entry in a row; None where it cannot be read."""
    try:
        return read_entry(row.body.decode())
    except UNREADABLE:
        return None
