"""The first sheet of an XLSX or ODS file, its cells as texts; looked through before it is loaded at once."""

import zipfile
import zlib
from datetime import date, datetime, time
from typing import Any, BinaryIO
from xml.parsers import expat

from steelyard.desk.columns_in import MOST_COLUMNS, Counted
from steelyard.errors import InputRefused
from steelyard.sheets.looked_through import looked_through
from steelyard.sheets.spread import MOST_ROWS, WIDEST

BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, expat.ExpatError, NotImplementedError)
"""What the readers of zips and of XML raise at what breaks off or was tampered with."""


def spreadsheet_records(file: BinaryIO, name: str) -> list[list[str]]:
    """Every row of the first sheet. Raises InputRefused (`file`)."""
    from python_calamine import CalamineError, CalamineWorkbook, PasswordError

    try:
        seen = looked_through(file, name)
        with CalamineWorkbook.from_filelike(seen) as book:
            sheet = book.get_sheet_by_index(0)
            if sheet.total_height > MOST_ROWS + 1:
                raise InputRefused("file", name, "want-fewer-rows", most=MOST_ROWS)
            if sheet.total_width > WIDEST:
                raise InputRefused("file", name, "want-fewer-columns", most=MOST_COLUMNS)
            return [[_text(cell) for cell in row] for row in sheet.to_python(skip_empty_area=False)]
    except (CalamineError, PasswordError, *BROKEN):
        raise InputRefused("file", name, "want-spreadsheet") from None
    except (RuntimeError, IndexError, ValueError) as error:
        if isinstance(error, InputRefused):
            raise
        raise InputRefused("file", name, "want-spreadsheet") from None


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
