"""Laws of adjusting: scale, mirror, order of points, what a shift does to the best shift."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelyard.adjustment import (
    GainPrior,
    Mending,
    Point,
    Reading,
    Turned,
    advise,
    best_shift,
    chebyshev_line,
    learn,
    outlook,
    restricted_range,
)

quick = settings(derandomize=True, max_examples=60, deadline=None)
few = settings(derandomize=True, max_examples=15, deadline=None)

numbers = st.floats(-5, 5).map(lambda x: round(x, 3))
points = st.lists(
    st.tuples(numbers, st.floats(0.2, 4), st.sampled_from([-2.0, -1.0, 0.5, 1.0, 3.0])),
    min_size=2,
    max_size=6,
)
TARGETS = (20.0, 60.0, 100.0)
three = st.tuples(numbers, numbers, numbers)


def columns(rows: list[tuple[float, float, float]]) -> tuple[list[float], list[float], list[float]]:
    return [d for d, _, _ in rows], [limit for _, limit, _ in rows], [e for _, _, e in rows]


@quick
@given(points, st.floats(0.1, 10))
def test_the_best_shift_goes_with_the_unit_and_the_mirror(
    rows: list[tuple[float, float, float]], factor: float
) -> None:
    deviations, limits, effects = columns(rows)
    one = best_shift(deviations, limits, effects=effects)
    other = best_shift(
        [d * factor for d in deviations], [x * factor for x in limits], effects=[e * factor for e in effects]
    )
    assert (other.amount, other.worst) == pytest.approx((one.amount, one.worst), abs=1e-9)
    mirrored = best_shift([-d for d in deviations], limits, effects=effects)
    assert mirrored.worst == pytest.approx(one.worst, abs=1e-9)
    turned = best_shift(deviations, limits, effects=[-e for e in effects])
    assert (-turned.amount, turned.worst) == pytest.approx((one.amount, one.worst), abs=1e-9)


@quick
@given(points, st.floats(-3, 3))
def test_turning_beforehand_changes_how_far_and_not_how_good(
    rows: list[tuple[float, float, float]], amount: float
) -> None:
    deviations, limits, effects = columns(rows)
    one = best_shift(deviations, limits, effects=effects)
    moved = [d + amount * e for d, e in zip(deviations, effects, strict=True)]
    other = best_shift(moved, limits, effects=effects)
    assert other.worst == pytest.approx(one.worst, abs=1e-9)


@quick
@given(points)
def test_the_order_of_points_does_not_matter_and_fewer_points_are_never_worse(
    rows: list[tuple[float, float, float]],
) -> None:
    deviations, limits, effects = columns(rows)
    one = best_shift(deviations, limits, effects=effects)
    backwards = best_shift(deviations[::-1], limits[::-1], effects=effects[::-1])
    assert backwards.worst == pytest.approx(one.worst, abs=1e-12)
    assert best_shift(deviations[1:], limits[1:], effects=effects[1:]).worst <= one.worst + 1e-12


@quick
@given(three)
def test_two_adjusters_are_never_worse_than_one(deviations: tuple[float, float, float]) -> None:
    limits = [0.03 * t for t in TARGETS]
    both = chebyshev_line(TARGETS, deviations, limits=limits).worst
    for effects in ([1.0] * 3, list(TARGETS)):
        assert both <= best_shift(deviations, limits, effects=effects).worst + 1e-9


@quick
@given(three, st.floats(0.005, 0.06))
def test_a_stretch_keeps_the_limit_at_its_ends_and_between(
    deviations: tuple[float, float, float], limit: float
) -> None:
    got = restricted_range(TARGETS, deviations, limit_ratio=limit, effects=[1.0, 1.0, 1.0])
    if got is None:
        return
    assert got.shift.worst <= 1 + 1e-6
    assert got.low_newton_metre == TARGETS[0] or got.high_newton_metre == TARGETS[-1]
    for target, deviation in zip(TARGETS, deviations, strict=True):
        if got.low_newton_metre <= target <= got.high_newton_metre:
            assert abs(deviation + got.shift.amount) <= limit * target * (1 + 1e-6)


@few
@given(three, st.sampled_from([-0.5, -0.25, 0.25, 0.5]), numbers)
def test_the_mirror_image_is_turned_the_other_way(
    found: tuple[float, float, float], turns: float, rise: float
) -> None:
    """All senses of turning named the other way round."""
    kit = [Point(t, 0.01) for t in TARGETS]
    first = [Reading(d, 0.2) for d in found]
    after = tuple(Reading(d + rise / 2, 0.2) for d in found)
    one = advise(learn(kit, first, [Turned(turns, after)], prior=GainPrior(4.0, 0.5, 0.7)))
    other = advise(learn(kit, first, [Turned(-turns, after)], prior=GainPrior(4.0, 0.5, 0.3)))
    assert one.sort is other.sort
    assert one.turns == pytest.approx(-other.turns)
    assert one.sense_probability == pytest.approx(other.sense_probability)


@few
@given(three, st.floats(0.1, 10))
def test_advice_goes_with_the_unit(found: tuple[float, float, float], factor: float) -> None:
    def asked(by: float) -> float:
        kit = [Point(by * t, 0.01) for t in TARGETS]
        first = [Reading(by * d, by * 0.2) for d in found]
        after = tuple(Reading(by * (d + 1.0), by * 0.2) for d in found)
        return advise(learn(kit, first, [Turned(0.25, after)], prior=GainPrior(by * 4.0, 0.5))).turns

    assert asked(factor) == pytest.approx(asked(1.0))


@few
@given(three)
def test_wider_limits_are_never_less_likely_met(found: tuple[float, float, float]) -> None:
    first = [Reading(d, 0.2) for d in found]

    def likely(limit: float) -> float:
        belief = learn([Point(t, limit) for t in TARGETS], first, [], prior=GainPrior(4.0, 0.5))
        return outlook(belief, fewest_readings=3, u_kit_ratio=0.003, seed=1).probability

    assert likely(0.06) >= likely(0.03) >= likely(0.01)


@few
@given(three)
def test_one_reading_never_says_that_the_adjuster_cannot(found: tuple[float, float, float]) -> None:
    first = [Reading(5 * d, 0.01) for d in found]
    belief = learn([Point(t, 0.001) for t in TARGETS], first, [], prior=GainPrior(4.0, 0.5))
    said = outlook(belief, fewest_readings=1, u_kit_ratio=0.0, seed=1).mending
    assert said is not Mending.CANNOT
