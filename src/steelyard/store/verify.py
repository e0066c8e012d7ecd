"""Verifying a ledger: that nothing in it was changed, removed or cut off since it was written.

Everything is read in one snapshot, row by row: other programs go on writing, and memory stays small.
"""

import re
from collections.abc import Generator, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby
from operator import itemgetter
from typing import Any

import sqlalchemy as sa

from steelyard.desk.ports import Ledger
from steelyard.errors import Damaged, InputRefused
from steelyard.findings import Finding, Severity
from steelyard.records import BEFORE_THE_FIRST, Entry, Kind, fold
from steelyard.store.content import digest_of_bytes
from steelyard.store.folding import row_of
from steelyard.store.ledger import SqlLedger
from steelyard.store.reading import UNREADABLE, EntryRow, count_entries, entry_in, rows_by_subject
from steelyard.store.schema import DOCUMENT, ENTRY, FILE
from steelyard.store.steps import OnStep, Steps, Stopped
from steelyard.store.trouble import told

MOST_FINDINGS = 200
AT_ONCE, FILES_AT_ONCE = 500, 4
BETWEEN_DIGITS = re.compile(r"[\s.\-\u2026]")
SUBJECT = EntryRow._fields.index("subject")
DIGEST = re.compile(r"[0-9a-f]{8,64}")
NAMES_A_FILE: dict[str, str] = {Kind.ATTACHMENT_KEPT: "file", Kind.WORKSHOP_SET: "logo"}
"""Entries by which a file is kept, a photograph or the logo, and the name under which they say its digest."""


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
    of their entries; files against their digests. on_step: each entry is one step.
    Raises StoreTrouble.
    """
    found = Verification()
    with told(ledger.place), ledger.engine.connect() as connection:
        found.entries = count_entries(connection)
        try:
            for finding in _all(
                connection.execution_options(yield_per=AT_ONCE), Steps(on_step, found.entries)
            ):
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
    except Damaged:
        return ""
    return entry.digest if entry is not None and entry.number == number else ""


def _grave(code: str, **facts: str | int) -> Finding:
    return Finding(code, Severity.GRAVE, dict(facts))


def _all(connection: sa.Connection, steps: Steps) -> Iterator[Finding]:
    yield from _documents(connection, steps)
    yield from _files(connection)


def _documents(connection: sa.Connection, steps: Steps) -> Iterator[Finding]:
    """Documents and entries side by side, both in the order of their subjects."""
    documents = connection.execute(sa.select(DOCUMENT).order_by(DOCUMENT.c.subject)).mappings()
    stored = next(documents, None)
    for filed_under, rows in groupby(rows_by_subject(connection), itemgetter(SUBJECT)):
        subject = str(filed_under)
        while stored is not None and str(stored["subject"]) < subject:
            yield _grave("document-differs", subject=str(stored["subject"]))
            stored = next(documents, None)
        fresh = yield from _folded(connection, subject, rows, steps)
        if fresh is not None and (stored is None or dict(stored) != fresh):
            yield _grave("document-differs", subject=subject)
        if stored is not None and str(stored["subject"]) == subject:
            stored = next(documents, None)
    while stored is not None:
        yield _grave("document-differs", subject=str(stored["subject"]))
        stored = next(documents, None)


def _folded(
    connection: sa.Connection, subject: str, rows: Iterable[EntryRow], steps: Steps
) -> Generator[Finding, None, dict[str, Any] | None]:
    """What is wrong with the entries of a subject; returns its document's row, None where there is none."""
    body: dict[str, Any] | None = None
    is_sound = True
    for row in rows:
        steps()
        entry = entry_in(row)
        if not _is_linked(row, entry):
            yield from _breaks(connection, row, entry)
        if entry is not None and (entry.number, entry.kind, entry.subject, entry.at, entry.who) != row[:5]:
            yield _grave("entry-misfiled", number=row.number)
        if entry is not None and entry.kind in NAMES_A_FILE:
            yield from _missing_file(connection, entry)
        if is_sound:
            body = _next(body, entry)
            is_sound = body is not None
            if not is_sound:
                yield _grave("entry-unfoldable", number=row.number)
    return None if body is None else row_of(subject, body)


def _next(body: dict[str, Any] | None, entry: Entry | None) -> dict[str, Any] | None:
    try:
        return None if entry is None else fold(body, entry)
    except UNREADABLE:
        return None


def _is_linked(row: EntryRow, entry: Entry | None) -> bool:
    """Whether the chain holds at an entry: the digest is its own, and it names the one before."""
    before = BEFORE_THE_FIRST if row.number == 1 else row.digest_before
    return entry is not None and entry.digest == row.digest and entry.before == before


def _breaks(connection: sa.Connection, row: EntryRow, entry: Entry | None) -> Iterator[Finding]:
    """What is wrong there, in the words of `records.chain_breaks`, which would read everything once more."""
    is_gap = row.digest_before is None and row.number != 1
    if is_gap:
        last = sa.select(sa.func.max(ENTRY.c.number)).where(ENTRY.c.number < row.number)
        expected = (connection.scalar(last) or 0) + 1
        yield _grave("chain-gap", number=expected, found=row.number)
    if entry is None or entry.digest != row.digest:
        yield _grave("chain-changed", number=row.number)
    elif not is_gap:
        yield _grave("chain-joint", number=row.number)


def _missing_file(connection: sa.Connection, entry: Entry) -> Iterator[Finding]:
    digest = entry.payload.get(NAMES_A_FILE[entry.kind])
    if digest is None and entry.kind == Kind.WORKSHOP_SET:
        return  # nothing was said of the logo
    if connection.scalar(sa.select(FILE.c.size).where(FILE.c.digest == str(digest))) is None:
        yield _grave("file-missing", digest=str(digest), number=entry.number)


def _files(connection: sa.Connection) -> Iterator[Finding]:
    few = connection.execution_options(yield_per=FILES_AT_ONCE)
    for digest, content in few.execute(sa.select(FILE.c.digest, FILE.c.content)):
        if digest_of_bytes(content) != digest:
            yield _grave("file-changed", digest=str(digest))
