"""Small spreadsheets that would fill the memory are refused before they are loaded; others are read."""

import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest

from steelyard.desk.columns_in import Row
from steelyard.errors import InputRefused
from steelyard.sheets import spread
from steelyard.sheets.looked_through import looked_through
from steelyard.sheets.reading import opened_sheet

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
USUAL_SHEET = "xl/worksheets/sheet1.xml"
Parts = Mapping[str, str | bytes]
HEAD = '<row r="1"><c r="A1" t="inlineStr"><is><t>number</t></is></c></row>'
FAR = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'


def sheet(rows: str) -> str:
    """The part of a sheet of XLSX."""
    return f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'


def xlsx(
    path: Path, rows: str, *, place: str = USUAL_SHEET, said: str = "", more: Parts | None = None
) -> Path:
    """An XLSX file whose only sheet is a part at a place. said: the place as the workbook says it."""
    parts: dict[str, str | bytes] = {
        "[Content_Types].xml": f'<Types xmlns="{PACKAGE}/content-types"/>',
        "_rels/.rels": f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="r1" '
        f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
        '<sheet name="a" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="r1" '
        f'Type="{OFFICE}/worksheet" Target="{(said or place).removeprefix("xl/")}"/></Relationships>',
        place: sheet(rows),
    }
    return packed(path / "list.xlsx", parts | dict(more or {}))


