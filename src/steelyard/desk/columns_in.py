"""The columns of a table that comes in: which there are, how a file may name them, what a cell may hold."""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Self

from steelyard.desk.kits import SORTS
from steelyard.desk.records_out import RECORD_COLUMNS
from steelyard.desk.rig_table import MOST_ROWS, PAPER_COLUMNS, RIG_COLUMNS, ROW_FIELDS
from steelyard.desk.tool_fields import LIMIT_COLUMNS, TEXTS, TOOL_COLUMNS
from steelyard.desk.typed_table import TEXTUAL
from steelyard.errors import InputRefused
from steelyard.quantities import one_way

Row = tuple[int, Mapping[str, str]]
"""The number of a row in its file, and its texts by the names of their columns."""
MOST_COLUMNS = 128
"""A transducer alone has half as many, with every row of its paper."""
LONGEST_CELL = 10_000
"""Signs in a cell."""
RACK, RIGS, HISTORY, RECORDS, PULLS = WHATS = ("rack", "rigs", "history", "records", "pulls")
"""What a table may hold."""
BREAKS = "\n\t"
GAPS = dict.fromkeys(map(ord, "\u00a0\u202f"), " ")
"""Blanks that a spreadsheet puts between digits; nobody sees that they are others."""
APART = re.compile(r"[\s_]+")


class Counted(str):
    """The digits of a number that a file holds as a number, with a point as its decimal mark."""

    def __new__(cls, number: float) -> Self:
        """At most fifteen digits of a fraction: nobody typed those that follow."""
        digits = str(number) if isinstance(number, int) else format(Decimal(f"{number:.15g}"), "f")
        return super().__new__(cls, digits)


_TOOL = (
    *(column.name for column in TOOL_COLUMNS),
    "unit",
    "own_way",
    *(f"limit.{column.name}" for column in LIMIT_COLUMNS),
    *TEXTS,
    "interval_months",
    "state",
)
_RIG_MOST = (
    "sort",
    *dict.fromkeys(column.name for sort in SORTS for column in RIG_COLUMNS[sort]),
    "notes",
    *(f"paper.{column.name}" for column in PAPER_COLUMNS),
)
_RIG_ROWS = tuple(f"row{number}_{field}" for number in range(1, MOST_ROWS + 1) for field in ROW_FIELDS)
COLUMNS: Mapping[str, tuple[str, ...]] = {
    RACK: _TOOL,
    RIGS: (*_RIG_MOST, *_RIG_ROWS, "state"),
    HISTORY: ("tool", "day", "verdict", "next_due", "who", "note"),
    RECORDS: RECORD_COLUMNS[: RECORD_COLUMNS.index("entry")],
    PULLS: (
        "tool_number",
        "phase",
        "target",
        "direction",
        "reading",
        "unit",
        "answer",
        "struck_out",
        "set_to",
        "mark",
        "sure",
    ),
}
"""What is read of each table; of `state` only whether it is still in use."""
USUAL: Mapping[str, tuple[str, ...]] = {
    RACK: ("number", "kind", "make", "lowest", "highest", "unit", "graduation", "directions", "drive",
           "grip_mark", "own_way", "mass", "balance_point", "limit.published", "limit.percent",
           "interval_months", "notes"),
    RIGS: _RIG_MOST,
    HISTORY: COLUMNS[HISTORY],
    RECORDS: ("record", "day", "tool_number", "verdict", "phase", "worst_target", "deviation_percent",
              "expanded_percent", "next_due", "who"),
    PULLS: ("tool_number", "target", "direction", "reading", "unit", "phase", "struck_out", "sure"),
}  # fmt: skip
"""What an empty sheet to fill in asks for."""
PASSED_OVER: Mapping[str, tuple[str, ...]] = {
    RACK: ("id", "next_due", "last_verdict", "last_record"),
    RIGS: ("id",),
    HISTORY: ("file", "row"),
    RECORDS: ("entry", "entry_digest", "corrections"),
    PULLS: ("record", "day", "pull", "at", "who"),
}
"""What a table that was taken out says besides; it follows from what is kept, and nobody sets it."""
ALSO: Mapping[str, Mapping[str, str]] = {RECORDS: {"tool": "tool_number"}, PULLS: {"tool": "tool_number"}}
"""Other names of a column."""
EXAMPLE: Mapping[str, Mapping[str, str]] = {
    RACK: {"number": "T-01", "kind": "click-adjustable", "lowest": "20", "highest": "100", "unit": "N·m",
           "graduation": "1", "directions": "cw", "drive": "1/2 in", "grip_mark": "320", "own_way": "skip",
           "limit.published": "iso-6789-1-2017", "interval_months": "12", "notes": "engine shop"},
    RIGS: {"sort": "mass", "name": "M-5", "value": "5.000 kg", "class": "M1"},
    HISTORY: {"tool": "T-01", "day": "2024-03-18", "verdict": "in", "next_due": "2025-03-18",
              "who": "engine shop", "note": "page 12 of the blue notebook"},
    RECORDS: {"record": "7", "day": "2025-03-20", "tool_number": "T-01", "verdict": "in", "phase": "as-found",
              "worst_target": "60 N·m", "deviation_percent": "-1.2", "expanded_percent": "0.8",
              "next_due": "2026-03-20", "who": "engine shop"},
    PULLS: {"tool_number": "T-01", "target": "60 N·m", "direction": "cw", "reading": "59.2", "unit": "N·m"},
}  # fmt: skip
"""One row of each, of a made-up boatyard."""


