"""A table out of a file: CSV as a stream, a spreadsheet or JSON at once but within bounds; every cell a text.

A formula is never worked out: what a spreadsheet kept as its value is the text. Cells are not judged here.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from steelyard.desk.columns_in import MOST_COLUMNS, Row
from steelyard.errors import InputRefused
from steelyard.sheets.guarding import unguarded

LARGEST_FILE = 64_000_000
"""Of any file that is read. [bytes]"""
MARKS = ",;\t"
"""What may stand between two cells of a CSV file."""
SAID_MARK = "sep="
"""A first line some spreadsheets write to say which mark follows."""
FIRST_BYTES = 65_536
"""Of a file, to find out what it is. [bytes]"""
ZIP, OLD_SPREADSHEET = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
WIDE = (b"\xff\xfe", b"\xfe\xff")
"""A file in UTF-16 begins with one of these."""

Numbered = tuple[int, Sequence[str]]


@dataclass(frozen=True)
class Sheet:
    """A table of a file, once opened.

    columns: as its first row names them. rows: number of the row in the file and its texts by column, empty
    rows left out; read once. count: how many rows there are. what: what it says it holds, empty where it does
    not say.
    """

    columns: tuple[str, ...]
    rows: Iterator[Row]
    count: int
    what: str = ""


@contextmanager
def opened_sheet(path: Path) -> Iterator[Sheet]:
    """The table in a file, open as long as its rows are read.

    Raises InputRefused (`file`) for what is no such file, too large or not in UTF-8, from the rows too.
    """
    try:
        with path.open("rb") as file, io.TextIOWrapper(file, encoding="utf-8-sig", newline="") as text:
            yield _sheet(file, text, path)
    except UnicodeDecodeError:
        raise InputRefused("file", path.name, "want-utf-8") from None
    except OSError:
        raise InputRefused("file", path.name, "want-readable-file") from None


def _sheet(file: BinaryIO, text: io.TextIOWrapper, path: Path) -> Sheet:
    if path.stat().st_size > LARGEST_FILE:
        raise InputRefused("file", path.name, "want-table-within", most=LARGEST_FILE // 1_000_000)
    begins = file.read(FIRST_BYTES)
    file.seek(0)
    if begins.startswith(OLD_SPREADSHEET):
        raise InputRefused("file", path.name, "want-new-spreadsheet")
    if begins.startswith(WIDE):
        raise InputRefused("file", path.name, "want-utf-8")
    if begins.startswith(ZIP):
        from steelyard.sheets.spreadsheets import spreadsheet_records

        records = spreadsheet_records(file, path.name)
        return _at_once(records, path.name)
    if begins.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in (b"{", b"["):
        from steelyard.sheets.json_tables import json_table

        what, columns, rows = json_table(file.read(), path.name)
        return Sheet(_columns(columns, path.name), iter(rows), len(rows), what)
    return _csv(text, path.name)


def _at_once(records: Sequence[Sequence[str]], name: str) -> Sheet:
    columns, rows = _rows(records, name)
    count = sum(1 for record in records if any(record)) - 1
    return Sheet(columns, _named(columns, rows), count)


def _csv(text: io.TextIOWrapper, name: str) -> Sheet:
    mark, is_said = _mark(text)
    count = -1
    for record in _records(text, mark, is_said=is_said):
        count += any(record)
    columns, rows = _rows(_records(text, mark, is_said=is_said), name)
    kept = ((number, [unguarded(cell) for cell in cells]) for number, cells in rows)
    return Sheet(columns, _named(columns, kept), count)


def _mark(text: io.TextIOWrapper) -> tuple[str, bool]:
    """The mark that stands most often in the first line, and whether that line says nothing but the mark."""
    line = ""
    while not line.strip():
        line = text.readline(FIRST_BYTES)
        if not line:
            return MARKS[0], False
    if line.startswith(SAID_MARK):
        said = line.removeprefix(SAID_MARK).strip("\r\n")
        if said not in tuple(MARKS):
            raise InputRefused("file", line.strip(), "want-said-mark")
        return said, True
    outside = "".join(line.split('"')[::2])
    return max(MARKS, key=outside.count), False


def _records(text: io.TextIOWrapper, mark: str, *, is_said: bool) -> Iterator[list[str]]:
    """Every record from the beginning. Raises InputRefused with the row that breaks the rules of quotes."""
    text.seek(0)
    reader = csv.reader(text, delimiter=mark, strict=True)
    number = 0
    try:
        for record in reader:
            number += 1
            yield [] if is_said and number == 1 else record
    except csv.Error:
        raise InputRefused(f"row {number + 1}", None, "want-csv-record") from None


def _rows(records: Iterable[Sequence[str]], name: str) -> tuple[tuple[str, ...], Iterator[Numbered]]:
    """The columns, then number and cells of each row in which something stands."""
    numbered = ((number, record) for number, record in enumerate(records, 1) if any(record))
    head = next(numbered, None)
    if head is None:
        raise InputRefused("file", name, "want-table-in-file")
    return _columns(head[1], name), numbered


def _columns(head: Sequence[str], name: str) -> tuple[str, ...]:
    columns = [cell.strip() for cell in head]
    while columns and not columns[-1]:
        columns.pop()
    if len(columns) > MOST_COLUMNS:
        raise InputRefused("file", name, "want-fewer-columns", most=MOST_COLUMNS)
    return tuple(columns)


def _named(columns: Sequence[str], rows: Iterable[Numbered]) -> Iterator[Row]:
    """The rows by the names of their columns; what stands outside of them by its place."""
    for number, cells in rows:
        named: dict[str, str] = dict(zip(columns, cells, strict=False))
        for place, cell in enumerate(cells[len(columns) :], len(columns) + 1):
            if cell:
                named[f"column {place}"] = cell
        yield number, named
