"""A table written as CSV, XLSX or JSON, piece by piece; the same rows give the same bytes.

Nothing is lost: what a form cannot hold is refused before its first byte. A text never becomes a formula, a
number or a link; docs/reference/tables.md says how each form does that.
"""

import csv
import json
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from itertools import chain
from typing import Any

from steelyard.errors import InputRefused
from steelyard.sheets.guarding import guarded
from steelyard.sheets.tables import CSV, FORM, FORMS, JSON, MARK, XLSX, Cell, Table, said
from steelyard.sheets.workbook import workbook_pieces

BYTE_ORDER_MARK = "\ufeff"
"""Without it the spreadsheet most people have reads N·m as NÂ·m."""
PIECE = 64_000
"""A piece is handed on once it is this long. [characters]"""


def written(table: Table, form: str) -> Iterator[bytes]:
    """The bytes of a file with a table, piece by piece; the first piece is made at once.

    form: of FORMS. What is refused at the first piece is so before anything was handed on.
    Raises InputRefused with the field `as`: for another form, or where a spreadsheet cannot hold the table.
    """
    if form not in FORMS:
        raise InputRefused("as", form, "want-one-of", names=", ".join(FORMS))
    pieces = WRITERS[form](table)
    return chain([next(pieces, b"")], pieces)


class _Pieces:
    """Takes texts and gives them back joined."""

    def __init__(self) -> None:
        self._held: list[str] = []
        self._length = 0

    @property
    def is_full(self) -> bool:
        """They are long enough to be handed on."""
        return self._length >= PIECE

    def write(self, text: str) -> None:
        """Take one more."""
        self._held.append(text)
        self._length += len(text)

    def taken(self) -> bytes:
        """All that was taken since, in UTF-8."""
        text = "".join(self._held)
        self._held, self._length = [], 0
        return text.encode()


def _csv_pieces(table: Table) -> Iterator[bytes]:
    """Source: RFC 4180; the mark before it and the guard are own choices, docs/decisions/0020-sheets.md."""
    pieces = _Pieces()
    pieces.write(BYTE_ORDER_MARK)
    writer = csv.writer(pieces, lineterminator="\r\n")
    writer.writerow([guarded(name) for name in table.columns])
    for row in table.rows:
        writer.writerow([guarded(cell) if isinstance(cell, str) else said(cell) for cell in row])
        if pieces.is_full:
            yield pieces.taken()
    yield pieces.taken()


def _json_pieces(table: Table) -> Iterator[bytes]:
    """Source: RFC 8259. A row on a line; a cell in which nothing stands is null."""
    pieces = _Pieces()
    head = json.dumps({MARK: FORM, "what": table.name, "columns": table.columns}, ensure_ascii=False)
    pieces.write(f'{head[:-1]}, "rows": [')
    mark = "\n"
    for row in table.rows:
        named = dict(zip(table.columns, map(_plain, row), strict=True))
        pieces.write(f"{mark}{json.dumps(named, ensure_ascii=False, allow_nan=False)}")
        mark = ",\n"
        if pieces.is_full:
            yield pieces.taken()
    pieces.write("\n]}\n")
    yield pieces.taken()


def _plain(cell: Cell) -> Any:
    return said(cell) if isinstance(cell, date) else cell


WRITERS: Mapping[str, Callable[[Table], Iterator[bytes]]] = {
    CSV: _csv_pieces,
    XLSX: workbook_pieces,
    JSON: _json_pieces,
}
