"""Sheets of label paper: measures that fit, measures that do not, and where each label lies."""

from decimal import Decimal

import pytest

from steelyard.errors import InputRefused
from steelyard.paper.label_sheets import (
    SHEETS,
    LabelSheet,
    sheet_typed_again,
    single_label,
    typed_sheet,
    typed_skip,
    usual_sheet,
)

OWN = {
    "sheet": "own",
    "page_width": "210",
    "page_height": "297",
    "label_width": "63.5",
    "label_height": "38.1",
    "columns": "3",
    "rows": "7",
    "margin_left": "7.2",
    "margin_top": "15.1",
    "gap_across": "2.5",
    "gap_down": "0",
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_with_a_name_fits_its_page_evenly(name: str) -> None:
    sheet = SHEETS[name]
    left, top = sheet.corner(sheet.count - 1)
    right = sheet.page_width_mm - left - sheet.label_width_mm
    below = sheet.page_height_mm - top - sheet.label_height_mm
    assert abs(right - sheet.margin_left_mm) <= Decimal("0.1")
    assert abs(below - sheet.margin_top_mm) <= Decimal("0.1")


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_with_a_name_could_be_typed(name: str) -> None:
    assert typed_sheet({"sheet": "own", **sheet_typed_again(SHEETS[name])}) == SHEETS[name]


def test_measures_are_read_as_people_write_them() -> None:
    typed = {**OWN, "label_width": "6,35 cm", "gap_across": "2,5", "gap_down": ""}
    assert typed_sheet(typed) == typed_sheet(OWN)
    inches = {**OWN, "label_width": "2.5 in"}
    assert typed_sheet(inches).label_width_mm == Decimal("63.5")


def test_positions_run_along_the_rows() -> None:
    sheet = typed_sheet(OWN)
    assert sheet.corner(0) == (Decimal("7.2"), Decimal("15.1"))
    assert sheet.corner(2) == (Decimal("139.2"), Decimal("15.1"))
    assert sheet.corner(3) == (Decimal("7.2"), Decimal("53.2"))


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("columns", "4", "these take 268.7 mm, the page has 210 mm"),
        ("rows", "8", "these take 319.9 mm, the page has 297 mm"),
        ("columns", "0", "a whole number from 1 to 40"),
        ("rows", "seven", "a whole number from 1 to 40"),
        ("columns", "", "a whole number from 1 to 40"),
        ("gap_across", "-1", "a length of zero or more"),
        ("margin_top", "-0.5 mm", "a length of zero or more"),
        ("label_width", "44", "a number from 45 to 600 mm"),
        ("label_height", "19.9", "a number from 20 to 600 mm"),
        ("page_width", "", "a length in mm"),
        ("page_height", "2 m", "a number from 1 to 600 mm"),
        ("label_height", "3 kg", "a unit of length"),
        ("label_height", "nan", "not nan"),
    ],
)
def test_bad_measures_are_refused_in_one_sentence(field: str, text: str, said: str) -> None:
    with pytest.raises(InputRefused, match=said) as refused:
        typed_sheet({**OWN, field: text})
    assert refused.value.field == field


def test_a_sheet_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputRefused, match="a4-3x7, a4-3x8") as refused:
        typed_sheet({"sheet": "a5-1x1"})
    assert refused.value.field == "sheet"


def test_a_label_on_its_own_page_fills_it() -> None:
    sheet = single_label("51", "25")
    assert (sheet.page_width_mm, sheet.page_height_mm) == (Decimal(51), Decimal(25))
    assert (sheet.count, sheet.inset_mm) == (1, (Decimal(0), Decimal(0)))
    with pytest.raises(InputRefused, match="20 to 600"):
        single_label("51", "12")


def test_nothing_is_set_where_a_printer_leaves_the_sheet_white() -> None:
    assert SHEETS["a4-3x7"].inset_mm == (Decimal("4.5"), Decimal("4.05"))
    assert SHEETS["letter-3x10"].inset_mm == (Decimal(0), Decimal(0))
    small = LabelSheet(Decimal(100), Decimal(100), Decimal(50), Decimal(22), 2, 4)
    assert small.inset_mm == (Decimal("2.5"), Decimal(1))


@pytest.mark.parametrize(("text", "skip"), [("", 0), ("0", 0), (" 20 ", 20)])
def test_positions_that_are_used_up_are_counted(text: str, skip: int) -> None:
    assert typed_skip(text, SHEETS["a4-3x7"]) == skip


@pytest.mark.parametrize("text", ["21", "-1", "1.5", "many", "9" * 5000, "²"])
def test_more_than_the_sheet_has_cannot_be_used_up(text: str) -> None:
    with pytest.raises(InputRefused, match="from 0 to 20; this sheet has 21 labels") as refused:
        typed_skip(text, SHEETS["a4-3x7"])
    assert refused.value.field == "skip"


def test_a_label_on_its_own_page_has_nothing_to_skip() -> None:
    assert typed_skip("0", single_label("51", "25")) == 0
    with pytest.raises(InputRefused, match="a page of its own"):
        typed_skip("1", single_label("51", "25"))


def test_the_usual_sheet_is_of_the_paper_of_the_workshop() -> None:
    assert (usual_sheet("a4"), usual_sheet("letter")) == ("a4-3x7", "letter-3x10")
