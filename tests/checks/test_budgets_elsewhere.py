"""Budgets from other fields, through our own engine: published inputs and printed results."""

import math

import pytest

from printed import agrees
from steelyard.evaluation import coverage_factor, first_order
from steelyard.quantities import Line, Shape
from steelyard.surroundings import normal_gravity_m_s2


def test_a_standard_solution() -> None:
    # EURACHEM/CITAC QUAM:2012, example A1 (seen in the GTC documentation): c = 1000·m·P/V
    lines = [
        Line("purity", 0.9999, 0.0001),
        Line("mass", 100.28, 0.05, Shape.NORMAL),
        Line("volume", 100.0, 0.1, Shape.TRIANGULAR),
        Line("filling", 0.0, 0.02, Shape.NORMAL),
        Line("expansion", 0.0, 0.084),
    ]
    got = first_order(lambda _maths, p, m, v, f, t: 1000 * m * p / (v + f + t), lines)
    agrees(got.value, "1002.7")
    agrees(got.u, "0.835199")


def test_a_straight_line_between_two_buffers() -> None:
    # JCGM GUM-5:2026, example 1 (seen in a secondary source): pH between two measured points
    values = [-1.875, 6.15, -26.35, 6.8640, 7.4157]
    widths = [0.0250, 0.0289, 0.0289, 0.0051, 0.0051]
    lines = [Line(str(i), v, u, Shape.NORMAL) for i, (v, u) in enumerate(zip(values, widths, strict=True))]
    got = first_order(lambda _maths, e, e1, e2, p1, p2: p1 + (e - e1) / (e2 - e1) * (p2 - p1), lines)
    agrees(got.value, "7.0002")
    agrees(got.u, "0.0041")


def test_a_decay() -> None:
    # JCGM GUM-5:2026, example 14 (seen in a secondary source): A = A0·exp(−2.73·ln 2/T)
    lines = [Line("activity", 11.450, 0.05, Shape.NORMAL), Line("half-life", 32.9, 1.4, Shape.NORMAL)]
    got = first_order(lambda maths, a, t: a * maths.exp(-2.73 * math.log(2) / t), lines)
    agrees(got.value, "10.810")
    agrees(got.u, "0.054")


@pytest.mark.parametrize(
    ("probability", "z"), [(0.80, "0.84"), (0.90, "1.28"), (0.95, "1.64"), (0.99, "2.33"), (0.999, "3.09")]
)
def test_one_sided_factors(probability: float, z: str) -> None:
    # JCGM 106:2012, 7.3, table 1; values from memory
    agrees(coverage_factor(math.inf, 2 * probability - 1), z)


@pytest.mark.parametrize(
    ("adjusted", "used", "ratio"),
    [
        ((52.2953, 80.0), (19.43, 2240.0), "0.9966006"),
        ((45.0, 0.0), (0.0, 0.0), "0.99736162"),
        ((45.0, 0.0), (60.0, 0.0), "1.00132357"),
        ((39.74, 1609.0), (51.5, 35.0), "1.0015744"),
    ],
)
def test_a_force_type_scale_moved(
    adjusted: tuple[float, float], used: tuple[float, float], ratio: str
) -> None:
    # [calc] reading = mass·g_used/g_adjusted, normal gravity by boule 0.6 (closed form)
    there, here = (normal_gravity_m_s2(lat, height_metre=h) for lat, h in (adjusted, used))
    agrees(here / there, ratio)
