"""Rows out of files: CSV, spreadsheets and JSON, the forms people save them in, and what is refused."""

import json
import zipfile
from datetime import date
from pathlib import Path

import pytest
from xlsxwriter import Workbook

from steelyard.desk.columns_in import Counted, Row
from steelyard.errors import InputRefused
from steelyard.sheets.guarding import guarded
from steelyard.sheets.reading import opened_sheet

HOSTILE = ("=cmd|' /C calc'!A1", "+1+1", "@SUM(A1)", "<b>bold</b>", "&lt;", "\u202eright to left")


def rows(path: Path) -> list[Row]:
    with opened_sheet(path) as sheet:
        found = list(sheet.rows)
        assert len(found) == sheet.count
        return found


def written(tmp_path: Path, content: str | bytes, name: str = "list.csv") -> Path:
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def refused(path: Path) -> InputRefused:
    with pytest.raises(InputRefused) as caught:
        rows(path)
    return caught.value


class TestCsv:
    @pytest.mark.parametrize("mark", [",", ";", "\t"])
    @pytest.mark.parametrize("begins", ["", "\ufeff"])
    def test_each_mark_is_found_out(self, tmp_path: Path, mark: str, begins: str) -> None:
        text = begins + mark.join(["number", "highest"]) + "\r\n" + mark.join(["T-01", '"50.2 N·m"']) + "\r\n"
        assert rows(written(tmp_path, text)) == [(2, {"number": "T-01", "highest": "50.2 N·m"})]

    def test_a_decimal_comma_is_no_mark_between_cells(self, tmp_path: Path) -> None:
        assert rows(written(tmp_path, "number;highest\nT-01;50,2")) == [
            (2, {"number": "T-01", "highest": "50,2"})
        ]

    def test_a_first_line_that_says_the_mark_is_no_row(self, tmp_path: Path) -> None:
        assert rows(written(tmp_path, "sep=;\nnumber;kind\nT-01;dial\n")) == [
            (3, {"number": "T-01", "kind": "dial"})
        ]

    @pytest.mark.parametrize("line", ["sep=", "sep=,;", "sep=|", "sep=;;"])
    def test_a_first_line_that_says_no_mark_is_refused(self, tmp_path: Path, line: str) -> None:
        assert refused(written(tmp_path, f"{line}\na,b\n1,2\n")).wanted == "want-said-mark"

    def test_quotes_breaks_and_blank_lines(self, tmp_path: Path) -> None:
        text = '\n\nnumber,notes\nT-01,"two ""lines""\nof text, and a comma"\n\n,\nT-02,\n'
        assert rows(written(tmp_path, text)) == [
            (4, {"number": "T-01", "notes": 'two "lines"\nof text, and a comma'}),
            (7, {"number": "T-02", "notes": ""}),
        ]

    def test_a_short_row_has_fewer_cells_and_a_long_one_says_where_they_stand(self, tmp_path: Path) -> None:
        found = rows(written(tmp_path, "a,b\n1\n1,2,3\n"))
        assert found == [(2, {"a": "1"}), (3, {"a": "1", "b": "2", "column 3": "3"})]

    @pytest.mark.parametrize("text", HOSTILE)
    def test_what_begins_like_a_formula_comes_back_as_it_was(self, tmp_path: Path, text: str) -> None:
        assert rows(written(tmp_path, f'notes\n"{guarded(text)}"\n')) == [(2, {"notes": text})]

    @pytest.mark.parametrize("content", ["Maße;1\n".encode("cp1252"), "a,b\n1,2".encode("utf-16")])
    def test_another_encoding_is_refused(self, tmp_path: Path, content: bytes) -> None:
        assert refused(written(tmp_path, content)).wanted == "want-utf-8"

    def test_another_encoding_far_down_is_refused_too(self, tmp_path: Path) -> None:
        content = b"number\n" + b"T-01\n" * 50_000 + b"\xff\n"
        assert refused(written(tmp_path, content)).wanted == "want-utf-8"

    def test_a_quote_that_is_never_closed_names_its_row(self, tmp_path: Path) -> None:
        trouble = refused(written(tmp_path, 'number\nT-01\n"T-02\n'))
        assert (trouble.field, trouble.wanted) == ("row 3", "want-csv-record")

    @pytest.mark.parametrize("text", ["", "\n\n", ",,\n"])
    def test_a_file_without_a_table_is_refused(self, tmp_path: Path, text: str) -> None:
        assert refused(written(tmp_path, text)).wanted == "want-table-in-file"

    def test_too_many_columns_are_refused(self, tmp_path: Path) -> None:
        assert refused(written(tmp_path, ",".join(map(str, range(129))))).wanted == "want-fewer-columns"

    def test_a_file_that_is_too_large_is_not_read(self, tmp_path: Path) -> None:
        path = tmp_path / "list.csv"
        with path.open("wb") as file:
            file.truncate(64_000_001)
        assert refused(path).wanted == "want-table-within"

    def test_a_file_that_is_not_there_is_refused(self, tmp_path: Path) -> None:
        assert refused(tmp_path / "none.csv").wanted == "want-readable-file"

    def test_a_spreadsheet_of_the_old_form_is_refused(self, tmp_path: Path) -> None:
        assert (
            refused(written(tmp_path, b"\xd0\xcf\x11\xe0\xa1\xb1", "a.xls")).wanted == "want-new-spreadsheet"
        )


