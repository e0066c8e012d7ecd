"""How far the cells of a spreadsheet lie apart and how much they say, found before it is loaded.

A sheet is loaded as a rectangle from its first cell to its farthest, and a text said once may stand in a
million cells: a small file can fill the memory. What is counted here bounds that before anything is loaded.
"""

import re

from steelyard.desk.columns_in import MOST_COLUMNS
from steelyard.errors import InputRefused

MOST_ROWS = 100_000
"""Of a spreadsheet, which is loaded at once; a longer table comes as CSV."""
WIDEST = 2 * MOST_COLUMNS
"""Columns up to which cells may be scattered over a sheet, empty ones among them."""
MOST_CELLS = 2_000_000
"""Of the rectangles of all sheets together, empty cells among them: 20 columns of the most rows."""
MOST_ELEMENTS = 3 * MOST_CELLS
"""Of all parts together; a cell with its text in it is three."""
MOST_LETTERS = 128_000_000
"""Of the texts of all cells together, each counted as often as it stands there."""
KINDS = {
    "sheetData": "sheet",
    "table": "sheet",
    "row": "row",
    "table-row": "row",
    "c": "cell",
    "table-cell": "cell",
    "covered-table-cell": "cell",
    "si": "string",
}
"""Elements of XLSX and ODS by what they are; none stands inside another of its kind."""
FILLS = ("v", "is", "f", "p")
"""Elements without which a cell is empty."""
LETTERS = 26
A_COUNT = re.compile(r"[0-9]{1,7}")
A_CELL = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})")


class Totals:
    """What all parts of a spreadsheet hold together. name: of the file, for a refusal."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.elements = self.cells = self.laid = self.letters = 0
        self.strings: list[int] = []

    def refusal(self, wanted: str = "want-spreadsheet", **facts: object) -> InputRefused:
        """The refusal of this file, to be raised."""
        return InputRefused("file", self.name, wanted, **facts)

    def say(self, letters: int) -> None:
        """Texts of so many letters come as well."""
        self.letters += letters
        if self.letters > MOST_LETTERS:
            raise self.refusal("want-sheet-within", most=MOST_LETTERS // 1_000_000)

    def lay(self, cells: int) -> None:
        """So many cells of ODS are laid out as well, also empty ones that stand before others."""
        self.laid += cells
        if self.laid > MOST_CELLS:
            raise self.refusal("want-fewer-cells", most=MOST_CELLS)

    def refuse_area(self, rows: int, columns: int) -> None:
        """Refuse a rectangle that is too large by itself, or beside those of the other sheets."""
        if columns > WIDEST:
            raise self.refusal("want-fewer-columns", most=MOST_COLUMNS)
        if rows > MOST_ROWS + 1:
            raise self.refusal("want-fewer-rows", most=MOST_ROWS)
        if self.cells + rows * columns > MOST_CELLS:
            raise self.refusal("want-fewer-cells", most=MOST_CELLS)


class Spread:
    """How far the filled cells of one part lie apart. holds_strings: it is the list of shared texts."""

    def __init__(self, totals: Totals, *, holds_strings: bool) -> None:
        self._totals, self._holds_strings = totals, holds_strings
        self._open: set[str] = set()
        self._row = self._column = self._cell_row = 0
        self._rows_alike = self._cells_alike = 1
        self._is_row_filled = False
        self._tallest = self._widest = self._letters = 0
        self._shared: list[str] | None = None

    def declared(self, *_: object) -> None:
        """No document type and no instruction: entities could be hidden in it, cells behind it."""
        raise self._totals.refusal()

    def began(self, element: str, given: dict[str, str]) -> None:
        """One element: of XLSX `row`, `c` and what fills it; of ODS tables, rows and cells with repeats."""
        own = element.rpartition(":")[2]
        self._totals.elements += 1
        if self._totals.elements > MOST_ELEMENTS:
            raise self._totals.refusal("want-fewer-cells", most=MOST_CELLS)
        kind = KINDS.get(own)
        if kind is not None:
            self._open_one(kind)
            self._place(own, given)
        elif "cell" in self._open:
            if own in FILLS:
                self._fill()
            elif own == "s":  # of ODS: so many spaces
                self._letters += self._count(given.get("text:c"))

    def ended(self, element: str) -> None:
        """The end of one."""
        own = element.rpartition(":")[2]
        kind = KINDS.get(own)
        if kind is None:
            return
        self._open.discard(kind)
        if kind == "cell":
            self._totals.say(self._said() * self._rows_alike * self._cells_alike)
        elif kind == "string":
            self._totals.strings.append(self._letters)
        elif own == "table-row":
            self._totals.lay(
                (self._column - self._cells_alike) * (self._rows_alike * self._is_row_filled or 1)
            )
        elif kind == "sheet":
            self._totals.cells += self._tallest * self._widest
            self._tallest = self._widest = 0

    def text(self, piece: str) -> None:
        """A piece of text between two elements."""
        self._letters += len(piece)
        if self._shared is not None and "cell" in self._open:
            self._shared.append(piece)

    def _open_one(self, kind: str) -> None:
        if kind in self._open or (kind == "string") != self._holds_strings:
            raise self._totals.refusal()
        self._open.add(kind)

    def _place(self, own: str, given: dict[str, str]) -> None:
        if own == "c":
            self._at(given.get("r"))
            self._letters, self._shared = 0, [] if given.get("t") == "s" else None
        elif own in ("table-cell", "covered-table-cell"):
            self._repeat(given)
        elif own == "row":
            self._row = self._count(given.get("r"), self._row + 1)
            self._column, self._rows_alike, self._cells_alike = 0, 1, 1
        elif own == "table-row":
            self._rows_alike = self._count(given.get("table:number-rows-repeated"))
            self._row += self._rows_alike
            self._column = self._cells_alike = 0
            self._is_row_filled = False
        elif own == "si":
            self._letters = 0
        else:
            self._row = 0

    def _at(self, reference: str | None) -> None:
        if reference is None:
            self._column, self._cell_row = self._column + 1, self._row
            return
        found = A_CELL.fullmatch(reference)
        if found is None:
            raise self._totals.refusal()
        self._column = 0
        for letter in found[1].upper():
            self._column = LETTERS * self._column + ord(letter) - ord("A") + 1
        self._cell_row = int(found[2])

    def _repeat(self, given: dict[str, str]) -> None:
        self._cells_alike = self._count(given.get("table:number-columns-repeated"))
        self._column, self._cell_row = self._column + self._cells_alike, self._row
        told = [text for name, text in given.items() if name.startswith("office:") or name == "table:formula"]
        self._letters, self._shared = sum(map(len, told)), None
        if told:
            self._fill()

    def _fill(self) -> None:
        self._tallest = max(self._tallest, self._cell_row)
        self._widest = max(self._widest, self._column)
        self._is_row_filled = True
        self._totals.refuse_area(self._tallest, self._widest)

    def _said(self) -> int:
        """The letters of the cell that ends, or of the shared text it points at."""
        if self._shared is None:
            return self._letters
        place = "".join(self._shared).strip()
        if not place:
            return 0
        if not A_COUNT.fullmatch(place) or int(place) >= len(self._totals.strings):
            raise self._totals.refusal()
        return self._totals.strings[int(place)]

    def _count(self, given: str | None, usual: int = 1) -> int:
        if given is None:
            return usual
        if not A_COUNT.fullmatch(given):
            raise self._totals.refusal()
        return int(given)
