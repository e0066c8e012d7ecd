"""Masses from several placements, and from weighings in combinations."""

import math

import pytest

from steelyard.desk.reckon import Answer, reckon_combinations, reckon_mass
from steelyard.errors import InputRefused
from steelyard.evaluation import coverage_factor
from steelyard.words import say

PLACEMENTS = "9.62 9.63 9.61 kg"
ROWS = ("A + B = 15.02 kg", "A = 10.01 kg", "B = 5.00 kg")


def spoken(answer: Answer) -> str:
    said = [say(code, **facts) for code, facts in answer.lines]
    return "\n".join([*said, *(say(each.code, **each.facts) for each in answer.findings)])


def value(answer: Answer, key: str) -> float:
    return float(answer.numbers[key])


def test_placements_count_limit_rounding_and_spread() -> None:
    # mean 9.62, s 0.01, s/√3 with two degrees of freedom; 50 g and half of 10 g as rectangles
    answer = reckon_mass(step="10 g", accuracy="50 g", placements=PLACEMENTS)
    assert value(answer, "mass_kilogram") == pytest.approx(9.62)
    assert value(answer, "spread_kilogram") == pytest.approx(0.01)
    spread = 0.01 / math.sqrt(3)
    u = math.sqrt((0.05**2 + 0.005**2) / 3 + spread**2)
    expected = coverage_factor(u**4 / (spread**4 / 2)) * u
    assert value(answer, "mass_within_kilogram") == pytest.approx(expected)
    assert "the placements spread by 0.010 kg (s)" in spoken(answer)


WEIGHINGS: tuple[tuple[dict[str, str], str], ...] = (
    ({}, "--with"),
    ({"placements": PLACEMENTS, "with_it": "20 kg"}, "--placements"),
    ({"placements": PLACEMENTS, "without_it": "20 kg"}, "--placements"),
    ({"placements": "9.62 kg"}, "--placements"),
    ({"placements": "9.62 9.63"}, "--placements"),
    ({"placements": "9.62 -9.63 kg"}, "--placements"),
)


@pytest.mark.parametrize(("asked", "field"), WEIGHINGS)
def test_a_weighing_is_asked_for_in_one_way(asked: dict[str, str], field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        reckon_mass(step="10 g", accuracy="50 g", **asked)
    assert refused.value.field == field


def test_combinations_give_each_mass_by_least_squares() -> None:
    # residual of the sum 0.01 kg, a third of it to each row: A 10.01 + 0.01/3, B 5.00 + 0.01/3
    answer = reckon_combinations(rows=ROWS, step="10 g", scale_class="III")
    assert value(answer, "mass_A_kilogram") == pytest.approx(10.01 + 0.01 / 3)
    assert value(answer, "mass_B_kilogram") == pytest.approx(5.00 + 0.01 / 3)
    assert value(answer, "spread_kilogram") == pytest.approx(0.01 / math.sqrt(3))
    assert value(answer, "spread_degrees_of_freedom") == 1
    assert "The rows spread by 0.0058 kg (s), from 1 to spare." in spoken(answer)
    assert [each.code for each in answer.findings] == ["reckon-combinations-together"]


def test_rows_without_one_to_spare_say_so() -> None:
    answer = reckon_combinations(rows=ROWS[:2], step="10 g", scale_class="III")
    assert value(answer, "mass_B_kilogram") == pytest.approx(5.01)
    assert "spread_kilogram" not in answer.numbers
    assert "No row is to spare" in spoken(answer)


def test_a_misread_row_shows() -> None:
    answer = reckon_combinations(
        rows=("A + B = 15.52 kg", *ROWS[1:], "A = 10.02 kg"), step="10 g", accuracy="20 g"
    )
    assert answer.findings[0].code == "reckon-combinations-disagree"
    assert {each.code for each in answer.findings} >= {"reckon-scale-elsewhere"}


COMBINATIONS = (
    (),
    ("A + B = 15.02 kg",),
    ("A + B = 15.02 kg", "A + B = 15.03 kg"),
    ("A 10 kg",),
    ("A + A = 20 kg",),
    ("A + = 10 kg",),
    ("= 10 kg",),
    ("A = 10",),
    ("A = 0 kg",),
    ("A = 10 kg", "A + B = 9 kg"),
    ("A = 10 kg",) * 101,
)


@pytest.mark.parametrize("rows", COMBINATIONS, ids=str)
def test_rows_that_settle_nothing_are_refused(rows: tuple[str, ...]) -> None:
    with pytest.raises(InputRefused) as refused:
        reckon_combinations(rows=rows, step="10 g", scale_class="III")
    assert refused.value.field == "--row"


def test_a_combination_on_a_scale_out_of_its_class_is_refused() -> None:
    with pytest.raises(InputRefused):
        reckon_combinations(rows=("A = 2000 kg",), step="10 g", scale_class="III")
