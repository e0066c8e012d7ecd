"""Rows of readings are read value by value, and refused where a gap may stand inside a number."""

from fractions import Fraction

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_quantities

ROWS = {
    "96.1 97.0 96.6 96.8 96.5 N·m": "96.1 N·m|97.0 N·m|96.6 N·m|96.8 N·m|96.5 N·m",
    "96,1; 97,0; 96,6 N·m": "96,1 N·m|97,0 N·m|96,6 N·m",
    "96.1, 97.0, 96.6 ft lb": "96.1 ft lb|97.0 ft lb|96.6 ft lb",
    "96,1, 97,0 Nm": "96,1 Nm|97,0 Nm",
    "96.1 N·m 97.0 N·m": "96.1 N·m|97.0 N·m",
    "96.1 N m;97.0 N m;": "96.1 N m|97.0 N m",
    "98 N·m 102 N·m": "98 N·m|102 N·m",
    "96.1Nm 97Nm": "96.1 Nm|97 Nm",
    "1 N·m 0.8 ft-lb": "1 N·m|0.8 ft-lb",
    "96.1 N·m 97.0 96.6 N·m": "96.1 N·m|97.0 N·m|96.6 N·m",
    "96.1\n97.0\t96.6\nN·m": "96.1 N·m|97.0 N·m|96.6 N·m",
    "-96.1 \u221297 N·m": "-96.1 N·m|\u221297 N·m",
    "100 102 101 N·m": "100 N·m|102 N·m|101 N·m",
    "98; 100; 102 N·m": "98 N·m|100 N·m|102 N·m",
    "98 100 102 N·m": "98 N·m|100 N·m|102 N·m",
    "9.8 100 N·m": "9.8 N·m|100 N·m",
    "1'000 1'010 N·m": "1'000 N·m|1'010 N·m",
    "5 N·m": "5 N·m",
}


@pytest.mark.parametrize("text", ROWS)
def test_it_reads_a_row(text: str) -> None:
    got = read_quantities(text, Dimension.TORQUE, field="pulls")
    assert "|".join(q.typed for q in got) == ROWS[text]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", "want-unit"),
        ("96.1 97.0", "want-unit"),
        ("96.1 N·m 97.0", "want-unit"),
        ("96 N·m 97 98 lbf·ft", "want-unit"),
        ("N·m", "want-unit"),
        ("96;; 97 N·m", "want-unit"),
        ("; 97 N·m", "want-unit"),
        ("96.1 97.0 kg", "want-known-unit"),
        ("96.1 nan 97 N·m", "want-known-unit"),
        ("1,000 1,010 N·m", "want-clear-thousands"),
        ("1 250 1 260 N·m", "want-set-apart"),
        ("12 100 N·m", "want-set-apart"),
        ("100 000 100 010 N·m", "want-set-apart"),
        ("1 000.5; 1 001.5 N·m", "want-set-apart"),
        ("1\u00a0250 N·m", "want-set-apart"),
        ("1 " * 1001 + "N·m", "want-fewer-values"),
        (" " * 40_001, "want-shorter"),
    ],
)
def test_it_refuses_a_row_it_would_have_to_guess(text: str, wanted: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_quantities(text, Dimension.TORQUE, field="pulls")
    assert refused.value.wanted == wanted


def test_it_names_both_readings_of_a_gap() -> None:
    with pytest.raises(InputRefused, match="type 1; 250 or 1250"):
        read_quantities("1 250 1 260 N·m", Dimension.TORQUE, field="pulls")


def test_it_reads_grams_behind_kilograms() -> None:
    row = read_quantities("10.150 10.155 kg", Dimension.MASS, field="pulls")
    assert [q.base for q in row] == [10.150, 10.155]


def test_it_reads_a_thousand_values() -> None:
    assert len(read_quantities("96.1 " * 1000 + "N·m", Dimension.TORQUE, field="pulls")) == 1000


@pytest.mark.parametrize(
    ("text", "largest", "typed"),
    [
        ("20 100 N·m", 100, "20 N·m|100 N·m"),
        ("12 100.5 N·m", 101, "12 N·m|100.5 N·m"),
        ("1 250 N·m", 1000, "1 N·m|250 N·m"),
    ],
)
def test_a_gap_sets_apart_what_would_be_too_large_as_one(text: str, largest: int, typed: str) -> None:
    got = read_quantities(text, Dimension.TORQUE, field="targets", largest=Fraction(largest))
    assert "|".join(q.typed for q in got) == typed


@pytest.mark.parametrize(("text", "largest"), [("1 250 N·m", 1250), ("12 100 cN·m", 200), ("1 250", 100)])
def test_a_gap_is_refused_where_one_number_would_still_do(text: str, largest: int) -> None:
    with pytest.raises(InputRefused) as refused:
        read_quantities(text, Dimension.TORQUE, field="targets", largest=Fraction(largest))
    assert refused.value.wanted == "want-set-apart"


def test_a_row_is_read_by_a_decimal_mark() -> None:
    got = read_quantities("96,100 97,200; 5.5 N·m", Dimension.TORQUE, field="targets", decimal_mark=",")
    assert "|".join(q.typed for q in got) == "096,100 N·m|097,200 N·m|5.5 N·m"
    with pytest.raises(InputRefused) as refused:
        read_quantities("96.100 97.200 N·m", Dimension.TORQUE, field="targets", decimal_mark=",")
    assert refused.value.wanted == "want-clear-thousands"
