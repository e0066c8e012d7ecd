"""Gravity against published constants and printed values.

The values at sea level were computed with 40 digits and agree with the libraries boule 0.6 and ahrs 0.4;
those with height are the second-order formula, as ahrs 0.4 prints it to 11 digits.
"""

import pytest

from printed import agrees
from steelyard.surroundings import GRAVITY_STANDARD_U_RATIO, STANDARD_GRAVITY_M_S2, normal_gravity_m_s2

SEA_LEVEL = [  # latitude [°], gravity [m/s²]: WGS 84, boule 0.6 and ahrs 0.4, 9 of their 12 decimals
    (0, "9.780325336"),
    (15, "9.783784962"),
    (30, "9.793247269"),
    (40, "9.801696863"),
    (45, "9.806197769"),
    (51.5, "9.812033575"),
    (60, "9.819176953"),
    (90, "9.832184938"),
]
WITH_HEIGHT = [  # latitude [°], height [m], gravity [m/s²]: second-order formula, ahrs 0.4
    (45, 100, "9.80588922171"),
    (45, 500, "9.80465517567"),
    (45, 1000, "9.80311294355"),
    (45, 2000, "9.80002956405"),
    (45, 4000, "9.79386714401"),
    (0, 2850, "9.77153127595"),
    (19.43, 2240, "9.77912980114"),
    (39.74, 1609, "9.79650207059"),
]
POLE = 9.8321849378  # WGS 84, derived constant, as quoted in encyclopaedias
TWELVE_DECIMALS = [(0, 9.780325335904), (45, 9.806197769377), (90, 9.832184937863)]  # boule 0.6, ahrs 0.4


@pytest.mark.parametrize(("latitude", "printed"), SEA_LEVEL)
def test_sea_level_agrees_with_two_libraries(latitude: float, printed: str) -> None:
    agrees(normal_gravity_m_s2(latitude, height_metre=0), printed)


@pytest.mark.parametrize(("latitude", "by_libraries"), TWELVE_DECIMALS)
def test_the_published_constants_reproduce_twelve_decimals(latitude: float, by_libraries: float) -> None:
    # The ten-digit constants differ from the libraries' by at most 4e-12.
    got = normal_gravity_m_s2(latitude, height_metre=0)
    assert got == pytest.approx(by_libraries, rel=0, abs=4.5e-12)


def test_the_pole_is_the_published_constant() -> None:
    # Half a unit of its tenth decimal, and as much for the constant of the equator it is computed from.
    assert normal_gravity_m_s2(90, height_metre=0) == pytest.approx(POLE, rel=0, abs=1e-10)


def test_the_conventional_value_and_the_uncertainty_of_the_formula() -> None:
    assert STANDARD_GRAVITY_M_S2 == 9.80665  # 3rd CGPM, 1901
    assert GRAVITY_STANDARD_U_RATIO == 5e-5  # from memory (medium): a few times 1e-5


@pytest.mark.parametrize(("latitude", "height", "printed"), WITH_HEIGHT)
def test_height_agrees_with_the_second_order_formula(latitude: float, height: float, printed: str) -> None:
    agrees(normal_gravity_m_s2(latitude, height_metre=height), printed)
