"""Sheets of label paper, by their measures: where each label lies, and whether the labels fit at all."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from steelyard.desk.typed_table import with_unit
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, one_way, read_quantity

NARROWEST_MM, LOWEST_MM = Decimal(45), Decimal(20)
"""Of a label: below that neither the code nor the words can be read."""
PRINTED_FROM_MM = Decimal("4.5")
"""Of the edge of a sheet printers leave about this much white (from memory)."""
LARGEST_MM = Decimal(600)
MOST_IN_A_ROW = 40
MEASURES = ("page_width", "page_height", "label_width", "label_height")
EDGES = ("margin_left", "margin_top", "gap_across", "gap_down")
OWN_FIELDS = (*MEASURES, "columns", "rows", *EDGES)
"""The fields in which the measures of a sheet are typed; lengths in mm where no unit is written."""


@dataclass(frozen=True)
class LabelSheet:
    """A page of label paper: equal labels in columns and rows. Lengths in mm, exact."""

    page_width_mm: Decimal
    page_height_mm: Decimal
    label_width_mm: Decimal
    label_height_mm: Decimal
    columns: int = 1
    rows: int = 1
    margin_left_mm: Decimal = Decimal(0)
    margin_top_mm: Decimal = Decimal(0)
    gap_across_mm: Decimal = Decimal(0)
    gap_down_mm: Decimal = Decimal(0)

    @property
    def count(self) -> int:
        """How many labels a page has."""
        return self.columns * self.rows

    def corner(self, position: int) -> tuple[Decimal, Decimal]:
        """The left upper corner of a label, from that of the page. [mm]

        position: counted from 0, along the rows.
        """
        row, column = divmod(position, self.columns)
        return (
            self.margin_left_mm + column * (self.label_width_mm + self.gap_across_mm),
            self.margin_top_mm + row * (self.label_height_mm + self.gap_down_mm),
        )

    @property
    def inset_mm(self) -> tuple[Decimal, Decimal]:
        """How far from the sides, and from top and bottom, of each label nothing is set, since printers leave
        the edge of a sheet white; a label that fills its page is one of a printer that does not. [mm]
        """
        if self.count == 1 and not self.margin_left_mm and not self.margin_top_mm:
            return Decimal(0), Decimal(0)
        left, top = self.corner(self.count - 1)
        right = self.page_width_mm - left - self.label_width_mm
        below = self.page_height_mm - top - self.label_height_mm
        across = PRINTED_FROM_MM - min(self.margin_left_mm, right)
        down = PRINTED_FROM_MM - min(self.margin_top_mm, below)
        return (
            max(Decimal(0), min(across, (self.label_width_mm - NARROWEST_MM) / 2)),
            max(Decimal(0), min(down, (self.label_height_mm - LOWEST_MM) / 2)),
        )


def _sheet(page: str, label: str, grid: str, margins: str, gaps: str = "0 0") -> LabelSheet:
    columns, rows = map(int, grid.split())
    (width, height), one, (left, top), between = (
        (Decimal(across), Decimal(down)) for across, down in map(str.split, (page, label, margins, gaps))
    )
    return LabelSheet(width, height, *one, columns, rows, left, top, *between)


SHEETS = {
    "a4-3x7": _sheet("210 297", "70 42.3", "3 7", "0 0.45"),
    "a4-3x8": _sheet("210 297", "70 37", "3 8", "0 0.5"),
    "a4-2x7": _sheet("210 297", "99.1 38.1", "2 7", "4.65 15.15", "2.5 0"),
    "letter-3x10": _sheet("215.9 279.4", "66.7 25.4", "3 10", "4.8 12.7", "3.1 0"),
}
"""Sheets that are common, by their measures: page, label, columns and rows, left and upper margin, gaps."""
OWN, SINGLE = "own", "single"
SHEET_CHOICES = (*SHEETS, OWN, SINGLE)
USUAL_SINGLE = ("51", "25")


def usual_sheet(paper: str) -> str:
    """The name of the sheet that is taken where none is named; paper: `a4` or `letter`."""
    return next(name for name in SHEETS if name.startswith(f"{paper}-"))


def sheet_typed_again(sheet: LabelSheet) -> dict[str, str]:
    """The texts that fill OWN_FIELDS with a sheet."""
    return {
        name: str(getattr(sheet, name if name in ("columns", "rows") else f"{name}_mm"))
        for name in OWN_FIELDS
    }


def typed_sheet(typed: Mapping[str, str], mark: str | None = None) -> LabelSheet:
    """The sheet that is meant.

    typed: `sheet` of SHEET_CHOICES, the first where it is empty; with `own` the fields OWN_FIELDS, of which
        EDGES may be empty for none;
        with `single`, where each label has a page of its own, `single_width` and `single_height`.
    mark: decimal mark by which numbers that read two ways are read; None where nobody said one.
    Raises InputRefused with the field.
    """
    typed = {name: one_way(text.strip(), mark) for name, text in typed.items()}
    choice = typed.get("sheet") or next(iter(SHEETS))
    if choice in SHEETS:
        return SHEETS[choice]
    if choice == SINGLE:
        return single_label(typed.get("single_width", ""), typed.get("single_height", ""))
    if choice != OWN:
        raise InputRefused("sheet", choice, "want-one-of", names=", ".join(SHEET_CHOICES))
    page_width, page_height = (_length(typed, name) for name in MEASURES[:2])
    width, height = _label(typed, "label_width", "label_height")
    columns, rows = (_count(typed.get(name, ""), name) for name in ("columns", "rows"))
    left, top, across, down = (_length(typed, name, may_be_none=True) for name in EDGES)
    sheet = LabelSheet(page_width, page_height, width, height, columns, rows, left, top, across, down)
    _refuse_overhang(sheet)
    return sheet


def single_label(width: str, height: str) -> LabelSheet:
    """One label on a page of its own size.

    width, height: as typed. Raises InputRefused with the field `single_width` or `single_height`.
    """
    typed = {"single_width": width, "single_height": height}
    across, down = _label(typed, "single_width", "single_height")
    return LabelSheet(across, down, across, down)


def typed_skip(text: str, sheet: LabelSheet) -> int:
    """How many positions of the first sheet are used up; empty for none. Raises InputRefused (`skip`)."""
    plain = text.strip()
    if not plain:
        return 0
    skip = int(plain) if plain.isascii() and plain.isdigit() and len(plain) < 6 else -1
    if sheet.count == 1 and skip != 0:
        raise InputRefused("skip", text, "want-no-skip")
    if not 0 <= skip < sheet.count:
        raise InputRefused("skip", text, "want-skip", most=sheet.count - 1, count=sheet.count)
    return skip


def _label(typed: Mapping[str, str], width: str, height: str) -> tuple[Decimal, Decimal]:
    return _length(typed, width, least=NARROWEST_MM), _length(typed, height, least=LOWEST_MM)


def _length(
    typed: Mapping[str, str], field: str, *, least: Decimal = Decimal(1), may_be_none: bool = False
) -> Decimal:
    text = typed.get(field, "").strip()
    if not text and may_be_none:
        return Decimal(0)
    if not text:
        raise InputRefused(field, None, "want-label-length")
    read = read_quantity(with_unit(text, "mm"), Dimension.LENGTH, field=field, example="42.3 mm")
    millimetres = _decimal(read.exact * 1000)
    if may_be_none and millimetres < 0:
        raise InputRefused(field, text, "want-not-negative", what="length", example="2.5 mm")
    floor = Decimal(0) if may_be_none else least
    if not floor <= millimetres <= LARGEST_MM:
        raise InputRefused(field, text, "want-between", least=floor, most=LARGEST_MM, unit="mm")
    return millimetres


def _decimal(exact: Fraction) -> Decimal:
    """To a thousandth of a millimetre, finer than any printer."""
    return Decimal(round(exact * 1000)) / 1000


def _count(text: str, field: str) -> int:
    plain = text.strip()
    count = int(plain) if plain.isascii() and plain.isdigit() and len(plain) < 6 else 0
    if not 1 <= count <= MOST_IN_A_ROW:
        raise InputRefused(field, text.strip() or None, "want-whole", least=1, most=MOST_IN_A_ROW)
    return count


def _refuse_overhang(sheet: LabelSheet) -> None:
    """Raise InputRefused where the labels reach beyond the page."""
    last_left, last_top = sheet.corner(sheet.count - 1)
    across, down = last_left + sheet.label_width_mm, last_top + sheet.label_height_mm
    if across > sheet.page_width_mm:
        raise InputRefused(
            "columns", sheet.columns, "want-fitting-columns", taken=across, page=sheet.page_width_mm
        )
    if down > sheet.page_height_mm:
        raise InputRefused("rows", sheet.rows, "want-fitting-rows", taken=down, page=sheet.page_height_mm)
