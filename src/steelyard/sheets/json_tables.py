"""A table in JSON: as `writing.py` writes it, or a bare list of objects."""

import json
from typing import Any

from steelyard.desk.columns_in import MOST_COLUMNS, Counted, Row
from steelyard.errors import InputRefused

TABLE_FORM = "steelyard_table"
TABLE_VERSION = 1
LARGEST_JSON = 16_000_000
"""It is read at once. [bytes]"""


def json_table(content: bytes, name: str) -> tuple[str, tuple[str, ...], list[Row]]:
    """What it says it holds, its columns in the order they come, its rows numbered from 1.

    Raises InputRefused (`file`).
    """
    if len(content) > LARGEST_JSON:
        raise InputRefused("file", name, "want-table-within", most=LARGEST_JSON // 1_000_000)
    try:
        table = json.loads(content.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise InputRefused("file", name, "want-utf-8") from None
    except (ValueError, RecursionError):
        raise InputRefused("file", name, "want-json-table") from None
    what, listed = _listed(table, name)
    rows: list[Row] = [(number, _texts(row, number)) for number, row in enumerate(listed, 1)]
    columns: dict[str, None] = {}
    for _, row in rows:
        columns |= dict.fromkeys(row)
        if len(columns) > MOST_COLUMNS:
            raise InputRefused("file", name, "want-fewer-columns", most=MOST_COLUMNS)
    return what, tuple(columns), rows


def _listed(table: Any, name: str) -> tuple[str, list[Any]]:
    what = ""
    if isinstance(table, dict):
        if table.get(TABLE_FORM) != TABLE_VERSION:
            raise InputRefused("file", name, "want-json-table")
        what, table = str(table.get("what", "")), table.get("rows")
    if not isinstance(table, list):
        raise InputRefused("file", name, "want-json-table")
    return what, table


def _texts(row: Any, number: int) -> dict[str, str]:
    if not isinstance(row, dict):
        raise InputRefused(f"row {number}", row, "want-json-row")
    return {str(name).strip(): _text(value, f"row {number}, {name}") for name, value in row.items()}


def _text(value: Any, field: str) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return Counted(value)
    if isinstance(value, list) and all(isinstance(part, str) for part in value):
        return ",".join(value)
    if not isinstance(value, str):
        raise InputRefused(field, value, "want-text")
    return value
