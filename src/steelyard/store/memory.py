"""A ledger that is gone when the program ends: for tests and for trying something out."""

import threading
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from steelyard.desk.ports import Body, Drafted, Guard, Head, KeptFile, Listed, OnStep, Streamed, Wanted
from steelyard.errors import Conflict
from steelyard.records import BEFORE_THE_FIRST, Draft, Entry, Stamp, write_entry
from steelyard.store.content import digest_of_bytes
from steelyard.store.folding import body_from, fold_into, row_of, sought
from steelyard.store.sending import refuse_other

Row = dict[str, Any]
AT_ONCE = 1000
"""Drafts of a stream between two steps."""


class MemoryLedger:
    """The ledger in memory, as `desk.ports.Ledger` says; may be used by many threads."""

    def __init__(self) -> None:
        self._lock = threading.RLock()
        self._entries: list[Entry] = []
        self._rows: dict[str, Row] = {}
        self._sent: dict[str, tuple[Entry, ...]] = {}
        self._names: dict[str, tuple[str, str]] = {}
        self._files: dict[str, KeptFile] = {}

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
        """Write all drafts or none. Raises Conflict."""
        with self._lock:
            if submission is not None and submission in self._sent:
                refuse_other(submission, drafts, self._sent[submission])
                return self._sent[submission]
            for subject, known in (seen or {}).items():
                if subject in self._rows and self._rows[subject]["last"] > known:
                    raise Conflict(known, self._rows[subject]["last"])
            if guard is not None:
                guard(self.documents)
            entries, rows = self._folded(drafts, stamp)
            self._entries += entries
            self._rows |= rows
            self._names |= names or {}
            if submission is not None:
                self._sent[submission] = entries
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
        """Write drafts as they come, all or none; None where it was stopped."""
        with self._lock:
            if submission is not None and submission in self._sent:
                return _streamed(self._sent[submission])
            drafts = []
            for draft in drafted(self.documents):
                drafts.append(draft)
                if len(drafts) % AT_ONCE == 0 and on_step is not None and not on_step(len(drafts), of):
                    return None
            if on_step is not None and not on_step(len(drafts), of):
                return None
            return _streamed(self.append(drafts, stamp, submission=submission))

    def _folded(self, drafts: Sequence[Draft], stamp: Stamp) -> tuple[tuple[Entry, ...], dict[str, Row]]:
        entries: list[Entry] = []
        documents: dict[str, Row] = {}
        head = self.head()
        for number, draft in enumerate(drafts, head.number + 1):
            entry = write_entry(draft, number, stamp, entries[-1].digest if entries else head.digest)
            fold_into(documents, entry, self._stored)
            entries.append(entry)
        return tuple(entries), {subject: row_of(subject, body) for subject, body in documents.items()}

    def _stored(self, subject: str) -> str | None:
        return self._rows[subject]["body"] if subject in self._rows else None

    def entries(
        self, *, subject: str | None = None, after: int = 0, most: int | None = None
    ) -> Iterator[Entry]:
        """Entries in order, of one subject or of all."""
        found = [entry for entry in self._entries[after:] if subject in (None, entry.subject)]
        yield from found[:most]

    def head(self) -> Head:
        """The last entry."""
        if not self._entries:
            return Head(0, BEFORE_THE_FIRST)
        return Head(self._entries[-1].number, self._entries[-1].digest, self._entries[-1].at)

    def first_of(self, submission: str) -> int | None:
        """Number of the first entry that a submission wrote; None where it wrote none."""
        entries = self._sent.get(submission)
        return entries[0].number if entries else None

    def document(self, subject: str) -> Body | None:
        """What is folded of a subject; None where nothing was written of it."""
        row = self._rows.get(subject)
        return None if row is None else body_from(row["body"])

    def documents(self, wanted: Wanted) -> list[Listed]:
        """The documents that are wanted, at most `wanted.most`."""
        with self._lock:
            rows = [row for row in self._rows.values() if _is_wanted(row, wanted)]
        rows.sort(key=lambda row: str(row["key"]), reverse=wanted.newest_first)
        if wanted.soonest_first:
            rows.sort(key=lambda row: str(row["due"] or ""))
        return [Listed(row["subject"], row["key"], body_from(row["body"])) for row in rows[: wanted.most]]

    def names(self) -> Mapping[str, str]:
        """All names that are not forgotten, by key."""
        with self._lock:
            return {key: text for key, (text, _) in self._names.items()}

    def forget(self, key: str) -> None:
        """Empty the row of a name."""
        with self._lock:
            self._names.pop(key, None)

    def keep_file(self, content: bytes, media_type: str) -> str:
        """Keep a file; returns its digest. Keeping it twice keeps it once."""
        digest = digest_of_bytes(content)
        self._files.setdefault(digest, KeptFile(digest, media_type, content))
        return digest

    def file(self, digest: str) -> KeptFile | None:
        """A kept file."""
        return self._files.get(digest)


def _streamed(entries: tuple[Entry, ...]) -> Streamed:
    return Streamed(entries[0].number if entries else 0, len(entries))


def _is_wanted(row: Row, wanted: Wanted) -> bool:
    after = wanted.after
    return all(
        (
            row["sort"] == wanted.sort,
            not wanted.states or row["state"] in wanted.states,
            wanted.owner in (None, row["owner"]),
            wanted.who in (None, row["who"]),
            wanted.day_from is None or (row["day"] is not None and row["day"] >= wanted.day_from),
            wanted.day_to is None or (row["day"] is not None and row["day"] <= wanted.day_to),
            wanted.due_from is None or (row["due"] is not None and row["due"] >= wanted.due_from),
            wanted.due_by is None or (row["due"] is not None and row["due"] <= wanted.due_by),
            after is None or (row["key"] < after if wanted.newest_first else row["key"] > after),
            all(word in row["words"] for word in sought(wanted.words)),
        )
    )
