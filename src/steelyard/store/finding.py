"""Finding documents: each page is read from an index, however many there are before it."""

from collections.abc import Iterator
from typing import Any

import sqlalchemy as sa

from steelyard.desk.ports import Wanted
from steelyard.store.folding import sought
from steelyard.store.schema import DOCUMENT


def find(connection: sa.Connection, wanted: Wanted) -> list[sa.Row[Any]]:
    """Subject, key and body of what is wanted, in order, at most `wanted.most`.

    Each state is looked up on its own: then the index has the order, and nothing is sorted but one page.
    """
    states = tuple(dict.fromkeys(wanted.states)) or (None,)
    rows = [row for state in states for row in connection.execute(page_of(wanted, state))]
    rows.sort(key=lambda row: str(row.key), reverse=wanted.newest_first)
    return rows[: wanted.most]


def page_of(wanted: Wanted, state: str | None) -> sa.Select[Any]:
    """The places are found first and the bodies fetched for one page only: bodies are long."""
    key = DOCUMENT.c.key
    order = key.desc() if wanted.newest_first else key
    places = sa.select(DOCUMENT.c.subject).where(*_narrowed(wanted, state)).order_by(order).limit(wanted.most)
    return sa.select(DOCUMENT.c.subject, key, DOCUMENT.c.body).where(DOCUMENT.c.subject.in_(places))


def _narrowed(wanted: Wanted, state: str | None) -> Iterator[sa.ColumnElement[bool]]:
    yield DOCUMENT.c.sort == wanted.sort
    if state is not None:
        yield DOCUMENT.c.state == state
    if wanted.owner is not None:
        yield DOCUMENT.c.owner == wanted.owner
    if wanted.who is not None:
        yield DOCUMENT.c.who == wanted.who
    if wanted.day_from is not None:
        yield DOCUMENT.c.day >= wanted.day_from
    if wanted.day_to is not None:
        yield DOCUMENT.c.day <= wanted.day_to
    if wanted.due_by is not None:
        yield DOCUMENT.c.due <= wanted.due_by
    if wanted.after is not None:
        key = DOCUMENT.c.key
        yield key < wanted.after if wanted.newest_first else key > wanted.after
    for word in sought(wanted.words):
        yield DOCUMENT.c.words.contains(word, autoescape=True)
