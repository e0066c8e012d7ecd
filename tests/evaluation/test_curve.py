"""The deviation between the points of a check."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from steelyard.evaluation import CurvePoint, at_shown, at_torque, curve_point, first_order, is_rising
from steelyard.quantities import Line, Shape

LOW = CurvePoint(20.0, 0.02, 0.003, 0.004, dof_free=4)
MIDDLE = CurvePoint(60.0, 0.01, 0.003, 0.002, dof_free=4)
HIGH = CurvePoint(100.0, -0.01, 0.002, 0.006, dof_free=4)
POINTS = (LOW, MIDDLE, HIGH)
SLOPES = st.tuples(*(st.floats(-0.08, 0.08) for _ in range(3)))


def test_halfway_the_deviation_is_the_mean_and_the_difference_counts() -> None:
    # halfway 4t(1 − t) = 1: |0.01 − 0.02|/(2√3) beside shared 0.003 and the larger free part 0.004
    got = at_shown(POINTS, 40.0)
    assert got.deviation_ratio == pytest.approx(0.015)
    assert got.u_ratio == pytest.approx(math.hypot(0.003, 0.004, 0.01 / (2 * math.sqrt(3))))
    assert got.neighbours == (0, 1)


def test_a_quarter_of_the_way_three_quarters_of_the_difference_count() -> None:
    got = at_shown(POINTS, 70.0)
    assert got.deviation_ratio == pytest.approx(0.005)
    extra = 0.75 * 0.02 / (2 * math.sqrt(3))
    assert got.u_ratio == pytest.approx(math.hypot(0.75 * 0.003 + 0.25 * 0.002, 0.006, extra))


@pytest.mark.parametrize(("place", "point"), list(enumerate(POINTS)))
def test_at_a_point_the_point_itself_speaks(place: int, point: CurvePoint) -> None:
    for got in (
        at_shown(POINTS, point.shown_newton_metre),
        at_torque(POINTS, point.torque_newton_metre),
    ):
        assert got.deviation_ratio == point.deviation_ratio
        assert got.u_ratio == pytest.approx(math.hypot(point.u_shared_ratio, point.u_free_ratio))
        assert got.neighbours == (place, place)


@given(part=st.floats(0.01, 0.99), segment=st.integers(0, 1))
def test_between_points_the_free_part_is_never_below_the_worse_neighbour(part: float, segment: int) -> None:
    a, b = POINTS[segment], POINTS[segment + 1]
    shown = a.shown_newton_metre + part * (b.shown_newton_metre - a.shown_newton_metre)
    assert at_shown(POINTS, shown).u_ratio > max(a.u_free_ratio, b.u_free_ratio)


@given(deviations=SLOPES, part=st.floats(0, 1))
def test_the_setting_for_a_torque_gives_that_torque(
    deviations: tuple[float, float, float], part: float
) -> None:
    points = tuple(replace(p, deviation_ratio=d) for p, d in zip(POINTS, deviations, strict=True))
    assume(is_rising(points))
    least, most = points[0].torque_newton_metre, points[-1].torque_newton_metre
    wanted = min(max(least + part * (most - least), least), most)
    got = at_torque(points, wanted)
    assert got.shown_newton_metre == pytest.approx(wanted * (1 + got.deviation_ratio), rel=1e-9)
    assert got.torque_newton_metre == pytest.approx(wanted, rel=1e-9)


def test_nothing_is_known_outside_the_points() -> None:
    for shown in (19.999, 100.001):
        with pytest.raises(ValueError, match="lies outside"):
            at_shown(POINTS, shown)
    for torque in (LOW.torque_newton_metre - 1e-9, HIGH.torque_newton_metre + 1e-9):
        with pytest.raises(ValueError, match="lies outside"):
            at_torque(POINTS, torque)


def test_few_pulls_widen_the_plus_minus() -> None:
    # all of u from two degrees of freedom: t(2) at 95 % is 4.303, JCGM 100:2008 table G.2
    lone = CurvePoint(50.0, 0.0, 0.0, 0.01, dof_free=2)
    assert at_shown((lone,), 50.0).expanded_newton_metre == pytest.approx(50 * 0.01 * 4.303, rel=1e-4)


def test_a_curve_that_falls_is_not_rising() -> None:
    assert is_rising(POINTS)
    assert not is_rising((LOW, replace(MIDDLE, deviation_ratio=2.5)))
    assert not is_rising((LOW, LOW))


def test_a_budget_falls_into_what_is_shared_and_what_is_not() -> None:
    lines = (
        Line("spread", 0.0, 0.003, Shape.NORMAL, dof=4, shared=False),
        Line("reading", 0.0, 0.004, Shape.NORMAL, shared=False),
        Line("arm", 0.01, 0.012, Shape.NORMAL),
    )
    got = curve_point(50.0, first_order(lambda _, a, b, c: a + b + c, lines), shift_ratio=0.005)
    assert got.deviation_ratio == pytest.approx(0.01)
    assert got.u_shared_ratio == pytest.approx(0.013)
    assert got.u_free_ratio == pytest.approx(0.005)
    assert got.dof_shared == math.inf
    assert got.dof_free == pytest.approx(0.005**4 / (0.003**4 / 4))
