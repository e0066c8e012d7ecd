"""A table as a file takes it: the form of the file, and how each cell is said in a text."""

import math
from datetime import date

from steelyard.desk.table import Cell, Table

__all__ = ["FORM", "FORMS", "MARK", "MEDIA_TYPES", "Cell", "Table", "said"]

CSV, XLSX, JSON = FORMS = ("csv", "xlsx", "json")
MEDIA_TYPES = {
    CSV: "text/csv; charset=utf-8",
    XLSX: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    JSON: "application/json",
}
MARK, FORM = "steelyard_table", 1
"""The first key of a table in JSON, and its value."""


def said(cell: Cell) -> str:
    """A cell as a text: numbers with a point and all their digits, days as `2026-11-25`, nothing empty.

    Raises ValueError for nan and inf: the caller's bug.
    """
    if cell is None:
        return ""
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, float) and not math.isfinite(cell):
        raise ValueError(cell)
    return cell if isinstance(cell, str) else repr(cell)
