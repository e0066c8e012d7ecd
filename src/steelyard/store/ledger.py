"""The ledger in a file: appends in one transaction, finds by index, never changes what is written."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from types import TracebackType
from typing import Self

import sqlalchemy as sa
from sqlalchemy.dialects.sqlite import insert

from steelyard.desk.ports import Body, Drafted, Guard, Head, KeptFile, Listed, OnStep, Streamed, Wanted
from steelyard.errors import Conflict, Damaged
from steelyard.records import Draft, Entry, Stamp, read_entry
from steelyard.store.content import digest_of_bytes
from steelyard.store.engine import pragma, writing
from steelyard.store.folding import body_from
from steelyard.store.putting import chained, head_of, keep_names, listed, put, put_stream, remember
from steelyard.store.reading import UNREADABLE
from steelyard.store.schema import DOCUMENT, ENTRY, FILE, NAME, SUBMISSION
from steelyard.store.sending import refuse_other
from steelyard.store.steps import Stopped
from steelyard.store.trouble import told
from steelyard.words import say

AT_ONCE = 500
"""Entries read in one go."""
BODY = sa.select(DOCUMENT.c.body).where(DOCUMENT.c.subject == sa.bindparam("subject"))
NAMES = sa.select(NAME.c.key, NAME.c.text).where(NAME.c.text.is_not(None))
"""What every page asks, put together once."""


class SqlLedger:
    """The ledger in a file, as `desk.ports.Ledger` says; `close` it at the end, or use it in a `with`.

    path: of its file. Made by `open_ledger`. Used by many threads; other processes may hold the file too.
    """

    def __init__(self, path: Path, engine: sa.Engine) -> None:
        self.path = path
        self.engine = engine
        self.writer = writing(engine)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def place(self) -> str:
        """Where the file is, as shown to a person."""
        return str(self.path)

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()

    def append(
        self,
        drafts: Sequence[Draft],
        stamp: Stamp,
        *,
        submission: str | None = None,
        seen: Mapping[str, int] | None = None,
        names: Mapping[str, tuple[str, str]] | None = None,
        guard: Guard | None = None,
    ) -> tuple[Entry, ...]:
        """Write all drafts or none, in one transaction. Raises Conflict, StoreTrouble."""
        with told(self.place), self.writer.begin() as connection:
            earlier = None if submission is None else _sent_before(connection, submission)
            if submission is not None and earlier is not None:
                refuse_other(submission, drafts, earlier)
                return earlier
            _refuse_if_written_meanwhile(connection, seen or {})
            if guard is not None:
                guard(partial(listed, connection))
            entries = chained(head_of(connection), drafts, stamp)
            put(connection, entries)
            remember(connection, submission, entries[0].number if entries else 0, len(entries))
            keep_names(connection, names or {})
            return entries

    def append_stream(
        self,
        drafted: Drafted,
        stamp: Stamp,
        *,
        submission: str | None = None,
        on_step: OnStep | None = None,
        of: int = 0,
    ) -> Streamed | None:
        """Write drafts as they come, in one transaction; None where it was stopped. Raises StoreTrouble."""
        with told(self.place), self.writer.connect() as connection:
            try:
                with connection.begin():
                    return put_stream(connection, drafted, stamp, submission, on_step=on_step, of=of)
            except Stopped:
                return None

    def entries(
        self, *, subject: str | None = None, after: int = 0, most: int | None = None
    ) -> Iterator[Entry]:
        """Entries in order, of one subject or of all; no transaction stays open between two of them."""
        while most is None or most > 0:
            limit = AT_ONCE if most is None else min(most, AT_ONCE)
            wanted = (
                sa.select(ENTRY.c.body).where(ENTRY.c.number > after).order_by(ENTRY.c.number).limit(limit)
            )
            if subject is not None:
                wanted = wanted.where(ENTRY.c.subject == subject)
            with told(self.place), self.engine.begin() as connection:
                bodies = connection.scalars(wanted).all()
                found = [self._read(body) for body in bodies]
            yield from found
            if len(found) < limit:
                return
            after = found[-1].number
            most = None if most is None else most - len(found)

    def _read(self, body: str) -> Entry:
        try:
            return read_entry(body)
        except UNREADABLE as error:
            raise Damaged(self.place, what=say("damaged-chain")) from error

    def head(self) -> Head:
        """The last entry."""
        with told(self.place), self.engine.begin() as connection:
            return head_of(connection)

    def first_of(self, submission: str) -> int | None:
        """Number of the first entry that a submission wrote; None where it wrote none."""
        with told(self.place), self.engine.begin() as connection:
            first: int | None = connection.scalar(
                sa.select(SUBMISSION.c.first).where(SUBMISSION.c.token == submission)
            )
            return first or None

    def document(self, subject: str) -> Body | None:
        """What is folded of a subject; None where nothing was written of it."""
        with told(self.place), self.engine.begin() as connection:
            body = _body(connection, subject)
            return None if body is None else body_from(body)

    def documents(self, wanted: Wanted) -> list[Listed]:
        """The documents that are wanted, at most `wanted.most`."""
        with told(self.place), self.engine.begin() as connection:
            return listed(connection, wanted)

    def names(self) -> Mapping[str, str]:
        """All names that are not forgotten, by key."""
        with told(self.place), self.engine.begin() as connection:
            return {key: text for key, text in connection.execute(NAMES)}

    def forget(self, key: str) -> None:
        """Empty the row of a name, and the write-ahead log of it (unless somebody is reading just then)."""
        with told(self.place):
            with self.writer.begin() as connection:
                connection.execute(sa.update(NAME).where(NAME.c.key == key).values(text=None, salt=None))
            with self.engine.connect() as connection:
                pragma(connection, "wal_checkpoint(TRUNCATE)")

    def keep_file(self, content: bytes, media_type: str) -> str:
        """Keep a file; returns its digest. Keeping it twice keeps it once."""
        digest = digest_of_bytes(content)
        row = {"digest": digest, "media_type": media_type, "size": len(content), "content": content}
        with told(self.place), self.writer.begin() as connection:
            connection.execute(insert(FILE).on_conflict_do_nothing(), row)
        return digest

    def file(self, digest: str) -> KeptFile | None:
        """A kept file."""
        wanted = sa.select(FILE.c.digest, FILE.c.media_type, FILE.c.content).where(FILE.c.digest == digest)
        with told(self.place), self.engine.begin() as connection:
            row = connection.execute(wanted).one_or_none()
            return None if row is None else KeptFile(row.digest, row.media_type, row.content)


def _sent_before(connection: sa.Connection, token: str) -> tuple[Entry, ...] | None:
    """The entries a token wrote; None where it wrote none yet."""
    wanted = sa.select(SUBMISSION.c.first, SUBMISSION.c.count).where(SUBMISSION.c.token == token)
    row = connection.execute(wanted).one_or_none()
    if row is None:
        return None
    first, count = row
    numbers = ENTRY.c.number.between(first, first + count - 1)
    bodies = connection.scalars(sa.select(ENTRY.c.body).where(numbers).order_by(ENTRY.c.number))
    return tuple(read_entry(body) for body in bodies)


def _refuse_if_written_meanwhile(connection: sa.Connection, seen: Mapping[str, int]) -> None:
    for subject, known in seen.items():
        last = connection.scalar(sa.select(DOCUMENT.c.last).where(DOCUMENT.c.subject == subject))
        if last is not None and last > known:
            raise Conflict(known, last)


def _body(connection: sa.Connection, subject: str) -> str | None:
    body: str | None = connection.scalar(BODY, {"subject": subject})
    return body