def ods(path: Path, table: str) -> Path:
    """An ODS file with one sheet, its rows between their elements."""
    content = (
        '<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body>'
        f'<office:spreadsheet><table:table table:name="a">{table}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = {"META-INF/manifest.xml": '<manifest:manifest xmlns:manifest="m"/>'}
    return packed(path / "list.ods", {"mimetype": kind, "content.xml": content} | manifest)


def packed(path: Path, parts: Parts) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as whole:
        for name, content in parts.items():
            whole.writestr(name, content)
    return path


def rows(path: Path) -> list[Row]:
    with opened_sheet(path) as opened:
        return list(opened.rows)


def refused(path: Path) -> str:
    with pytest.raises(InputRefused) as caught:
        rows(path)
    return caught.value.wanted


@pytest.fixture
def unloaded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing may be loaded: it would take the whole program with it."""
    monkeypatch.setattr("python_calamine.CalamineWorkbook", None)


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (USUAL_SHEET, ""),
        ("xl/other/sheet1.xml", ""),
        ("xl/Worksheets/sheet1.xml", ""),
        ("xl/WORKSHEETS/sheet1.xml", "worksheets/sheet1.xml"),
        ("xl/worksheets/sheet1.XML", ""),
        ("sheet1.xml", "/sheet1.xml"),
    ],
)
@pytest.mark.usefixtures("unloaded")
def test_a_cell_far_out_is_seen_in_whatever_part_it_stands(tmp_path: Path, place: str, said: str) -> None:
    assert refused(xlsx(tmp_path, HEAD + FAR, place=place, said=said)) == "want-fewer-columns"


@pytest.mark.parametrize("place", ["xl/theme/sheet1.xml", "xl/sheet1.bin", "docProps/a.xml", "xl/sheet1.txt"])
def test_a_sheet_in_a_part_that_does_not_go_on_is_refused(tmp_path: Path, place: str) -> None:
    assert refused(xlsx(tmp_path, HEAD + FAR, place=place)) == "want-spreadsheet"


FILLED = "<v>1</v>"
BENT = {
    "a row inside a row": '<row r="100001"><row r="1"><c><v>1</v></c></row></row>',
    "a cell inside a cell": f'<row><c r="Z9000"><is><c r="A1">{FILLED}</c></is></c></row>',
    "a table to begin again": f'<x:table xmlns:x="x"/><row r="7"><c>{FILLED}</c></row>',
    "a place that is none": f'<row><c r="A-1">{FILLED}</c></row>',
    "digits of another script": f'<row r="\u0661"><c>{FILLED}</c></row>',
    "an instruction": f"<?x <row?><row><c>{FILLED}</c></row>",
    "a shared text that is not there": '<row><c r="A1" t="s"><v>7</v></c></row>',
    "a shared text before the first": '<row><c r="A1" t="s"><v>-1</v></c></row>',
    "shared texts in a sheet": f"<si><t>a</t></si><row><c>{FILLED}</c></row>",
    "an element without end": f'<row r="1" a="{"x" * 2_000_000}"/>',
}


@pytest.mark.parametrize("bent", BENT)
@pytest.mark.usefixtures("unloaded")
def test_what_two_readers_could_take_differently_is_refused(tmp_path: Path, bent: str) -> None:
    assert refused(xlsx(tmp_path, BENT[bent])) == "want-spreadsheet"


@pytest.mark.usefixtures("unloaded")
def test_a_cell_without_a_place_stands_in_its_row(tmp_path: Path) -> None:
    assert refused(xlsx(tmp_path, f'<row r="1048576"><c r="A1"/><c>{FILLED}</c></row>')) == "want-fewer-rows"


@pytest.mark.usefixtures("unloaded")
def test_two_cells_within_bounds_do_not_span_a_sheet_that_is_not(tmp_path: Path) -> None:
    apart = f'<row r="1"><c r="A1">{FILLED}</c></row><row r="90000"><c r="CV90000">{FILLED}</c></row>'
    assert refused(xlsx(tmp_path, apart)) == "want-fewer-cells"


@pytest.mark.usefixtures("unloaded")
def test_many_sheets_count_together(tmp_path: Path) -> None:
    wide = f'<row r="90000"><c r="K90000">{FILLED}</c></row>'
    more = {f"xl/worksheets/sheet{number}.xml": sheet(wide) for number in (2, 3)}
    assert refused(xlsx(tmp_path, wide, more=more)) == "want-fewer-cells"


@pytest.mark.usefixtures("unloaded")
def test_too_many_elements_are_refused_in_any_part(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spread, "MOST_ELEMENTS", 1_000)
    strings = {"xl/sharedStrings.xml": f'<sst xmlns="{MAIN}">{"<si/>" * 1_000}</sst>'}
    assert refused(xlsx(tmp_path, HEAD, more=strings)) == "want-fewer-cells"


@pytest.mark.usefixtures("unloaded")
def test_a_long_text_that_is_said_again_and_again_is_refused(tmp_path: Path) -> None:
    strings = {"xl/sharedStrings.xml": f'<sst xmlns="{MAIN}"><si><t>{"x" * 1_000_000}</t></si></sst>'}
    again = "".join(f'<row r="{row}"><c r="A{row}" t="s"><v>0</v></c></row>' for row in range(1, 200))
    assert refused(xlsx(tmp_path, again, more=strings)) == "want-sheet-within"


def test_shared_texts_are_known_before_the_sheet_that_points_at_them(tmp_path: Path) -> None:
    strings = {"xl/sharedStrings.xml": f'<sst xmlns="{MAIN}"><si><t>T-01</t></si></sst>'}
    cell = '<row r="2"><c r="A2" t="s"><v>0</v></c></row>'
    assert rows(xlsx(tmp_path, HEAD + cell, place="xl/a/sheet1.xml", more=strings)) == [
        (2, {"number": "T-01"})
    ]


@pytest.mark.usefixtures("unloaded")
def test_a_part_that_stands_twice_is_refused(tmp_path: Path) -> None:
    assert refused(xlsx(tmp_path, HEAD, more={USUAL_SHEET.upper(): sheet(FAR)})) == "want-spreadsheet"


@pytest.mark.usefixtures("unloaded")
def test_another_encoding_hides_no_cell(tmp_path: Path) -> None:
    hidden = sheet(HEAD).encode("utf-16")
    assert refused(xlsx(tmp_path, HEAD, more={USUAL_SHEET: hidden})) == "want-spreadsheet"


def test_a_part_that_is_packed_wrongly_is_refused(tmp_path: Path) -> None:
    path = xlsx(tmp_path, HEAD)
    content = bytearray(path.read_bytes())
    place = content.index(b"workbook.xml") + len("workbook.xml")
    content[place : place + 20] = b"\xff" * 20
    path.write_bytes(content)
    assert refused(path) == "want-spreadsheet"


def test_a_part_packed_in_an_unusual_way_is_refused(tmp_path: Path) -> None:
    path = xlsx(tmp_path, HEAD)
    with zipfile.ZipFile(path, "a", zipfile.ZIP_LZMA) as whole:
        whole.writestr("xl/more.xml", "<a/>")
    assert refused(path) == "want-spreadsheet"


def test_other_parts_of_an_ordinary_file_do_not_go_on(tmp_path: Path) -> None:
    more: dict[str, str | bytes] = {
        "xl/theme/theme1.xml": "<theme/>",
        "xl/printerSettings/printerSettings1.bin": b"\x00" * 9,
        "xl/media/image1.png": b"\x89PNG",
        "xl/drawings/drawing1.xml": "<xdr:row xmlns:xdr='d'><xdr:row/></xdr:row>",
        "docProps/app.xml": "<Properties/>",
        "customXml/item1.xml": "<?mso-contentType?><a/>",
        "xl/calcChain.xml": '<calcChain><c r="XFD1048576"/></calcChain>',
        "xl/sharedStrings.xml": f'<sst xmlns="{MAIN}"><si><t>T-01</t></si></sst>',
        "xl/styles.xml": f'<styleSheet xmlns="{MAIN}"/>',
    }
    path = xlsx(
        tmp_path, HEAD + '<row r="2"><c r="A2" t="s"><v>0</v></c><c r="XFD2" s="0"/></row>', more=more
    )
    assert rows(path) == [(2, {"number": "T-01"})]
    with path.open("rb") as file, zipfile.ZipFile(looked_through(file, "a")) as again:
        assert set(again.namelist()) == {
            "[Content_Types].xml",
            "_rels/.rels",
            "xl/workbook.xml",
            "xl/_rels/workbook.xml.rels",
            "xl/sharedStrings.xml",
            "xl/styles.xml",
            USUAL_SHEET,
        }


CELL = '<table:table-cell office:value-type="string"{given}><text:p>{text}</text:p></table:table-cell>'
ENDLESS = '<table:table-cell table:number-columns-repeated="16383"/>'


def test_an_ordinary_sheet_of_ods_ends_in_empty_cells_without_number(tmp_path: Path) -> None:
    line = "<table:table-row>{}{}</table:table-row>"
    filled = [CELL.format(given="", text=text) for text in ("number", "T-01", "T-02")]
    empty = f'<table:table-row table:number-rows-repeated="1048573">{ENDLESS}</table:table-row>'
    table = "".join(line.format(cell, ENDLESS) for cell in filled) + empty
    assert rows(ods(tmp_path, table)) == [(2, {"number": "T-01"}), (3, {"number": "T-02"})]


@pytest.mark.parametrize(
    "cell",
    [
        CELL.format(given=' table:number-columns-repeated="300"', text="x"),
        '<table:table-cell office:value="1" table:number-columns-repeated="300"/>',
        '<table:table-cell table:formula="of:=1" table:number-columns-repeated="300"/>',
        '<table:table-cell table:number-columns-repeated="300"><text:p>x</text:p></table:table-cell>',
    ],
)
@pytest.mark.usefixtures("unloaded")
def test_a_cell_of_ods_is_filled_by_whatever_it_says(tmp_path: Path, cell: str) -> None:
    assert refused(ods(tmp_path, f"<table:table-row>{cell}</table:table-row>")) == "want-fewer-columns"


@pytest.mark.parametrize(
    "row",
    [
        '<table:table-row table:number-rows-repeated="1000000">{}</table:table-row>',
        '<table:table-row r="1" table:number-rows-repeated="1000000">{}</table:table-row>',
    ],
)
@pytest.mark.usefixtures("unloaded")
def test_a_filled_row_of_ods_repeated_without_end_is_refused(tmp_path: Path, row: str) -> None:
    assert refused(ods(tmp_path, row.format(CELL.format(given="", text="x")))) == "want-fewer-rows"


@pytest.mark.parametrize("text", ["x" * 10_000, '<text:s text:c="9999999"/>'])
@pytest.mark.usefixtures("unloaded")
def test_a_text_of_ods_counts_as_often_as_it_is_repeated(tmp_path: Path, text: str) -> None:
    cell = CELL.format(given=' table:number-columns-repeated="20"', text=text)
    table = f'<table:table-row table:number-rows-repeated="1000">{cell}</table:table-row>'
    assert refused(ods(tmp_path, table)) == "want-sheet-within"


@pytest.mark.parametrize("filled", ["", CELL.format(given="", text="x")])
@pytest.mark.usefixtures("unloaded")
def test_empty_cells_of_ods_before_other_empty_ones_are_counted(tmp_path: Path, filled: str) -> None:
    row = f"<table:table-row>{filled}{ENDLESS}{ENDLESS}</table:table-row>"
    assert refused(ods(tmp_path, row * 200)) == "want-fewer-cells"


@pytest.mark.usefixtures("unloaded")
def test_a_filled_row_of_ods_is_laid_out_as_often_as_it_is_repeated(tmp_path: Path) -> None:
    cells = CELL.format(given="", text="x") + ENDLESS + ENDLESS
    row = f'<table:table-row table:number-rows-repeated="200">{cells}</table:table-row>'
    assert refused(ods(tmp_path, row)) == "want-fewer-cells"


def test_an_empty_row_of_ods_may_be_repeated_to_the_end_in_two_styles(tmp_path: Path) -> None:
    cells = f'<table:table-cell table:number-columns-repeated="3"/>{ENDLESS}'
    end = f'<table:table-row table:number-rows-repeated="1048570">{cells}</table:table-row>'
    lines = [f"<table:table-row>{CELL.format(given='', text=text)}</table:table-row>" for text in ("a", "b")]
    assert rows(ods(tmp_path, "".join(lines) + end)) == [(2, {"a": "b"})]


@pytest.mark.usefixtures("unloaded")
def test_a_sheet_of_ods_inside_a_sheet_is_refused(tmp_path: Path) -> None:
    assert refused(ods(tmp_path, '<table:table table:name="b"/>')) == "want-spreadsheet"
