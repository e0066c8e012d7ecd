"""Finding documents: each page is read from an index, however many there are before it."""

from collections.abc import Iterator
from typing import Any

import sqlalchemy as sa

from steelyard.desk.ports import Wanted
from steelyard.store.folding import sought
from steelyard.store.schema import DOCUMENT


def find(connection: sa.Connection, wanted: Wanted) -> list[sa.Row[Any]]:
    """Subject, key and body of what is wanted, in order, at most `wanted.most`."""
    rows = list(connection.execute(page_of(wanted)))
    rows.sort(key=lambda row: str(row.key), reverse=wanted.newest_first)
    if wanted.soonest_first:
        rows.sort(key=lambda row: str(row.due or ""))
    return rows


def page_of(wanted: Wanted) -> sa.Select[Any]:
    """The places are found first and the bodies fetched for one page only: bodies are long.

    Each state is looked up on its own: then an index has the order, and nothing is sorted but a few places.
    """
    states = tuple(dict.fromkeys(wanted.states)) or (None,)
    each = [sa.select(places_of(wanted, state).subquery()) for state in states]
    places = (sa.union_all(*each) if len(each) > 1 else each[0]).subquery()
    page = sa.select(places.c.subject).order_by(*_order(wanted, places.c)).limit(wanted.most)
    shown = sa.select(DOCUMENT.c.subject, DOCUMENT.c.key, DOCUMENT.c.due, DOCUMENT.c.body)
    return shown.where(DOCUMENT.c.subject.in_(page))


def places_of(wanted: Wanted, state: str | None) -> sa.Select[Any]:
    """The first places of a page, in one state."""
    columns = sa.select(DOCUMENT.c.subject, DOCUMENT.c.key, DOCUMENT.c.due)
    narrowed = columns.where(*_narrowed(wanted, state))
    return narrowed.order_by(*_order(wanted, DOCUMENT.c)).limit(wanted.most)


def _order(wanted: Wanted, columns: Any) -> tuple[sa.ColumnElement[Any], ...]:
    if wanted.soonest_first:
        return columns.due, columns.key
    return (columns.key.desc() if wanted.newest_first else columns.key,)


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
    if wanted.due_from is not None:
        yield DOCUMENT.c.due >= wanted.due_from
    if wanted.due_by is not None:
        yield DOCUMENT.c.due <= wanted.due_by
    if wanted.after is not None:
        key = DOCUMENT.c.key
        yield key < wanted.after if wanted.newest_first else key > wanted.after
    for word in sought(wanted.words):
        yield DOCUMENT.c.words.contains(word, autoescape=True)
