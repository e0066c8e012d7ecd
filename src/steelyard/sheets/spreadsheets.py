"""The first sheet of an XLSX or ODS file, its cells as texts; looked through before it is loaded at once."""

import zipfile
from datetime import date, datetime, time
from typing import Any, BinaryIO
from xml.parsers import expat

from steelyard.desk.columns_in import MOST_COLUMNS, Counted
from steelyard.errors import InputRefused

LARGEST_UNPACKED = 256_000_000
"""Of all parts of a spreadsheet together, as its list of parts says. [bytes]"""
MOST_ROWS = 100_000
"""Of a spreadsheet, which is loaded at once; a longer table comes as CSV."""
WIDEST = 2 * MOST_COLUMNS
"""Columns up to which cells may be scattered over a sheet, empty ones among them."""
PIECE = 1 << 16
"""Of a part, looked through at once. [bytes]"""
FILLS = ("v", "is", "f")
"""Elements of XLSX without which a cell is empty."""
LETTERS = 26
CONTENT = "content.xml"
"""Where an ODS file keeps its sheets."""
SHEETS = "xl/worksheets/"
A_PART_OF_XLSX = "xl/workbook.xml"


def spreadsheet_records(file: BinaryIO, name: str) -> list[list[str]]:
    """Every row of the first sheet. Raises InputRefused (`file`)."""
    from python_calamine import CalamineError, CalamineWorkbook, PasswordError

    try:
        _look_through(file, name)
        file.seek(0)
        with CalamineWorkbook.from_filelike(file) as book:
            sheet = book.get_sheet_by_index(0)
            if sheet.total_height > MOST_ROWS + 1:
                raise InputRefused("file", name, "want-fewer-rows", most=MOST_ROWS)
            if sheet.total_width > WIDEST:
                raise InputRefused("file", name, "want-fewer-columns", most=MOST_COLUMNS)
            return [[_text(cell) for cell in row] for row in sheet.to_python(skip_empty_area=False)]
    except (CalamineError, PasswordError, zipfile.BadZipFile, expat.ExpatError, NotImplementedError):
        raise InputRefused("file", name, "want-spreadsheet") from None
    except (RuntimeError, IndexError, ValueError) as error:
        if isinstance(error, InputRefused):
            raise
        raise InputRefused("file", name, "want-spreadsheet") from None


def _look_through(file: BinaryIO, name: str) -> None:
    """Refuse what would not fit once it is unpacked: sizes, scattered cells, repeats, declared entities."""
    with zipfile.ZipFile(file) as packed:
        parts = packed.infolist()
        if sum(part.file_size for part in parts) > LARGEST_UNPACKED:
            raise InputRefused("file", name, "want-sheet-within", most=LARGEST_UNPACKED // 1_000_000)
        names = {part.filename for part in parts}
        if not names & {A_PART_OF_XLSX, CONTENT}:
            raise InputRefused("file", name, "want-spreadsheet")
        for part in parts:
            if part.filename == CONTENT or part.filename.startswith(SHEETS):
                _look_at_part(packed, part, name)


def _look_at_part(packed: zipfile.ZipFile, part: zipfile.ZipInfo, name: str) -> None:
    parser, seen = expat.ParserCreate(), _Spread(name)
    parser.StartElementHandler = seen.began
    parser.StartDoctypeDeclHandler = seen.declared
    left = part.file_size
    with packed.open(part) as xml:
        while left > 0 and (piece := xml.read(min(PIECE, left))):
            left -= len(piece)
            parser.Parse(piece)
    parser.Parse(b"", True)


class _Spread:
    """How far the filled cells of the sheets lie apart. name: of the file, for a refusal."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._row = self._column = 0

    def declared(self, *_: object) -> None:
        """A spreadsheet declares no document type: entities could be hidden in it."""
        raise InputRefused("file", self._name, "want-spreadsheet")

    def began(self, element: str, given: dict[str, str]) -> None:
        """One element: of XLSX `row`, `c` and what fills it; of ODS tables, rows and cells with repeats."""
        _, _, own = element.rpartition(":")
        if own in ("table", "sheetData"):
            self._row = 0
        elif own in ("row", "table-row"):
            self._row = int(given.get("r") or self._row + int(given.get("table:number-rows-repeated", "1")))
            self._column = 0
        elif own == "c":
            self._at(given.get("r", ""))
        elif own in ("table-cell", "covered-table-cell"):
            self._column += int(given.get("table:number-columns-repeated", "1"))
        if own in FILLS or "office:value-type" in given:
            self._refuse_beyond()

    def _at(self, reference: str) -> None:
        letters = reference.rstrip("0123456789")
        column = 0
        for letter in letters.upper():
            column = LETTERS * column + ord(letter) - ord("A") + 1
        self._column = column or self._column + 1
        self._row = int(reference[len(letters) :] or self._row)

    def _refuse_beyond(self) -> None:
        if self._column > WIDEST:
            raise InputRefused("file", self._name, "want-fewer-columns", most=MOST_COLUMNS)
        if self._row > MOST_ROWS + 1:
            raise InputRefused("file", self._name, "want-fewer-rows", most=MOST_ROWS)


def _text(cell: Any) -> str:
    """A cell as a person would have typed it."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float | int):
        return Counted(cell)
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(" ")
    if isinstance(cell, date | time):
        return cell.isoformat()
    return str(cell)
