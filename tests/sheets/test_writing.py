"""Tables as files: read back by others they hold what went out, and the same table is the same bytes."""

import csv
import io
import json
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from steelyard.errors import InputRefused
from steelyard.sheets import workbook
from steelyard.sheets.guarding import unguarded
from steelyard.sheets.tables import FORMS, Cell, Table
from steelyard.sheets.writing import written

COLUMNS = ("one", "two")
HOSTILE = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1",
    "'=1",
    "''=1",
    'say "so", he said',
    "two\r\nlines",
    "two\nlines",
    "<r><t>x</t></r>",
    "<r>&<b></r>",
    "_x0041_",
    "http://127.0.0.1/",
    "mailto:a@b",
    "{=1}",
    "007",
    "1e5",
    "TRUE",
    "#N/A",
    " room ",
    "N·m ± 5 °C",
    "\u202e\u200f",
    "𝄞",
    "]]>",
)
"""Texts that a careless writer or a careless reader takes for something else."""
CONTROLS = ("bell\x07", "\x00", "\x01", "\x1f", "\x7f", "\x85", "line\rfeed")
texts = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\ufffe\uffff"), max_size=12)
cells = st.one_of(
    st.none(),
    texts,
    st.integers(-(2**70), 2**70),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dates(),
)
rows_of_cells = st.lists(st.tuples(cells, cells), max_size=6)


def content(rows: Iterable[tuple[Cell, ...]], form: str, columns: tuple[str, ...] = COLUMNS) -> bytes:
    """The file of a table."""
    return b"".join(written(Table("rack", columns, iter(rows)), form))


def csv_rows(file: bytes) -> list[list[str]]:
    """As the csv module of the library reads it, guards taken away; the head left out."""
    _, *rows = csv.reader(io.StringIO(file.decode("utf-8-sig"), newline=""), strict=True)
    return [[unguarded(cell) for cell in row] for row in rows]


def xlsx_rows(file: bytes) -> list[list[Any]]:
    """As an independent reader reads it; the head left out."""
    _, *rows = CalamineWorkbook.from_filelike(io.BytesIO(file)).get_sheet_by_index(0).to_python()
    return rows


def said(cell: Cell) -> str:
    """What stands in a CSV file."""
    return "" if cell is None else cell if isinstance(cell, str) else str(cell)


@given(rows_of_cells)
@example([("\r", "\n"), (None, "")])
def test_csv_holds_every_cell(rows: list[tuple[Cell, ...]]) -> None:
    assert csv_rows(content(rows, "csv")) == [[said(cell) for cell in row] for row in rows]


@given(rows_of_cells)
def test_json_holds_every_cell(rows: list[tuple[Cell, ...]]) -> None:
    read = json.loads(content(rows, "json"))
    assert (read["steelyard_table"], read["what"], read["columns"]) == (1, "rack", list(COLUMNS))
    plain = [[cell.isoformat() if isinstance(cell, date) else cell for cell in row] for row in rows]
    assert [[row[name] for name in COLUMNS] for row in read["rows"]] == plain


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(texts, st.floats(allow_nan=False, allow_infinity=False)), min_size=1, max_size=5))
def test_xlsx_holds_texts_and_numbers_to_the_last_digit(rows: list[tuple[str, float]]) -> None:
    read = xlsx_rows(content([("mark", 1.0), *rows], "xlsx"))[1:]
    for (text, number), row in zip(rows, read, strict=True):
        assert row[0] == text
        assert row[1] == (number if abs(number) <= workbook.EXACT_TO else repr(number))


@pytest.mark.parametrize("text", [*HOSTILE, *CONTROLS])
@pytest.mark.parametrize("form", FORMS)
def test_a_hostile_text_comes_out_as_the_text_it_is(text: str, form: str) -> None:
    file = content([(text, "after")], form)
    if form == "json":
        (row,) = json.loads(file)["rows"]
        assert row == {"one": text, "two": "after"}
    else:
        assert (csv_rows if form == "csv" else xlsx_rows)(file) == [[text, "after"]]


@pytest.mark.parametrize("text", [text for text in HOSTILE if text.strip()])
def test_no_text_is_a_formula_or_a_link_in_a_workbook(text: str) -> None:
    with zipfile.ZipFile(io.BytesIO(content([(text, None)], "xlsx"))) as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml").decode()
        assert "<f>" not in sheet and "<f " not in sheet and "hyperlink" not in sheet
        assert not any("rels" in name and "sheet" in name for name in archive.namelist())


def test_hostile_texts_stand_in_the_head_too() -> None:
    head = ("=1+1", "\tx")
    first = next(csv.reader(io.StringIO(content([], "csv", head).decode("utf-8-sig"), newline="")))
    assert first == ["'=1+1", "'\tx"]
    sheet = CalamineWorkbook.from_filelike(io.BytesIO(content([], "xlsx", head))).get_sheet_by_index(0)
    assert sheet.to_python() == [list(head)]


def test_numbers_are_numbers_only_where_they_came_as_numbers() -> None:
    ((typed, counted),) = xlsx_rows(content([("12.50", 12.5)], "xlsx"))
    assert (typed, counted) == ("12.50", 12.5)
    ((long, day),) = xlsx_rows(content([(2**60, date(2026, 11, 25))], "xlsx"))
    assert (long, day) == (str(2**60), date(2026, 11, 25))
    ((early, late),) = xlsx_rows(content([(date(1899, 12, 31), date(9999, 12, 31))], "xlsx"))
    assert (early, late) == ("1899-12-31", date(9999, 12, 31))


