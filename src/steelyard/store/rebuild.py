"""Making the documents of a ledger anew from its entries."""

from collections.abc import Generator, Iterator
from contextlib import closing
from itertools import groupby
from typing import Any

import sqlalchemy as sa

from steelyard.errors import Damaged
from steelyard.records import Entry, fold
from steelyard.store.folding import row_of
from steelyard.store.ledger import SqlLedger
from steelyard.store.reading import UNREADABLE, count_entries, entry_in, rows_by_subject
from steelyard.store.schema import DOCUMENT
from steelyard.store.steps import OnStep, Steps, Stopped
from steelyard.store.trouble import told
from steelyard.words import say

AT_ONCE = 500


def rebuild_documents(ledger: SqlLedger, *, on_step: OnStep | None = None) -> bool:
    """Throw all documents away and fold them anew, in one transaction; others wait meanwhile.

    on_step: each entry is one step. Returns False where it was stopped; then everything is as it was before.
    Raises Damaged where an entry cannot be read or does not fit, and other StoreTrouble; then too.
    """
    with told(ledger.place), ledger.writer.connect() as connection:
        try:
            with connection.begin():
                steps = Steps(on_step, count_entries(connection))
                connection.execute(sa.delete(DOCUMENT))
                fold_everything(connection, steps, ledger.place)
        except Stopped:
            return False
    return True


def fold_everything(connection: sa.Connection, steps: Steps, place: str) -> None:
    """Fold all entries into documents where there are none yet; each entry is one step. Raises Damaged."""
    with closing(_rows(connection, steps, place)) as rows:
        _put_all(connection, rows)


def _put_all(connection: sa.Connection, rows: Iterator[dict[str, Any]]) -> None:
    batch: list[dict[str, Any]] = []
    for row in rows:
        batch.append(row)
        if len(batch) == AT_ONCE:
            connection.execute(sa.insert(DOCUMENT), batch)
            batch = []
    if batch:
        connection.execute(sa.insert(DOCUMENT), batch)


def _rows(connection: sa.Connection, steps: Steps, place: str) -> Generator[dict[str, Any]]:
    with closing(rows_by_subject(connection)) as entries:
        for subject, rows in groupby(entries, lambda row: str(row.subject)):
            body: dict[str, Any] = {}
            for row in rows:
                steps()
                body = _folded(body or None, entry_in(row), place)
            yield row_of(subject, body)


def _folded(body: dict[str, Any] | None, entry: Entry | None, place: str) -> dict[str, Any]:
    if entry is None:
        raise Damaged(place, what=say("damaged-chain"))
    try:
        return fold(body, entry)
    except UNREADABLE as error:
        raise Damaged(place, what=say("damaged-chain")) from error
