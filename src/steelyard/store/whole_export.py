"""A whole workshop as one zip, written as a stream: every entry as it is chained, and what is kept beside it.

One snapshot is read, row by row: others go on writing, and memory stays small. What was written holds: an
entry that breaks the chain or a file that is not what it was ends the writing, since nobody could read it.
The same ledger gives the same bytes.
"""

import zipfile
from collections.abc import Generator, Iterator
from contextlib import closing
from typing import Any

import sqlalchemy as sa

from steelyard.errors import Damaged
from steelyard.records import BEFORE_THE_FIRST
from steelyard.store.content import digest_of_bytes
from steelyard.store.ledger import SqlLedger
from steelyard.store.putting import head_of
from steelyard.store.reading import bare_rows, chain_rows, count_entries, entry_of_body
from steelyard.store.schema import FILE, NAME, SUBMISSION
from steelyard.store.steps import OnStep, Steps, Stopped
from steelyard.store.trouble import told
from steelyard.store.whole_form import (
    ENTRIES,
    FILES,
    FOLDER,
    LONGEST_LINE,
    NAMES,
    SUBMISSIONS,
    WORKSHOP,
    WholeCounts,
    head_line,
    line_of,
)
from steelyard.words import say

LINES_AT_ONCE = 500
CONTENT = sa.select(FILE.c.content).where(FILE.c.digest == sa.bindparam("digest"))


class _Passing:
    """What a zip is written into: holds the bytes until they are fetched, and cannot go back."""

    def __init__(self) -> None:
        self._held: list[bytes] = []

    def write(self, content: bytes) -> int:
        """Take some bytes."""
        self._held.append(bytes(content))
        return len(content)

    def flush(self) -> None:
        """Nothing waits here."""

    def fetched(self) -> bytes:
        """All bytes since the last time."""
        held, self._held = b"".join(self._held), []
        return held


def whole_workshop(
    ledger: SqlLedger, *, program: str, is_demo: bool, on_step: OnStep | None = None
) -> Iterator[bytes]:
    """The bytes of the zip, piece by piece; its form stands in docs/reference/tables.md.

    program: version that writes it. is_demo: the mark of a made-up workshop goes with it. on_step: each entry
    and each file is one step; where it stops, the bytes end before the zip does, which nothing opens then.
    Raises Damaged, other StoreTrouble.
    """
    with told(ledger.place), ledger.engine.connect() as connection:
        counts = _counts(connection, is_demo=is_demo)
        passing = _Passing()
        with zipfile.ZipFile(passing, "w", zipfile.ZIP_DEFLATED) as archive:  # type: ignore[call-overload]
            try:
                steps = Steps(on_step, counts.entries + counts.files)
                parts = _parts(archive, connection, counts, program, steps=steps, place=ledger.place)
                with closing(parts):
                    for _ in parts:
                        yield passing.fetched()
            except Stopped:
                return
        yield passing.fetched()


def _counts(connection: sa.Connection, *, is_demo: bool) -> WholeCounts:
    def count(table: sa.Table) -> int:
        return connection.scalar(sa.select(sa.func.count()).select_from(table)) or 0

    head = head_of(connection)
    return WholeCounts(
        head.number,
        head.digest,
        count_entries(connection),
        count(NAME),
        count(SUBMISSION),
        count(FILE),
        is_demo,
    )


def _parts(
    archive: zipfile.ZipFile,
    connection: sa.Connection,
    counts: WholeCounts,
    program: str,
    *,
    steps: Steps,
    place: str,
) -> Generator[None]:
    """Write one part after the other, with a pause now and then."""
    yield from _written(archive, WORKSHOP, (line for line in [head_line(counts, program)]))
    yield from _written(archive, ENTRIES, _entries(connection, counts, steps=steps, place=place))
    for name, table in ((NAMES, NAME), (SUBMISSIONS, SUBMISSION)):
        yield from _written(archive, name, _rows(connection, sa.select(table)))
    listed = sa.select(FILE.c.digest, FILE.c.media_type, FILE.c.size)
    yield from _written(archive, FILES, _rows(connection, listed))
    for (digest,) in bare_rows(connection, sa.select(FILE.c.digest).order_by(FILE.c.digest)):
        steps()
        content: bytes = connection.scalar(CONTENT, {"digest": digest}) or b""
        if digest_of_bytes(content) != digest:
            raise Damaged(place, what=say("whole-file-changed", digest=digest))
        archive.writestr(_named(f"{FOLDER}{digest}", zipfile.ZIP_STORED), content)
        yield


def _named(name: str, how: int = zipfile.ZIP_DEFLATED) -> zipfile.ZipInfo:
    """A part without a time of its own, for its owner alone: the same bytes whenever it is written."""
    part = zipfile.ZipInfo(name)
    part.compress_type, part.external_attr, part.create_system = how, 0o600 << 16, 3
    return part


def _written(archive: zipfile.ZipFile, name: str, lines: Generator[bytes]) -> Iterator[None]:
    with closing(lines), archive.open(_named(name), "w", force_zip64=True) as part:
        for number, line in enumerate(lines, 1):
            part.write(line)
            if number % LINES_AT_ONCE == 0:
                yield
    yield


def _entries(connection: sa.Connection, counts: WholeCounts, *, steps: Steps, place: str) -> Generator[bytes]:
    """Every body as it is stored, held against the chain. Raises Damaged."""
    before, expected = BEFORE_THE_FIRST, 1
    for number, body, digest in chain_rows(connection):
        steps()
        entry = entry_of_body(body)
        is_chained = entry is not None and (entry.number, entry.before) == (expected, before)
        if entry is None or not is_chained or entry.digest != digest or number != expected:
            raise Damaged(place, what=say("damaged-chain"))
        line = body.encode()
        if b"\n" in line or len(line) > LONGEST_LINE:
            raise Damaged(place, what=say("damaged-chain"))
        yield line + b"\n"
        before, expected = digest, number + 1
    if (expected - 1, before) != (counts.head_number, counts.head_digest):
        raise Damaged(place, what=say("damaged-chain"))


def _rows(connection: sa.Connection, wanted: sa.Select[Any]) -> Generator[bytes]:
    columns = wanted.selected_columns
    names = [column.name for column in columns]
    for row in bare_rows(connection, wanted.order_by(columns[names[0]])):
        yield line_of(dict(zip(names, row, strict=True)))
