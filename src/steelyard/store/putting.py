"""Writing entries and folding them into their documents, within a transaction that somebody else holds."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import islice
from typing import Any

import sqlalchemy as sa
from sqlalchemy.dialects.sqlite import insert

from steelyard.desk.ports import Drafted, Head, Listed, OnStep, Streamed, Wanted
from steelyard.records import BEFORE_THE_FIRST, Draft, Entry, Stamp, write_entry
from steelyard.store.finding import find
from steelyard.store.folding import body_from, fold_into, row_of
from steelyard.store.schema import DOCUMENT, ENTRY, NAME, SUBMISSION
from steelyard.store.steps import Stopped

HEAD = sa.select(ENTRY.c.number, ENTRY.c.digest, ENTRY.c.at).order_by(ENTRY.c.number.desc()).limit(1)
BODIES = sa.select(DOCUMENT.c.subject, DOCUMENT.c.body).where(
    DOCUMENT.c.subject.in_(sa.bindparam("subjects", expanding=True))
)
SENT = sa.select(SUBMISSION.c.first, SUBMISSION.c.count).where(SUBMISSION.c.token == sa.bindparam("token"))
AT_ONCE = 1000
"""Drafts of a stream that are held at a time."""


def listed(connection: sa.Connection, wanted: Wanted) -> list[Listed]:
    """The documents that are wanted."""
    return [Listed(row.subject, row.key, body_from(row.body)) for row in find(connection, wanted)]


def head_of(connection: sa.Connection) -> Head:
    """The last entry."""
    row = connection.execute(HEAD).one_or_none()
    return Head(0, BEFORE_THE_FIRST) if row is None else Head(row.number, row.digest, row.at)


def chained(head: Head, drafts: Sequence[Draft], stamp: Stamp) -> tuple[Entry, ...]:
    """The entries of drafts, the first of them behind `head`."""
    entries: list[Entry] = []
    before = head.digest
    for number, draft in enumerate(drafts, head.number + 1):
        entries.append(write_entry(draft, number, stamp, before))
        before = entries[-1].digest
    return tuple(entries)


def put(connection: sa.Connection, entries: tuple[Entry, ...]) -> None:
    """Write entries, and fold each into its document."""
    if not entries:
        return
    documents: dict[str, dict[str, Any]] = {}
    stored = _bodies(connection, {entry.subject for entry in entries})
    for entry in entries:
        fold_into(documents, entry, stored.get)
    connection.execute(sa.insert(ENTRY), [entry_row(entry) for entry in entries])
    rows = [row_of(subject, body) for subject, body in documents.items()]
    write = insert(DOCUMENT)
    changed = {c.name: write.excluded[c.name] for c in DOCUMENT.c if not c.primary_key}
    connection.execute(write.on_conflict_do_update(index_elements=["subject"], set_=changed), rows)


def _bodies(connection: sa.Connection, subjects: set[str]) -> dict[str, str]:
    """JSON of the documents that are there, by subject."""
    found: dict[str, str] = {}
    left = iter(subjects)
    while some := list(islice(left, AT_ONCE)):
        found |= {subject: body for subject, body in connection.execute(BODIES, {"subjects": some})}
    return found


def entry_row(entry: Entry) -> dict[str, Any]:
    """The row of an entry."""
    return {column.name: getattr(entry, column.name) for column in ENTRY.c}


def remember(connection: sa.Connection, submission: str | None, first: int, count: int) -> None:
    """Keep which entries a token wrote."""
    if submission is not None:
        row = {"token": submission, "first": first, "count": count}
        connection.execute(sa.insert(SUBMISSION), row)


def keep_names(connection: sa.Connection, names: Mapping[str, tuple[str, str]]) -> None:
    """Keep names with their salts by their keys."""
    if names:
        write = insert(NAME)
        known = {"text": write.excluded.text, "salt": write.excluded.salt}
        rows = [{"key": key, "text": text, "salt": salt} for key, (text, salt) in names.items()]
        connection.execute(write.on_conflict_do_update(index_elements=["key"], set_=known), rows)


def put_stream(
    connection: sa.Connection,
    drafted: Drafted,
    stamp: Stamp,
    submission: str | None,
    *,
    on_step: OnStep | None,
    of: int,
) -> Streamed:
    """Write drafts as they come, `AT_ONCE` at a time; what a token wrote before is returned instead.

    Raises Stopped where `on_step` answers False: then the transaction has to be given up.
    """
    sent = None if submission is None else connection.execute(SENT, {"token": submission}).one_or_none()
    if sent is not None:
        first, count = sent
        return Streamed(first, count)
    head = head_of(connection)
    begun = head.number
    for some in _in_chunks(drafted(partial(listed, connection))):
        entries = chained(head, some, stamp)
        put(connection, entries)
        head = Head(entries[-1].number, entries[-1].digest)
        _tell(on_step, head.number - begun, of)
    count = head.number - begun
    _tell(on_step, count, of)
    first = begun + 1 if count else 0
    remember(connection, submission, first, count)
    return Streamed(first, count)


def _in_chunks(drafts: Iterable[Draft]) -> Iterator[list[Draft]]:
    left = iter(drafts)
    while some := list(islice(left, AT_ONCE)):
        yield some


def _tell(on_step: OnStep | None, done: int, of: int) -> None:
    if on_step is not None and not on_step(done, of):
        raise Stopped
