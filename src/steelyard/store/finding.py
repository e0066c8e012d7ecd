"""Finding documents: each page is read from an index, however many there are before it.

The statements are put together from fixed words; everything a person typed is handed over beside them.
"""

from collections.abc import Iterator
from typing import Any

import sqlalchemy as sa

from steelyard.desk.ports import Wanted
from steelyard.store.folding import sought

LIKE = str.maketrans({sign: f"/{sign}" for sign in "/%_"})
"""Signs that a search would obey are only signs."""


def find(connection: sa.Connection, wanted: Wanted) -> list[sa.Row[Any]]:
    """Subject, key and body of what is wanted, in order, at most `wanted.most`."""
    rows = list(connection.exec_driver_sql(page_of(wanted), facts_of(wanted)))
    rows.sort(key=lambda row: str(row.key), reverse=wanted.newest_first)
    if wanted.soonest_first:
        rows.sort(key=lambda row: str(row.due or ""))
    return rows


def page_of(wanted: Wanted) -> str:
    """The places are found first and the bodies fetched for one page only: bodies are long.

    Each state is looked up on its own: then an index has the order, and nothing is sorted but a few places.
    """
    names: list[str | None] = [*_states(wanted)] or [None]
    places = " UNION ALL ".join(f"SELECT * FROM ({places_of(wanted, name)})" for name in names)
    page = f"SELECT subject FROM ({places}) ORDER BY {_order(wanted)} LIMIT :most"
    return f'SELECT subject, "key", due, body FROM document WHERE subject IN ({page})'


def places_of(wanted: Wanted, state: str | None) -> str:
    """The first places of a page in one state. state: its name among the facts, None for any."""
    narrowed = " AND ".join(_narrowed(wanted, state))
    order = _order(wanted)
    return f'SELECT subject, "key", due FROM document WHERE {narrowed} ORDER BY {order} LIMIT :most'


def facts_of(wanted: Wanted) -> dict[str, Any]:
    """What the statements leave open, by name."""
    words = {name: f"%{word.translate(LIKE)}%" for name, word in _words(wanted).items()}
    return {**vars(wanted), **_states(wanted), **words, "states": None}


def _states(wanted: Wanted) -> dict[str, str]:
    return {f"state{i}": state for i, state in enumerate(dict.fromkeys(wanted.states))}


def _words(wanted: Wanted) -> dict[str, str]:
    return {f"word{i}": word for i, word in enumerate(sought(wanted.words))}


def _order(wanted: Wanted) -> str:
    if wanted.soonest_first:
        return 'due, "key"'
    return '"key" DESC' if wanted.newest_first else '"key"'


def _narrowed(wanted: Wanted, state: str | None) -> Iterator[str]:
    yield "sort = :sort"
    if state is not None:
        yield f"state = :{state}"
    if wanted.owner is not None:
        yield "owner = :owner"
    if wanted.who is not None:
        yield "who = :who"
    if wanted.day_from is not None:
        yield "day >= :day_from"
    if wanted.day_to is not None:
        yield "day <= :day_to"
    if wanted.due_from is not None:
        yield "due >= :due_from"
    if wanted.due_by is not None:
        yield "due <= :due_by"
    if wanted.after is not None:
        yield f'"key" {"<" if wanted.newest_first else ">"} :after'
    for name in _words(wanted):
        yield f"words LIKE :{name} ESCAPE '/'"
