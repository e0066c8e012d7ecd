"""A table comes in: what becomes of each of its rows, tried first; then all of them are kept or none.

Trying and keeping go through the same code. Keeping runs within the transaction that writes, so that nothing
doubles that somebody else wrote in between.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from steelyard.desk.acting import Acting
from steelyard.desk.columns_in import (
    HISTORY,
    NUMERIC,
    PULLS,
    RACK,
    RECORDS,
    RIGS,
    WHATS,
    Row,
    known_columns,
    typed_row,
)
from steelyard.desk.history_in import history_taken
from steelyard.desk.ports import Find, OnStep, Streamed
from steelyard.desk.pulls_in import pulls_taken
from steelyard.desk.records_in import records_taken
from steelyard.desk.rigs_in import rigs_taken
from steelyard.desk.tools_in import Take, tools_taken
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused
from steelyard.records import Draft
from steelyard.words import say

NEW, THERE, REFUSED = FATES = ("new", "there", "refused")
"""A row will be added, is there already, or cannot be used."""
NAMED_BY = {
    RACK: ("number",),
    RIGS: ("name",),
    HISTORY: ("tool", "day"),
    RECORDS: ("record", "tool_number", "day"),
    PULLS: ("tool_number", "reading"),
}
"""The columns that say which row it is."""
LONGEST_NAME = 60
MOST_SHOWN = 200
"""Refused rows that are held to be shown; a file of fates has them all."""
STEP = 500
"""Rows between two steps of trying."""


@dataclass(frozen=True)
class Incoming:
    """A table about to come in.

    what: of WHATS. file: its name, without a folder. columns: as its first row names them. rows: read once.
    count: how many rows there are. digest: of the file, SHA-256, hexadecimal; empty where it was no file.
    """

    what: str
    file: str
    columns: tuple[str, ...]
    rows: Iterable[Row]
    count: int
    digest: str = ""


@dataclass(frozen=True)
class Fate:
    """What becomes of a row.

    row: its number in the file. state: of FATES. name: which row it is, in a few words. field: the column
    that is refused; refused: why; both empty where nothing is.
    """

    row: int
    state: str
    name: str
    field: str = ""
    refused: InputRefused | None = None

    @property
    def sentence(self) -> str:
        """Why it is refused, in one sentence; empty where it is not."""
        return "" if self.refused is None else self.refused.sentence


@dataclass
class Tally:
    """How many rows of each fate, and the first of those refused. names: digest of the names of all."""

    new: int = 0
    there: int = 0
    refused: int = 0
    first_refused: list[Fate] = field(default_factory=list)
    names: str = ""

    @property
    def count(self) -> int:
        """All rows."""
        return self.new + self.there + self.refused

    def add(self, fate: Fate) -> None:
        """One row more."""
        setattr(self, fate.state, getattr(self, fate.state) + 1)
        self.names = hashlib.sha256(f"{self.names}\n{fate.name}".encode()).hexdigest()
        if fate.state == REFUSED and len(self.first_refused) < MOST_SHOWN:
            self.first_refused.append(fate)


def what_is_meant(asked: str, columns: Iterable[str], said: str = "") -> str:
    """What a table holds: as asked, else as the file says, else by its columns.

    Raises InputRefused (`what`) where it cannot be told, or the file says something else.
    """
    if asked and asked not in WHATS:
        raise InputRefused("what", asked, "want-one-of", names=", ".join(WHATS))
    if said and (said not in WHATS or asked not in ("", said)):
        raise InputRefused("what", said, "want-table-that-comes-in", names=", ".join(WHATS))
    if asked or said:
        return asked or said
    for what in (HISTORY, PULLS, RECORDS, RIGS, RACK):
        try:
            known = known_columns(what, columns).values()
        except InputRefused:
            continue
        if NAMED_BY[what][0] in known and (what != RIGS or "sort" in known):
            return what
    raise InputRefused("what", None, "want-one-of", names=", ".join(WHATS))


def fates(acting: Acting, table: Incoming, find: Find) -> Iterator[tuple[Fate, Draft | None]]:
    """What becomes of each row, and what is to be written for it.

    find: looks at documents as they stand. Raises InputRefused (`file`) for a column that nobody knows, and
    for a file of pulls that was taken into a check in hand before.
    """
    known = known_columns(table.what, table.columns)
    missing = next((name for name in NAMED_BY[table.what] if name not in known.values()), None)
    if missing is not None and table.count:
        raise InputRefused("file", table.file, "want-column", name=missing)
    take = _taker(acting, table, find)
    for row, cells in table.rows:
        name = ""
        try:
            typed = typed_row(known, cells, NUMERIC[table.what])
            name = _name(typed, table.what)
            draft = take(row, typed)
        except InputRefused as refused:
            yield Fate(row, REFUSED, name, refused.field, refused), None
            continue
        yield Fate(row, NEW if draft is not None else THERE, _placed(name, draft, table.what)), draft


def _taker(acting: Acting, table: Incoming, find: Find) -> Take:
    if table.what == HISTORY:
        return history_taken(find, today=acting.today(), file=table.file)
    said = settings(acting.ledger)
    if table.what == RECORDS:
        return records_taken(find, said, today=acting.today(), file=table.file)
    if table.what == PULLS:
        return pulls_taken(find, said, file=table.file, digest=table.digest)
    take = tools_taken if table.what == RACK else rigs_taken
    return take(find, said, acting.dice)


def _name(typed: Mapping[str, str], what: str) -> str:
    name = " ".join(typed[column] for column in NAMED_BY[what] if column in typed)
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…"


def _placed(name: str, draft: Draft | None, what: str) -> str:
    """The name of a row; of a reading with the point of the plan it goes to, counted from 1."""
    if what != PULLS or draft is None:
        return name
    said = draft.payload
    return say(f"pulls-in-{said['phase']}", name=name, point=said["point"] + 1)


def tried(acting: Acting, table: Incoming, *, on_step: OnStep | None = None) -> Iterator[Fate]:
    """The fate of each row, as far as `on_step` lets it go on; nothing is written.

    on_step: told how many rows are looked at, of how many; False ends it.
    """
    for done, (fate, _) in enumerate(fates(acting, table, acting.ledger.documents), 1):
        yield fate
        is_step = on_step is not None and (done % STEP == 0 or done == table.count)
        if is_step and on_step is not None and not on_step(done, table.count):
            return


def kept(
    acting: Acting, table: Incoming, *, new: int, names: str = "", on_step: OnStep | None = None
) -> Streamed | None:
    """Write what is new in a table, all of it or nothing; None where it was stopped.

    new: how many rows are new, for `on_step`. names: of the tally of trying it; empty where it was not tried.
    Raises InputRefused with row and column where a row is refused by now, `file` where readings would go to
    other points than were shown; StoreTrouble.
    """

    def drafted(find: Find) -> Iterator[Draft]:
        tally = Tally()
        for fate, draft in fates(acting, table, find):
            if fate.refused is not None:
                raise _in_row(fate.row, fate.refused)
            tally.add(fate)
            if draft is not None:
                yield draft
        if table.what == PULLS and names not in ("", tally.names):
            raise InputRefused("file", table.file, "want-tried-again")

    return acting.ledger.append_stream(
        drafted, acting.stamp(), submission=acting.submission, on_step=on_step, of=new
    )


def _in_row(row: int, refused: InputRefused) -> InputRefused:
    """The same refusal with the row in its field."""
    return InputRefused(f"row {row}, {refused.field}", refused.given, refused.wanted, **refused.facts)
