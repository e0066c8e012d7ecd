"""Laws of units and of reading: round trips, scaling, spelling variants, and no surprise from any text."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.errors import InputRefused
from steelyard.quantities import (
    UNITS,
    Dimension,
    Quantity,
    find_unit,
    read_number,
    read_quantities,
    read_quantity,
    read_within,
)
from steelyard.quantities.spellings import SPELLINGS, Spelled

GAPS = ("", " ", "  ", ".", "-", "·", "⋅", "*", "×", "\u00a0", "‑")
CLEAR = st.decimals(-(10**9), 10**9, allow_nan=False, places=4)
DIMENSIONS = st.sampled_from(Dimension)
TYPED = st.text(
    alphabet=st.sampled_from("0123456789.,;'’ \u00a0\t\n+-−±/eE%°NmMkgcflbtinoz·*()nan٣½"), max_size=60
)


@given(dimension=DIMENSIONS, number=CLEAR, data=st.data())
def test_any_unit_and_back_is_the_same_value(
    dimension: Dimension, number: Decimal, data: st.DataObject
) -> None:
    one, other = (data.draw(st.sampled_from(list(UNITS[dimension].values()))) for _ in "ab")
    there = Quantity("", number, one).to(other)
    back = Quantity("", Decimal(there), other).to(one)
    zero_of_scale = abs(float((one.offset - other.offset) / one.factor))
    assert back == pytest.approx(float(number), rel=4e-16, abs=4e-16 * zero_of_scale)


@given(dimension=DIMENSIONS, number=CLEAR, times=st.integers(1, 1000), data=st.data())
def test_a_value_scales_with_its_number(
    dimension: Dimension, number: Decimal, times: int, data: st.DataObject
) -> None:
    unit = data.draw(st.sampled_from(list(UNITS[dimension].values()))).as_difference
    assert Quantity("", number * times, unit).exact == times * Quantity("", number, unit).exact


@pytest.mark.parametrize("row", SPELLINGS, ids=lambda row: f"{row.dimension}-{row.symbol}")
def test_every_listed_spelling_finds_its_one_unit_however_its_words_are_joined(row: Spelled) -> None:
    unit = UNITS[row.dimension][row.symbol]
    for spelling in (*row.any_case, *row.exact):
        for gap in GAPS:
            assert find_unit(spelling.replace("·", gap), row.dimension, field="x") is unit
    for spelling in row.any_case:
        assert find_unit(spelling.upper(), row.dimension, field="x") is unit


@given(number=CLEAR)
def test_point_and_comma_read_alike(number: Decimal) -> None:
    with_point = f"{number:f}"
    got = read_number(with_point, field="x")
    assert got == read_number(with_point.replace(".", ","), field="x") == number
    assert got.as_tuple().exponent == number.as_tuple().exponent


@given(number=CLEAR, gap=st.sampled_from(" \u00a0\u2009\u202f'\u2019"), mark=st.sampled_from(".,"))
def test_groups_of_three_read_like_the_plain_number(number: Decimal, gap: str, mark: str) -> None:
    grouped = f"{number:,f}".replace(".", mark if mark == "." else "_").replace(",", gap).replace("_", ",")
    assert read_number(grouped, field="x") == number


@given(numbers=st.lists(CLEAR, min_size=1, max_size=20), apart=st.sampled_from([" ", "; ", ";", ", ", "\n"]))
def test_a_row_reads_like_its_values_one_by_one(numbers: list[Decimal], apart: str) -> None:
    row = apart.join(f"{n:f}" for n in numbers) + " lbf·ft"
    got = read_quantities(row, Dimension.TORQUE, field="x")
    assert [q.number for q in got] == numbers
    for q in got:
        assert read_quantity(q.typed, Dimension.TORQUE, field="x") == q


@given(number=CLEAR.filter(bool), percent=st.decimals(0, 100, allow_nan=False, places=2))
def test_a_share_is_that_share_of_the_value(number: Decimal, percent: Decimal) -> None:
    value, width = read_within(f"{number:f} kg ± {percent:f} %", Dimension.MASS, field="x")
    assert width is not None
    assert width.exact == abs(value.exact) * Fraction(percent) / 100


@given(text=st.one_of(TYPED, st.text(max_size=60)), dimension=DIMENSIONS)
def test_no_text_raises_anything_but_a_refusal(text: str, dimension: Dimension) -> None:
    for read in (read_quantity, read_quantities, read_within, find_unit):
        try:
            read(text, dimension, field="x")
        except InputRefused as refused:
            assert refused.sentence
    try:
        assert read_number(text, field="x").is_finite()
    except InputRefused as refused:
        assert refused.sentence