def plain_name(heading: str) -> str:
    """A heading without what does not tell two apart: case, and whether a blank or an underscore stands."""
    return APART.sub("_", heading.strip()).casefold()


def known_columns(what: str, headings: Iterable[str]) -> dict[str, str]:
    """From each heading of a file to the column it names; those that are passed over are left out.

    Raises InputRefused (`file`) for a heading that nobody knows, or that stands twice.
    """
    names = {**{plain_name(name): name for name in COLUMNS[what]}, **ALSO.get(what, {})}
    over = {plain_name(name) for name in PASSED_OVER[what]} - names.keys()
    found: dict[str, str] = {}
    seen: set[str] = set()
    for heading in headings:
        plain = plain_name(heading)
        if plain in seen or (plain in names and names[plain] in found.values()):
            raise InputRefused("file", heading, "want-column-once")
        if plain not in names and plain not in over:
            raise InputRefused("file", heading, "want-known-column", names=", ".join(USUAL[what]))
        seen.add(plain)
        if plain in names:
            found[heading] = names[plain]
    return found


def typed_row(known: Mapping[str, str], cells: Mapping[str, str], numeric: frozenset[str]) -> dict[str, str]:
    """The texts of one row by column, as if they were typed into fields; empty ones left out.

    numeric: columns in which a number that the file holds as one reads only one way.
    Raises InputRefused with the column for a cell under no heading, too long, or with signs nobody can see.
    """
    typed: dict[str, str] = {}
    for heading, text in cells.items():
        name = known.get(heading)
        if name is None:
            if heading.startswith("column "):
                raise InputRefused(heading, text, "want-heading")
            continue
        plain = one_way(text, ".") if isinstance(text, Counted) and name in numeric else text
        plain = _readable(name, plain)
        if plain:
            typed[name] = plain
    return typed


def _readable(name: str, text: str) -> str:
    if len(text) > LONGEST_CELL:
        raise InputRefused(name, text, "want-shorter", longest=LONGEST_CELL)
    plain = text if text.isascii() else text.translate(GAPS)
    if not plain.isprintable():
        plain = plain.replace("\r\n", "\n")
        if any(unicodedata.category(sign) in ("Cc", "Cs") and sign not in BREAKS for sign in plain):
            raise InputRefused(name, text, "want-printable")
    return plain.strip()


NUMERIC: Mapping[str, frozenset[str]] = {
    RACK: frozenset(
        (
            *(column.name for column in TOOL_COLUMNS if column.kind not in TEXTUAL),
            *(f"limit.{column.name}" for column in LIMIT_COLUMNS if column.kind not in TEXTUAL),
        )
    ),
    RIGS: frozenset(
        (
            *(column.name for sort in SORTS for column in RIG_COLUMNS[sort] if column.kind not in TEXTUAL),
            *(f"paper.{column.name}" for column in PAPER_COLUMNS if column.kind not in TEXTUAL),
            *_RIG_ROWS,
        )
    ),
    HISTORY: frozenset(),
    RECORDS: frozenset(("worst_target", "deviation_percent", "expanded_percent")),
    PULLS: frozenset(("target", "reading")),
}
"""The columns of numbers."""
