"""Gravity against boule, which evaluates the closed form of the field instead of our series in height."""

from itertools import pairwise

import boule
import pytest

from steelyard.surroundings import normal_gravity_m_s2

LATITUDES = (-90, -66.5, -33.3, 0, 7.7, 19.43, 45, 51.5, 71.1, 90)
WORST_RATIO = [  # height [m], how far the series may lie from the closed form: seen ≤ 0.4 ppm below 2.3 km
    (0, 1e-11),
    (500, 1e-8),
    (2300, 4e-8),
    (9000, 2e-7),
]


def by_boule(latitude: float, height: float) -> float:
    return float(boule.WGS84.normal_gravity((None, latitude, float(height)), si_units=True))


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize(("height", "ratio"), WORST_RATIO)
def test_gravity_agrees_with_the_closed_form(latitude: float, height: float, ratio: float) -> None:
    assert normal_gravity_m_s2(latitude, height_metre=height) == pytest.approx(
        by_boule(latitude, height), rel=ratio
    )


def test_gravity_falls_from_pole_to_equator_and_with_height() -> None:
    across = [normal_gravity_m_s2(latitude, height_metre=0) for latitude in range(0, 91, 5)]
    upward = [normal_gravity_m_s2(45, height_metre=height) for height in range(-500, 9001, 500)]
    assert all(south < north for south, north in pairwise(across))
    assert all(low > high for low, high in pairwise(upward))
