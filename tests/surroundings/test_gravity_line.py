"""Gravity as a line of a budget, and what is refused."""

import math

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import Shape
from steelyard.surroundings import (
    GRAVITY_STANDARD_U_RATIO,
    STANDARD_GRAVITY_M_S2,
    local_gravity,
    normal_gravity_m_s2,
    plausible_gravity,
)


def test_an_exactly_known_place_keeps_the_uncertainty_of_the_formula() -> None:
    line = local_gravity(45, height_metre=100)
    assert (line.name, line.unit, line.shape, line.shared) == ("gravity", "m/s²", Shape.NORMAL, True)
    assert line.value == normal_gravity_m_s2(45, height_metre=100)
    assert line.u == pytest.approx(GRAVITY_STANDARD_U_RATIO * line.value, rel=1e-15)


def test_a_degree_of_latitude_at_45_adds_92_ppm() -> None:
    # 92 ppm per degree: derivative of the formula, check values section 2.3.
    line = local_gravity(45, height_metre=0, latitude_within_degree=1)
    added = math.sqrt(line.u**2 - (GRAVITY_STANDARD_U_RATIO * line.value) ** 2)
    assert added * math.sqrt(3) / line.value == pytest.approx(92e-6, abs=0.5e-6)


def test_a_hundred_metres_of_height_add_31_ppm() -> None:
    line = local_gravity(45, height_metre=0, height_within_metre=100)
    added = math.sqrt(line.u**2 - (GRAVITY_STANDARD_U_RATIO * line.value) ** 2)
    assert added * math.sqrt(3) / line.value == pytest.approx(31e-6, abs=0.5e-6)


def test_at_the_equator_and_the_pole_the_curve_still_counts() -> None:
    for latitude in (0, 90):
        exact = local_gravity(latitude, height_metre=0)
        assert local_gravity(latitude, height_metre=0, latitude_within_degree=10).u > 1.5 * exact.u


def test_the_larger_change_to_either_side_counts() -> None:
    # From 5° to 15° gravity changes more than from 5° to −5°, where it does not change at all.
    line = local_gravity(5, height_metre=0, latitude_within_degree=10)
    north = normal_gravity_m_s2(15, height_metre=0) - line.value
    expected = math.hypot(GRAVITY_STANDARD_U_RATIO * line.value, north / math.sqrt(3))
    assert line.u == pytest.approx(expected, rel=1e-12)


def test_south_is_as_north() -> None:
    north = local_gravity(33, height_metre=0, latitude_within_degree=2)
    south = local_gravity(-33, height_metre=0, latitude_within_degree=2)
    assert south.value == north.value
    assert south.u == pytest.approx(north.u, rel=1e-12)


def test_the_plausible_range_covers_the_earth_at_sea_level() -> None:
    line = plausible_gravity()
    assert (line.name, line.unit, line.shape) == ("gravity-adjust", "m/s²", Shape.RECTANGULAR)
    least, most = line.value - line.width, line.value + line.width
    assert least == pytest.approx(9.780, rel=1e-12)
    assert most == pytest.approx(9.834, rel=1e-12)
    assert least < normal_gravity_m_s2(0, height_metre=0)
    assert normal_gravity_m_s2(90, height_metre=0) < most
    assert least < STANDARD_GRAVITY_M_S2 < most


@pytest.mark.parametrize("latitude", [90.001, -90.001, math.nan, math.inf])
def test_it_refuses_a_latitude_beyond_the_poles(latitude: float) -> None:
    with pytest.raises(InputRefused, match="latitude: .* from -90 to 90 °"):
        normal_gravity_m_s2(latitude, height_metre=0)


@pytest.mark.parametrize("height", [-500.1, 9000.1, math.nan, -math.inf])
def test_it_refuses_a_height_where_nobody_works(height: float) -> None:
    with pytest.raises(InputRefused, match="height: .* from -500 to 9000 m"):
        normal_gravity_m_s2(45, height_metre=height)
    with pytest.raises(InputRefused, match="height"):
        local_gravity(45, height_metre=height)


@pytest.mark.parametrize("within", [-0.1, 45.1, math.nan])
def test_it_refuses_a_half_width_below_zero_or_without_meaning(within: float) -> None:
    with pytest.raises(InputRefused, match="latitude, within"):
        local_gravity(45, height_metre=0, latitude_within_degree=within)
    with pytest.raises(InputRefused, match="height, within: .* from 0 to 9000 m"):
        local_gravity(45, height_metre=0, height_within_metre=within * 9000 / 45)