def spreadsheet(tmp_path: Path) -> Path:
    path = tmp_path / "list.xlsx"
    with Workbook(path) as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["number", "highest", "mass", "day", "sum", "flag"])
        sheet.write_number(2, 0, 12)
        sheet.write_number(2, 1, 50.2)
        sheet.write_number(2, 2, 0.1 + 0.2)
        sheet.write_datetime(2, 3, date(2026, 11, 20), book.add_format({"num_format": "yyyy-mm-dd"}))
        sheet.write_formula(2, 4, "=A3*2", value=24)
        sheet.write_boolean(2, 5, True)
        sheet.write_string(3, 0, "=1+1")
    return path


class TestSpreadsheets:
    def test_numbers_days_and_flags_come_as_they_would_be_typed(self, tmp_path: Path) -> None:
        found = rows(spreadsheet(tmp_path))
        assert found[0] == (
            3,
            {
                "number": "12",
                "highest": "50.2",
                "mass": "0.3",
                "day": "2026-11-20",
                "sum": "24",
                "flag": "yes",
            },
        )

    def test_a_text_that_looks_like_a_formula_stays_a_text(self, tmp_path: Path) -> None:
        assert rows(spreadsheet(tmp_path))[1][1]["number"] == "=1+1"

    def test_a_number_is_known_as_one(self, tmp_path: Path) -> None:
        cells = rows(spreadsheet(tmp_path))[0][1]
        assert isinstance(cells["highest"], Counted) and not isinstance(cells["day"], Counted)

    @pytest.mark.parametrize(("row", "column"), [(0, 16_383), (1_048_575, 0)])
    def test_a_cell_far_out_is_refused_before_the_sheet_is_loaded(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, row: int, column: int
    ) -> None:
        monkeypatch.setattr("python_calamine.CalamineWorkbook", None)
        path = tmp_path / "far.xlsx"
        with Workbook(path) as book:
            sheet = book.add_worksheet()
            sheet.write_string(0, 0, "number")
            sheet.write_string(row, column, "x")
        assert refused(path).wanted in ("want-fewer-columns", "want-fewer-rows")

    def test_what_unpacks_to_too_much_is_refused_by_its_listed_sizes(self, tmp_path: Path) -> None:
        path = tmp_path / "bomb.xlsx"
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.writestr("xl/workbook.xml", "<workbook/>")
            with packed.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as part:
                for _ in range(257):
                    part.write(b" " * 1_000_000)
        assert path.stat().st_size < 1_000_000
        assert refused(path).wanted == "want-sheet-within"

    def test_declared_entities_are_refused(self, tmp_path: Path) -> None:
        path = tmp_path / "entities.xlsx"
        sheet = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><worksheet>&b;</worksheet>'
        with zipfile.ZipFile(path, "w") as packed:
            packed.writestr("xl/workbook.xml", "<workbook/>")
            packed.writestr("xl/worksheets/sheet1.xml", sheet)
        assert refused(path).wanted == "want-spreadsheet"

    @pytest.mark.parametrize(
        "cell", ['table:number-columns-repeated="16384"', 'table:number-columns-repeated="x"']
    )
    def test_a_filled_cell_repeated_without_end_is_refused(self, tmp_path: Path, cell: str) -> None:
        path = tmp_path / "repeated.ods"
        content = (
            '<office:document-content xmlns:office="o" xmlns:table="t"><table:table>'
            f'<table:table-row><table:table-cell office:value-type="string" {cell}/></table:table-row>'
            "</table:table></office:document-content>"
        )
        with zipfile.ZipFile(path, "w") as packed:
            packed.writestr("content.xml", content)
        assert refused(path).wanted in ("want-fewer-columns", "want-spreadsheet")

    @pytest.mark.parametrize("content", [b"PK\x03\x04", b"PK\x03\x04" + b"x" * 500])
    def test_a_broken_zip_is_refused(self, tmp_path: Path, content: bytes) -> None:
        assert refused(written(tmp_path, content, "a.xlsx")).wanted == "want-spreadsheet"

    def test_every_cut_of_a_spreadsheet_is_refused_in_words(self, tmp_path: Path) -> None:
        whole = spreadsheet(tmp_path).read_bytes()
        for size in range(4, len(whole) - 1, len(whole) // 40):
            assert refused(written(tmp_path, whole[:size], "cut.xlsx")).field == "file"


class TestJson:
    def test_a_table_as_it_goes_out_comes_in(self, tmp_path: Path) -> None:
        table = {
            "steelyard_table": 1,
            "what": "rack",
            "rows": [{"number": "T-01", "highest": 50.2, "x": None}],
        }
        path = written(tmp_path, json.dumps(table), "rack.json")
        with opened_sheet(path) as sheet:
            assert (sheet.what, sheet.columns, sheet.count) == ("rack", ("number", "highest", "x"), 1)
            assert list(sheet.rows) == [(1, {"number": "T-01", "highest": "50.2", "x": ""})]

    def test_a_bare_list_of_objects_comes_in(self, tmp_path: Path) -> None:
        path = written(tmp_path, '[{"a": "1", "on": true}, {"b": ["cw", "ccw"], "n": 12345678901234567890}]')
        assert rows(path) == [(1, {"a": "1", "on": "yes"}), (2, {"b": "cw,ccw", "n": "12345678901234567890"})]

    @pytest.mark.parametrize(
        "text",
        [
            "{",
            '{"rows": []}',
            '{"steelyard_table": 2, "rows": []}',
            '{"steelyard_table": 1}',
            "[" * 5000,
            "[1]",
        ],
    )
    def test_what_is_no_table_is_refused(self, tmp_path: Path, text: str) -> None:
        assert refused(written(tmp_path, text, "a.json")).wanted in ("want-json-table", "want-json-row")

    def test_an_object_in_a_cell_is_refused_with_its_row(self, tmp_path: Path) -> None:
        assert refused(written(tmp_path, '[{"a": "1"}, {"a": {}}]')).field == "row 2, a"

    @pytest.mark.parametrize("row", ['{"a": "1", "a": "2"}', '{"a": "1", " a": "2"}'])
    def test_a_name_twice_in_a_row_is_refused(self, tmp_path: Path, row: str) -> None:
        trouble = refused(written(tmp_path, f'[{{"a": "1"}}, {row}]', "a.json"))
        assert (trouble.field, trouble.given, trouble.wanted) == ("row 2", "a", "want-column-once")

    @pytest.mark.parametrize(
        "text", ['{"steelyard_table": 1, "rows": [], "rows": []}', '[{"a": {"b": 1, "b": 2}}]']
    )
    def test_a_name_twice_anywhere_is_refused(self, tmp_path: Path, text: str) -> None:
        assert refused(written(tmp_path, text, "a.json")).wanted in ("want-json-table", "want-text")

    @pytest.mark.parametrize(
        ("row", "field"),
        [(r'{"a": "\ud800"}', "row 2, a"), (r'{"a": ["\udfff"]}', "row 2, a"), (r'{"\ud800": [5]}', "row 2")],
    )
    def test_half_a_character_is_refused_where_it_stands(self, tmp_path: Path, row: str, field: str) -> None:
        trouble = refused(written(tmp_path, f'[{{"a": "1"}}, {row}]', "a.json"))
        assert (trouble.field, trouble.wanted) == (field, "want-whole-characters")
        assert str(trouble).encode()

    def test_more_rows_than_can_be_held_are_not_read(self, tmp_path: Path) -> None:
        path = written(tmp_path, f"[{'{},' * 400_000}{{}}]", "a.json")
        assert refused(path).wanted == "want-fewer-rows"
