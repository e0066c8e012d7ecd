"""A value and its half-width: own unit, shared unit, or a share of the value."""

from decimal import Decimal

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_within


@pytest.mark.parametrize(
    "text", ["450 mm ± 1 mm", "450 ± 1 mm", "450 mm +- 1 mm", "450+/-1 mm", "450 mm ±1mm", "450 mm ± 0.1 cm"]
)
def test_it_reads_value_and_half_width(text: str) -> None:
    value, width = read_within(text, Dimension.LENGTH, field="arm")
    assert width is not None
    assert (value.base, width.base) == (0.45, 0.001)


def test_each_keeps_its_own_piece_of_the_text() -> None:
    value, width = read_within("450 ± 1 mm", Dimension.LENGTH, field="arm")
    assert width is not None
    assert (value.typed, width.typed) == ("450 mm", "1 mm")


def test_it_takes_a_value_alone() -> None:
    value, width = read_within("450 mm", Dimension.LENGTH, field="arm")
    assert (value.base, width) == (0.45, None)


@pytest.mark.parametrize(
    ("text", "number"), [("20 kg ± 0.5 %", "0.1"), ("-20 kg ± 0,5 %", "0.1"), ("20 kg ± 50 ppm", "0.001")]
)
def test_a_share_of_the_value_comes_in_its_unit(text: str, number: str) -> None:
    value, width = read_within(text, Dimension.MASS, field="mass")
    assert width is not None
    assert width.number == Decimal(number)
    assert width.unit == value.unit


def test_a_half_width_of_temperature_is_a_difference() -> None:
    _, width = read_within("68 ± 9 °F", Dimension.TEMPERATURE, field="room")
    assert width is not None
    assert width.base == 5.0
    _, kelvin = read_within("20 °C ± 1 K", Dimension.TEMPERATURE, field="room")
    assert kelvin is not None
    assert kelvin.base == 1.0


def test_a_ratio_takes_points_of_its_own_unit() -> None:
    value, width = read_within("5 ± 1 %", Dimension.RATIO, field="limit")
    assert width is not None
    assert (value.base, width.base) == (0.05, 0.01)


@pytest.mark.parametrize(
    ("dimension", "text", "wanted"),
    [
        (Dimension.LENGTH, "450 mm ± -1 mm", "want-not-negative"),
        (Dimension.LENGTH, "450 mm ± 1 mm ± 1 mm", "want-one-half-width"),
        (Dimension.LENGTH, "450 mm ± 1", "want-unit"),
        (Dimension.LENGTH, "450 mm ±", "want-unit"),
        (Dimension.LENGTH, "± 1 mm", "want-unit"),
        (Dimension.LENGTH, "450 ± 0.5 %", "want-unit"),
        (Dimension.LENGTH, "450 mm ± 1 kg", "want-known-unit"),
        (Dimension.LENGTH, "(450 ± 1) mm", "want-unit"),
        (Dimension.TEMPERATURE, "20 °C ± 5 %", "want-known-unit"),
        (Dimension.RATIO, "500 ppm ± 10 %", "want-known-unit"),
    ],
)
def test_it_refuses_a_half_width_it_cannot_use(dimension: Dimension, text: str, wanted: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_within(text, dimension, field="x")
    assert refused.value.wanted == wanted


@pytest.mark.parametrize("text", ["10.150 kg", "10.150 ± 0.005 kg", "10.150 kg ± 5 g", "10,150 kg"])
def test_three_decimals_are_decimals_where_thousands_are_absurd(text: str) -> None:
    value, _ = read_within(text, Dimension.MASS, field="mass")
    assert value.base == 10.150
