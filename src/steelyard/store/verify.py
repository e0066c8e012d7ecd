"""Verifying a ledger: that nothing in it was changed, removed or cut off since it was written.

Everything is read in one snapshot, row by row: other programs go on writing, and memory stays small.
"""

import re
from collections.abc import Generator, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

import sqlalchemy as sa

from steelyard.desk.ports import Ledger
from steelyard.errors import InputRefused
from steelyard.findings import Finding, Severity
from steelyard.records import Entry, Kind, chain_breaks, fold
from steelyard.store.content import digest_of_bytes
from steelyard.store.folding import row_of
from steelyard.store.ledger import SqlLedger
from steelyard.store.reading import (
    UNREADABLE,
    chain_rows,
    count_entries,
    entry_in,
    rows_by_subject,
    streaming,
)
from steelyard.store.schema import DOCUMENT, FILE
from steelyard.store.steps import OnStep, Steps, Stopped
from steelyard.store.trouble import told

MOST_FINDINGS = 200
FILES_AT_ONCE = 4
BETWEEN_DIGITS = re.compile(r"[\s.\-\u2026]")
DIGEST = re.compile(r"[0-9a-f]{8,64}")


@dataclass
class Verification:
    """What verifying found.

    findings: the first of them, at most 200; count: how many there were in all. entries: how many there are.
    is_finished: False where it was stopped before the end.
    """

    findings: list[Finding] = field(default_factory=list)
    count: int = 0
    entries: int = 0
    is_finished: bool = True

    @property
    def is_whole(self) -> bool:
        """Everything was looked at and nothing was found."""
        return self.is_finished and not self.count


def verify_ledger(ledger: SqlLedger, *, on_step: OnStep | None = None) -> Verification:
    """Everything in a ledger against everything else in it.

    The chain of digests; what entries are filed under against what they say; documents against a fresh fold
    of their entries; files against their digests. on_step: each entry is two steps.
    Raises StoreTrouble.
    """
    found = Verification()
    with told(ledger.place), ledger.engine.connect() as connection:
        found.entries = count_entries(connection)
        try:
            for finding in _all(streaming(connection), Steps(on_step, 2 * found.entries)):
                found.count += 1
                if found.count <= MOST_FINDINGS:
                    found.findings.append(finding)
        except Stopped:
            found.is_finished = False
    return found


def verify_against(ledger: Ledger, number: int, digest: str) -> list[Finding]:
    """The ledger against what was printed: `chain-cut` where that entry is not there, or another one is.

    number, digest: of an entry, as printed; the first eight digits are enough, spaces and dashes are ignored.
    Raises InputRefused, StoreTrouble.
    """
    printed = BETWEEN_DIGITS.sub("", digest.casefold())
    if not DIGEST.fullmatch(printed):
        raise InputRefused("digest", digest, "want-digest")
    is_there = number <= ledger.head().number and _digest_of(ledger, number).startswith(printed)
    return [] if is_there else [_grave("chain-cut", number=number)]


def _digest_of(ledger: Ledger, number: int) -> str:
    """Digest of an entry as it stands there; empty where it is missing or cannot be read."""
    try:
        entry = next(iter(ledger.entries(after=number - 1, most=1)), None)
    except UNREADABLE:
        return ""
    return entry.digest if entry is not None and entry.number == number else ""


def _grave(code: str, **facts: str | int) -> Finding:
    return Finding(code, Severity.GRAVE, dict(facts))


def _all(connection: sa.Connection, steps: Steps) -> Iterator[Finding]:
    unreadable: set[int] = set()
    yield from _documents(connection, steps, unreadable)
    yield from chain_breaks(chain_rows(connection, steps, unreadable))
    yield from _files(connection)


def _documents(connection: sa.Connection, steps: Steps, unreadable: set[int]) -> Iterator[Finding]:
    """Documents and entries side by side, both in the order of their subjects."""
    documents = iter(connection.execute(sa.select(DOCUMENT).order_by(DOCUMENT.c.subject)).mappings())
    stored = next(documents, None)
    for subject, rows in groupby(rows_by_subject(connection), lambda row: str(row.subject)):
        while stored is not None and str(stored["subject"]) < subject:
            yield _grave("document-differs", subject=str(stored["subject"]))
            stored = next(documents, None)
        fresh = yield from _folded(connection, subject, rows, steps, unreadable)
        is_stored = stored is not None and str(stored["subject"]) == subject
        if fresh is not None and (stored is None or dict(stored) != fresh):
            yield _grave("document-differs", subject=subject)
        if is_stored:
            stored = next(documents, None)
    while stored is not None:
        yield _grave("document-differs", subject=str(stored["subject"]))
        stored = next(documents, None)


def _folded(
    connection: sa.Connection,
    subject: str,
    rows: Iterable[sa.Row[Any]],
    steps: Steps,
    unreadable: set[int],
) -> Generator[Finding, None, dict[str, Any] | None]:
    """What is wrong with the entries of a subject; returns its document's row, None where there is none."""
    body: dict[str, Any] | None = None
    is_sound = True
    for row in rows:
        steps()
        entry = entry_in(row)
        if entry is None:
            unreadable.add(row.number)
            is_sound = False
            yield _grave("entry-unfoldable", number=row.number)
            continue
        yield from _misfiled(connection, row, entry)
        try:
            body = fold(body, entry) if is_sound else None
        except UNREADABLE:
            is_sound = False
            yield _grave("entry-unfoldable", number=row.number)
    return row_of(subject, body) if is_sound and body is not None else None


def _misfiled(connection: sa.Connection, row: sa.Row[Any], entry: Entry) -> Iterator[Finding]:
    said = (entry.number, entry.kind, entry.subject, entry.at, entry.who)
    if said != (row.number, row.kind, row.subject, row.at, row.who):
        yield _grave("entry-misfiled", number=row.number)
    if entry.kind == Kind.ATTACHMENT_KEPT:
        digest = str(entry.payload.get("file"))
        if connection.scalar(sa.select(FILE.c.size).where(FILE.c.digest == digest)) is None:
            yield _grave("file-missing", digest=digest, number=entry.number)


def _files(connection: sa.Connection) -> Iterator[Finding]:
    few = connection.execution_options(yield_per=FILES_AT_ONCE)
    for digest, content in few.execute(sa.select(FILE.c.digest, FILE.c.content)):
        if digest_of_bytes(content) != digest:
            yield _grave("file-changed", digest=str(digest))
