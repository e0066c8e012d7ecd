"""The certificate of a transducer as the paper of a rig: who wrote it, and what it states at which torque."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Context, Decimal
from fractions import Fraction
from typing import Any

from steelyard.errors import InputRefused, echo
from steelyard.findings import Finding, Severity
from steelyard.paper.dcc.columns import Cell, Column, number_of, tables_in
from steelyard.paper.dcc.elements import DCC, LANGUAGE, OWN
from steelyard.paper.dcc.safely import Element, certificate
from steelyard.paper.dcc.units import READ, READ_RATIOS
from steelyard.quantities import UNITS, Dimension, one_way

LONGEST = 200
DATA = f"{{{DCC}}}administrativeData"
CORE = f"{DATA}/{{{DCC}}}coreData"
DUE = "recalibration"
FOUR_DIGITS = Context(prec=4)
AT_FIRST = ("shown", "nominal")
"""What a table says of the indication; where it has neither, the true torque and its error make it."""


@dataclass(frozen=True)
class PaperRead:
    """What a certificate says. table: the paper of a rig. notes: what was left out of it, what it lacks."""

    table: dict[str, Any]
    notes: tuple[Finding, ...]


@dataclass(frozen=True)
class Row:
    """One row: at which indication, what is stated there, its U in per cent. Torques with their units."""

    at: Cell
    states: str
    stated: Cell
    uncertain: Cell

    @property
    def at_newton_metre(self) -> Fraction:
        """The indication. [N m]"""
        return in_newton_metres(self.at)


def paper_in(content: bytes, *, field: str, name: str, most: int | None = None) -> PaperRead:
    """What a certificate says of a transducer; arguments as in `paper_of_dcc`."""
    root = certificate(content, field, name)
    if _identifier(root).startswith(OWN):
        raise InputRefused(field, name, "want-dcc-foreign")
    try:
        rows, count = _rows_of(root)
        kept = sorted((row for row in rows if row.at_newton_metre > 0), key=lambda row: row.at_newton_metre)
        written = [_table(row) for row in kept]
    except InputRefused as refused:
        raise InputRefused(field, refused.given or name, refused.wanted, **refused.facts) from None
    if not written:
        raise InputRefused(field, name, "want-dcc-torque")
    if most is not None and len(written) > most:
        raise InputRefused(field, len(written), "want-dcc-rows", most=most)
    table = {**_facts(root), "states": kept[0].states, "row": written}
    return PaperRead(table, tuple(_notes(written, count, left_out=len(rows) - len(kept))))


def _rows_of(root: Element) -> tuple[list[Row], int]:
    """The rows of the first table of torques, and how many such tables there are; tables of one row are one.

    Raises InputRefused where there is none: for its unit, where that is what stands against it.
    """
    found: list[list[Row]] = []
    refused: InputRefused | None = None
    for columns in tables_in(root):
        try:
            rows = list(_rows(columns))
        except InputRefused as trouble:
            refused = refused or trouble
            continue
        if len(rows) == 1 and found and _goes_on(found[-1], rows[0]):
            found[-1] += rows
        elif rows:
            found.append(rows)
    if not found:
        raise refused or InputRefused("", None, "want-dcc-torque")
    return found[0], len(found)


def _goes_on(rows: Sequence[Row], row: Row) -> bool:
    """A table of one row is the next row of those before it."""
    return rows[0].states == row.states and all(one.at_newton_metre != row.at_newton_metre for one in rows)


def _rows(columns: dict[str, Column]) -> Iterator[Row]:
    """The rows of a table; none where it has no two columns that make one, or they are not equally long."""
    lengths = {len(column) for column in columns.values()}
    if len(lengths) != 1:
        return
    for place in range(lengths.pop()):
        row = _row({meaning: column[place] for meaning, column in columns.items()})
        if row is None:
            return
        yield row


def _row(cells: dict[str, Cell]) -> Row | None:
    """One row: the true torque beside what was shown, or an error or a correction beside the indication."""
    off = cells.get("error") or cells.get("correction")
    uncertain = next(
        (cells[m] for m in ("error", "correction", "shown", "true") if _has_u(cells.get(m))), None
    )
    shown, true = cells.get("shown"), cells.get("true")
    if shown is None or true is None:
        shown, true = _pair(cells, off)
    if shown is not None and true is not None:
        _torque(shown)
        _torque(true)
        return Row(shown, "torque", true, uncertain or true)
    at = next((cells[m] for m in AT_FIRST if m in cells), None)
    if at is None or off is None:
        return None
    _torque(at)
    if off.unit not in READ_RATIOS:
        raise InputRefused("", off.unit or None, "want-dcc-unit")
    percent = Cell(off.number * READ_RATIOS[off.unit], off.unit)
    return Row(at, "error" if "error" in cells else "correction", percent, uncertain or off)


def _pair(cells: dict[str, Cell], off: Cell | None) -> tuple[Cell | None, Cell | None]:
    """Shown and true torque of a row that has only one of them, or a nominal torque in their place."""
    shown, true, nominal = cells.get("shown"), cells.get("true"), cells.get("nominal")
    if off is None:
        return (shown, nominal) if shown is not None else (nominal, true)
    if off.unit not in READ:
        return None, None
    more = off.number if "error" in cells else -off.number
    if true is not None:
        return _beside(true, more, off.unit), true
    at = shown or nominal
    return at, (_beside(at, -more, off.unit) if at is not None else None)


def _beside(cell: Cell, more: Decimal, unit: str) -> Cell:
    """A torque that lies off another one. Raises InputRefused where they have different units."""
    if cell.unit != unit:
        raise InputRefused("", unit, "want-dcc-same-unit")
    return Cell(cell.number + more, unit)


def _has_u(cell: Cell | None) -> bool:
    return cell is not None and bool(cell.expanded)


def _torque(cell: Cell) -> None:
    if cell.unit not in READ:
        raise InputRefused("", cell.unit or None, "want-dcc-unit")


def in_newton_metres(cell: Cell) -> Fraction:
    """A torque. [N m]"""
    return Fraction(cell.number) * UNITS[Dimension.TORQUE][READ[cell.unit]].factor


def _table(row: Row) -> dict[str, str]:
    """A row as a paper has it; numbers so that they read one way."""
    is_torque = row.states == "torque"
    texts = {
        "at": f"{row.at.number:f} {READ[row.at.unit]}",
        row.states: f"{row.stated.number:f} {READ[row.stated.unit] if is_torque else '%'}",
    }
    if row.uncertain.expanded:
        texts["U"] = f"{_expanded_percent(row):f} %"
        if row.uncertain.coverage:
            texts["k"] = f"{number_of(row.uncertain.coverage):f}"
    return {name: one_way(text, ".") for name, text in texts.items()}


def _expanded_percent(row: Row) -> Decimal:
    """U in per cent of the torque: as written where it is a ratio, else to four digits."""
    cell = Cell(number_of(row.uncertain.expanded), row.uncertain.unit)
    if cell.unit in READ_RATIOS:
        return cell.number * READ_RATIOS[cell.unit]
    _torque(cell)
    torque = in_newton_metres(row.stated if row.states == "torque" else row.at)
    ratio = 100 * in_newton_metres(cell) / abs(torque)
    return FOUR_DIGITS.divide(Decimal(ratio.numerator), Decimal(ratio.denominator))


def _facts(root: Element) -> dict[str, str]:
    """Number, laboratory and days, each where it is said."""
    contact = f"{DATA}/{{{DCC}}}calibrationLaboratory/{{{DCC}}}contact"
    due = next(
        (
            statement.findtext(f"{{{DCC}}}date")
            for statement in root.findall(f"{DATA}/{{{DCC}}}statements/{{{DCC}}}statement")
            if DUE in statement.get("refType", "")
        ),
        None,
    )
    days = (root.findtext(f"{CORE}/{{{DCC}}}{day}") for day in ("issueDate", "endPerformanceDate"))
    issued = next(filter(None, days), None)
    said = {
        "certificate": _identifier(root),
        "laboratory": _in_english(root.findall(f"{contact}/{{{DCC}}}name/{{{DCC}}}content")),
        "issued": _day(issued),
        "due": _day(due),
    }
    return {name: text for name, text in said.items() if text}


def _identifier(root: Element) -> str:
    return _short(root.findtext(f"{CORE}/{{{DCC}}}uniqueIdentifier"))


def _in_english(contents: Sequence[Element]) -> str:
    english = [one for one in contents if one.get("lang") == LANGUAGE]
    return _short(next((one.text for one in (*english, *contents)), None))


def _short(text: str | None) -> str:
    return echo(" ".join((text or "").split()), longest=LONGEST)


def _day(text: str | None) -> str:
    """A day; what stands behind it, such as a zone, says nothing here."""
    try:
        return date.fromisoformat((text or "").strip()[:10]).isoformat()
    except ValueError:
        return ""


def _notes(rows: Sequence[dict[str, str]], tables: int, *, left_out: int) -> Iterator[Finding]:
    bare = sum("U" not in row for row in rows)
    if tables > 1:
        yield Finding("dcc-note-tables", Severity.NOTE, {"count": tables})
    if left_out:
        yield Finding("dcc-note-left-out", Severity.NOTE, {"count": left_out})
    if bare:
        yield Finding("dcc-note-no-uncertainty", Severity.WARN, {"count": bare})
