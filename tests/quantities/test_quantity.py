"""A quantity keeps what was typed, and turns it into the base unit once, exactly."""

from decimal import Decimal
from fractions import Fraction

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, read_quantity


def test_it_keeps_text_number_and_unit() -> None:
    got = read_quantity(" 96,10 ft-lb", Dimension.TORQUE, field="x")
    assert got.typed == " 96,10 ft-lb"
    assert got.number == Decimal("96.10")
    assert got.unit is UNITS[Dimension.TORQUE]["lbf·ft"]


def test_its_step_is_one_unit_of_the_last_typed_digit() -> None:
    got = read_quantity("96.10 cN·m", Dimension.TORQUE, field="x")
    assert got.step == Decimal("0.01")
    assert got.step_base == 0.0001
    assert read_quantity("2e3 N·m", Dimension.TORQUE, field="x").step == 1000


def test_the_step_of_a_temperature_has_no_offset() -> None:
    got = read_quantity("68.5 °F", Dimension.TEMPERATURE, field="x")
    assert got.step_base == float(Fraction(5, 90))


@pytest.mark.parametrize(
    ("text", "celsius"), [("32 °F", 0.0), ("212 F", 100.0), ("-40 °F", -40.0), ("293.15 K", 20.0)]
)
def test_temperatures_take_their_zero_along(text: str, celsius: float) -> None:
    assert read_quantity(text, Dimension.TEMPERATURE, field="x").base == celsius


def test_it_has_no_value_in_a_unit_of_another_dimension() -> None:
    with pytest.raises(ValueError, match="no value in kg"):
        read_quantity("1 N·m", Dimension.TORQUE, field="x").to(UNITS[Dimension.MASS]["kg"])


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("96.1N·m", "96.1"),
        ("1 000,5 N m", "1000.5"),
        ("5e3Nm", "5000"),
        ("\u22123 Nm", "-3"),
        ("1'000 Nm", "1000"),
    ],
)
def test_it_finds_where_the_number_ends(text: str, number: str) -> None:
    assert read_quantity(text, Dimension.TORQUE, field="x").number == Decimal(number)


def test_it_reads_feet_and_inches_by_their_marks() -> None:
    assert read_quantity("5'", Dimension.LENGTH, field="x").base == 1.524
    assert read_quantity('2,5"', Dimension.LENGTH, field="x").base == 0.0635


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("96.1", "want-unit"),
        ("", "want-unit"),
        ("N·m", "want-unit"),
        ("nan N·m", "want-finite-number"),
        ("1,000 N·m", "want-clear-thousands"),
        ("96.1 97.0 N·m", "want-number"),
        ("96.1 kg", "want-known-unit"),
        ("96.1 N·m N·m", "want-known-unit"),
        ("96.1 - N·m", "want-known-unit"),
        ("5 nm", "want-newton-metre"),
        ("1 N·m" + " " * 200, "want-shorter"),
    ],
)
def test_it_refuses_and_says_what_is_wanted(text: str, wanted: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_quantity(text, Dimension.TORQUE, field="point 2, target")
    assert refused.value.wanted == wanted
    assert refused.value.sentence.startswith("point 2, target: ")


def test_it_shows_the_example_of_the_caller() -> None:
    with pytest.raises(InputRefused, match="such as 100 N·m"):
        read_quantity("96.1", Dimension.TORQUE, field="x", example="100 N·m")