@pytest.mark.parametrize("form", FORMS)
def test_what_is_no_number_at_all_is_our_own_mistake(form: str) -> None:
    with pytest.raises(ValueError, match="(?i)nan|not JSON"):
        content([(float("nan"), None)], form)


@pytest.mark.parametrize("text", ["\ufffe", "\uffff"])
def test_what_no_xml_may_hold_stands_in_a_workbook_as_its_number(text: str) -> None:
    assert xlsx_rows(content([(text, "x")], "xlsx")) == [[f"_x{ord(text):04X}_", "x"]]


def test_csv_is_as_the_standard_has_it() -> None:
    file = content([("a", 'b "c", d')], "csv")  # RFC 4180, section 2, rules 1, 3, 6 and 7
    assert file == b'\xef\xbb\xbfone,two\r\na,"b ""c"", d"\r\n'


def test_the_head_row_of_a_workbook_stays_in_sight() -> None:
    with zipfile.ZipFile(io.BytesIO(content([], "xlsx"))) as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml").decode()
    assert '<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/>' in sheet


@pytest.mark.parametrize("form", FORMS)
def test_the_same_table_is_the_same_bytes(form: str) -> None:
    rows = [("a", 1.5), ("b", None)]
    assert content(rows, form) == content(rows, form)


def test_no_hour_of_making_stands_in_a_workbook() -> None:
    with zipfile.ZipFile(io.BytesIO(content([], "xlsx"))) as archive:
        said = archive.read("docProps/core.xml").decode()
        assert re.findall(r"\d{4}-\d\d-\d\dT[^<]+", said) == ["2000-01-01T00:00:00Z"] * 2
        assert {part.date_time[0] for part in archive.infolist()} == {1980}


class TestBounds:
    def test_a_text_too_long_for_a_cell_is_refused_with_its_row(self) -> None:
        just = "x" * 32_767
        assert xlsx_rows(content([(just, None)], "xlsx"))[0][0] == just
        for long in (just + "x", "𝄞" * 16_384):
            with pytest.raises(InputRefused, match="row 2") as refused:
                content([("fits", None), (long, None)], "xlsx")
            assert refused.value.field == "as"
            assert content([(long, None)], "csv") and content([(long, None)], "json")

    def test_more_rows_than_a_sheet_holds_are_refused(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(workbook, "MOST_ROWS", 4)
        assert len(xlsx_rows(content([("a", 1)] * 3, "xlsx"))) == 3
        with pytest.raises(InputRefused, match="3 rows"):
            content([("a", 1)] * 4, "xlsx")

    def test_more_columns_than_a_sheet_holds_are_refused(self) -> None:
        with pytest.raises(InputRefused, match="columns"):
            content([], "xlsx", tuple(f"c{i}" for i in range(16_385)))

    def test_another_form_is_refused_before_anything_is_read(self) -> None:
        def rows() -> Iterator[tuple[Cell, ...]]:
            raise AssertionError("it was read")
            yield ()

        with pytest.raises(InputRefused, match="csv, xlsx, json"):
            written(Table("rack", COLUMNS, rows()), "ods")

    def test_it_is_refused_before_the_first_piece_is_handed_on(self) -> None:
        with pytest.raises(InputRefused):
            written(Table("rack", COLUMNS, iter([("x" * 40_000, None)])), "xlsx")


MEASURE = """
import resource, sys
from datetime import date
from steelyard.sheets.tables import Table
from steelyard.sheets.writing import written
form, count = sys.argv[1], int(sys.argv[2])
rows = ((f"T-{i}", "a text of the usual length, 60 N·m", i / 7, date(2026, 11, 25)) for i in range(count))
size = sum(map(len, written(Table("pulls", ("a", "b", "c", "d"), rows), form)))
print(size, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
"""Prints the size of the file [bytes] and the most memory that was held [kB]."""


def most_memory_kilobytes(form: str, count: int) -> float:
    """Of a program of its own that writes so many rows. [kB]"""
    command: Sequence[str] = [sys.executable, "-c", MEASURE, form, str(count)]
    answer = subprocess.run(command, capture_output=True, text=True, check=True)
    return float(answer.stdout.split()[1])


def memory_stays(form: str, count: int) -> None:
    """Raise where a hundred times the rows take more memory than a tenth on top."""
    few, many = most_memory_kilobytes(form, count // 100), most_memory_kilobytes(form, count)
    if many > 1.1 * few:
        raise AssertionError(f"{form}: {many:.0f} kB for {count} rows, {few:.0f} kB for a hundredth")


@pytest.mark.parametrize("form", FORMS)
def test_memory_does_not_grow_with_the_rows(form: str) -> None:
    memory_stays(form, 5_000)


@pytest.mark.long
@pytest.mark.parametrize("form", FORMS)
def test_memory_does_not_grow_with_three_hundred_thousand_rows(form: str) -> None:
    memory_stays(form, 300_000)


def test_days_go_out_as_days_and_come_back() -> None:
    days = [date(2026, 1, 1) + timedelta(days=i) for i in range(0, 400, 37)]
    read = xlsx_rows(content([(day, "x") for day in days], "xlsx"))
    assert [row[0] for row in read] == days


def test_nothing_is_left_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    content([("a", 1)] * 1000, "xlsx")
    with pytest.raises(InputRefused):
        content([("x" * 40_000, 1)], "xlsx")
    assert list(tmp_path.iterdir()) == []
