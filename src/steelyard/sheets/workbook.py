"""A table as an XLSX workbook of one sheet: texts as texts, numbers with all their digits, days as days."""

import tempfile
from collections.abc import Iterator
from datetime import UTC, date, datetime
from typing import IO, TYPE_CHECKING
from xml.sax.saxutils import escape

from steelyard.errors import InputRefused
from steelyard.sheets.tables import XLSX, Cell, Table, said

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

MOST_ROWS, LONGEST_CELL, MOST_COLUMNS = 1_048_576, 32_767, 16_384
"""Of a sheet, its head row among them; of a cell in UTF-16 units.

Source: Microsoft, Excel specifications and limits.
"""
EXACT_TO = 2**53
"""Whole numbers beyond it are no numbers in a spreadsheet any more: they come out as texts."""
FIRST_DAY = date(1900, 3, 1)
"""Days before it are counted differently by different spreadsheets; they come out as texts."""
MADE = datetime(2000, 1, 1, tzinfo=UTC)
"""Stands in every workbook as the time it was made, so that the same table gives the same bytes."""
DAY_FORM = "yyyy-mm-dd"
PIECE = 64_000
NARROWEST = 10
QUIET = {
    "constant_memory": True,
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
    "nan_inf_to_errors": False,
}


class _Whole(float):
    """A number that is written with all its digits, not with the sixteen the library would take."""

    def __format__(self, spec: str) -> str:
        return repr(float(self))


def workbook_pieces(table: Table) -> Iterator[bytes]:
    """The bytes of the workbook. Raises InputRefused (`as`) where a sheet cannot hold the table."""
    with tempfile.TemporaryFile() as file:
        _fill(file, table)
        file.seek(0)
        while piece := file.read(PIECE):
            yield piece


def _fill(file: IO[bytes], table: Table) -> None:
    from xlsxwriter import Workbook

    workbook = Workbook(file, QUIET)
    try:
        workbook.set_properties({"title": table.name, "created": MADE})
        sheet = workbook.add_worksheet(table.name)
        day_form = workbook.add_format({"num_format": DAY_FORM})
        sheet.freeze_panes(1, 0)
        if len(table.columns) > MOST_COLUMNS:
            raise InputRefused("as", XLSX, "want-form-without-bounds", most=MOST_COLUMNS)
        for place, name in enumerate(table.columns):
            sheet.set_column(place, place, max(NARROWEST, len(name) + 2))
        _write_row(sheet, 0, table.columns, workbook.add_format({"bold": True}), day_form=day_form)
        for number, row in enumerate(table.rows, 1):
            if number >= MOST_ROWS:
                raise InputRefused("as", XLSX, "want-form-without-rows", most=MOST_ROWS - 1)
            _write_row(sheet, number, row, None, day_form=day_form)
    finally:
        workbook.close()


def _write_row(
    sheet: "Worksheet",
    number: int,
    row: tuple[Cell, ...],
    text_form: "Format | None",
    *,
    day_form: "Format",
) -> None:
    for place, cell in enumerate(row):
        if cell is None or cell == "":
            continue
        if isinstance(cell, date) and cell >= FIRST_DAY:
            moment = datetime(cell.year, cell.month, cell.day, tzinfo=UTC).replace(tzinfo=None)
            sheet.write_datetime(number, place, moment, day_form)
        elif isinstance(cell, int | float) and abs(cell) <= EXACT_TO:
            sheet.write_number(number, place, cell if isinstance(cell, int) else _Whole(cell))
        else:
            sheet.write_string(number, place, _text(said(cell), number), text_form)


def _text(text: str, number: int) -> str:
    """The text, fit for a cell. Raises InputRefused where it is too long for one.

    The library writes what begins and ends like its own marks for a rich text as it stands; such a text is
    handed over as a rich text of one piece. Control characters, and the two that no XML may hold, it writes
    as `_x0007_`.
    Source: ISO/IEC 29500-1, 22.9.2.19 (ST_Xstring, from memory).
    """
    if len(text.encode("utf-16-le")) // 2 > LONGEST_CELL:
        raise InputRefused("as", XLSX, "want-form-without-cells", row=number, most=LONGEST_CELL)
    if text.startswith("<r>") and text.endswith("</r>"):
        return f'<r><t xml:space="preserve">{escape(text)}</t></r>'
    return text
