"""A table in JSON: as `writing.py` writes it, or a bare list of objects."""

import json
from typing import Any

from steelyard.desk.columns_in import MOST_COLUMNS, Counted, Row
from steelyard.errors import InputRefused

TABLE_FORM = "steelyard_table"
TABLE_VERSION = 1
LARGEST_JSON = 16_000_000
"""It is read at once. [bytes]"""
MOST_OPENED = 400_000
"""Braces and brackets that open in it; a row has one, and a list in a cell another."""


def json_table(content: bytes, name: str) -> tuple[str, tuple[str, ...], list[Row]]:
    """What it says it holds, its columns in the order they come, its rows numbered from 1.

    Raises InputRefused (`file`).
    """
    if len(content) > LARGEST_JSON:
        raise InputRefused("file", name, "want-table-within", most=LARGEST_JSON // 1_000_000)
    if content.count(b"{") + content.count(b"[") > MOST_OPENED:
        raise InputRefused("file", name, "want-fewer-rows", most=MOST_OPENED)
    try:
        table = json.loads(content.decode("utf-8-sig"), object_pairs_hook=_object)
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
        what, table = _whole(str(table.get("what", "")), "what"), table.get("rows")
    if not isinstance(table, list):
        raise InputRefused("file", name, "want-json-table")
    return what, table


class _Twice:
    """An object in which a name stands twice."""

    def __init__(self, name: str) -> None:
        self.name = name


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any] | _Twice:
    """An object by its names without the spaces around them."""
    named: dict[str, Any] = {}
    for name, value in pairs:
        bare = name.strip()
        if bare in named:
            return _Twice(bare)
        named[bare] = value
    return named


def _texts(row: Any, number: int) -> dict[str, str]:
    if isinstance(row, _Twice):
        raise InputRefused(f"row {number}", row.name, "want-column-once")
    if not isinstance(row, dict):
        raise InputRefused(f"row {number}", row, "want-json-row")
    names = [_whole(name, f"row {number}") for name in row]
    return {name: _text(row[name], f"row {number}, {name}") for name in names}


def _whole(text: str, field: str) -> str:
    """The text, if it can be kept. Raises InputRefused where half a character stands in it."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise InputRefused(field, text, "want-whole-characters") from None
    return text


def _text(value: Any, field: str) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return Counted(value)
    if isinstance(value, list) and all(isinstance(part, str) for part in value):
        return _whole(",".join(value), field)
    if not isinstance(value, str):
        raise InputRefused(field, value.name if isinstance(value, _Twice) else value, "want-text")
    return _whole(value, field)
