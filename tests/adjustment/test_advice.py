"""The advice at the adjuster: a small test turn, a learned sense, when to stop, what cannot be mended."""

import pytest

from steelyard.adjustment import (
    GainPrior,
    Mending,
    Point,
    Reading,
    Sort,
    Turned,
    advise,
    learn,
    outlook,
)
from steelyard.adjustment.advice import is_done

POINTS = [Point(20.0, 0.01), Point(60.0, 0.01), Point(100.0, 0.01)]
UNKNOWN = GainPrior(4.0, 0.5)


def readings(*deviations: float, u: float = 0.15) -> tuple[Reading, ...]:
    return tuple(Reading(d, u) for d in deviations)


def test_the_first_turn_is_a_small_one_while_the_sense_is_unknown() -> None:
    got = advise(learn(POINTS, readings(-3, -3, -3), [], prior=UNKNOWN))
    assert got.sort is Sort.TEST
    assert 1 / 8 <= abs(got.turns) <= 1 / 2
    assert got.sense_probability == pytest.approx(0.5)
    assert got.straight_turns is None
    assert not got.is_shortened


def test_a_sense_that_is_usual_of_the_kind_is_tried_first() -> None:
    got = advise(learn(POINTS, readings(-3, -3, -3), [], prior=GainPrior(4.0, 0.5, 0.7)))
    assert got.sort is Sort.TEST
    assert got.turns > 0
    low = advise(learn(POINTS, readings(-3, -3, -3), [], prior=GainPrior(4.0, 0.5, 0.2)))
    assert low.turns < 0


def test_the_sense_is_learned_from_a_turn_that_went_the_wrong_way() -> None:
    turned = [Turned(0.25, readings(-4, -4, -4))]
    belief = learn(POINTS, readings(-3, -3, -3), turned, prior=UNKNOWN)
    assert belief.rises_probability < 0.01
    got = advise(belief)
    assert got.sort is Sort.TURN
    assert got.turns < 0
    assert got.sense_probability > 0.99


def test_a_prior_belief_in_the_sense_yields_to_what_is_read() -> None:
    """The sense of turning reversed by mistake is noticed from the readings."""
    turned = [Turned(0.5, readings(-5, -5, -5))]
    belief = learn(POINTS, readings(-3, -3, -3), turned, prior=GainPrior(4.0, 0.5, 0.95))
    assert belief.rises_probability < 0.05


def test_good_as_it_is_stays() -> None:
    got = advise(learn(POINTS, readings(0.02, -0.1, 0.1, u=0.05), [], prior=UNKNOWN))
    assert got.sort is Sort.STAY
    assert got.turns == 0


def test_one_lucky_reading_is_not_believed_against_all_before() -> None:
    """Read inside once, while start, turn and gain say that it is far out."""
    sure = GainPrior(4.0, 0.05, 0.99)
    turned = [Turned(0.25, (Reading(0.0, 3.0),))]
    got = advise(learn([Point(100.0, 0.01)], [Reading(-5.0, 0.1)], turned, prior=sure))
    assert got.sort is Sort.TURN


def test_one_unlucky_reading_is_no_end() -> None:
    """Done is what reads inside the limit, however good it is held to be."""
    point, start = [Point(100.0, 0.01)], [Reading(0.5, 0.05)]
    assert is_done(learn(point, start, [Turned(0.0, (Reading(0.9, 0.5),))], prior=UNKNOWN))
    assert not is_done(learn(point, start, [Turned(0.0, (Reading(1.1, 0.5),))], prior=UNKNOWN))


def test_what_a_turn_did_is_told_apart_by_point() -> None:
    """Thrice as much at the top as at the bottom: an adjuster that moves a percentage."""
    turned = [Turned(0.5, readings(0.4, 1.2, 2.0, u=0.05))]
    belief = learn(POINTS, readings(0, 0, 0, u=0.05), turned, prior=UNKNOWN)
    rises = belief.weights @ belief.effects
    assert rises[2] > 2 * rises[0]


def test_a_point_that_was_not_read_is_inferred_from_the_others() -> None:
    turned = [Turned(0.5, (Reading(-1.0, 0.1), None, None))]
    belief = learn(POINTS, readings(-3, -3, -3), turned, prior=UNKNOWN)
    assert belief.deviations_newton_metre[1] == pytest.approx(-1.0, abs=0.7)


def test_lost_motion_is_reckoned_with_where_the_sense_is_reversed() -> None:
    sure = GainPrior(4.0, 0.01, 1.0)
    there = [Turned(0.5, readings(-1, -1, -1, u=0.01))]
    start = readings(-3, -3, -3, u=0.01)
    on = learn(POINTS, start, [*there, Turned(0.25, (None, None, None))], prior=sure)
    back = learn(POINTS, start, [*there, Turned(-0.25, (None, None, None))], prior=sure)
    forward = on.deviations_newton_metre[0] + 1
    backward = -1 - back.deviations_newton_metre[0]
    assert 0.05 < forward - backward < 0.2  # 0.03 turn at 4 N·m per turn


def test_a_tool_with_a_slope_cannot_be_mended_and_has_a_stretch() -> None:
    points = [Point(t, 0.03) for t in (20.0, 60.0, 100.0)]
    belief = learn(points, readings(1.2, -0.5, -4.0, u=0.05), [], prior=UNKNOWN)
    got = outlook(belief, fewest_readings=5, u_kit_ratio=0.0, seed=1)
    assert got.mending is Mending.CANNOT
    assert got.stretch is not None
    assert got.stretch.high_newton_metre == 100
    assert got.best_low_ratio <= got.best_ratio <= got.best_high_ratio


def test_it_is_not_known_while_the_readings_are_few_or_loose() -> None:
    points = [Point(t, 0.03) for t in (20.0, 60.0, 100.0)]
    loose = learn(points, readings(1.2, -0.5, -4.0, u=0.8), [], prior=UNKNOWN)
    assert outlook(loose, fewest_readings=5, u_kit_ratio=0.0, seed=1).mending is Mending.NOT_KNOWN
    few = learn(points, readings(1.2, -0.5, -4.0, u=0.05), [], prior=UNKNOWN)
    assert outlook(few, fewest_readings=2, u_kit_ratio=0.0, seed=1).mending is Mending.NOT_KNOWN


def test_an_even_offset_can_be_mended() -> None:
    turned = [Turned(0.25, readings(-2, -2, -2, u=0.02))]
    belief = learn(POINTS, readings(-3, -3, -3, u=0.02), turned, prior=UNKNOWN)
    got = outlook(belief, fewest_readings=3, u_kit_ratio=0.0, seed=1)
    assert got.mending is Mending.MENDABLE
    assert got.stretch is None


def test_before_a_turn_it_is_not_known_whether_an_even_offset_can_be_mended() -> None:
    """An adjuster that moves all points by one percentage cannot."""
    belief = learn(POINTS, readings(-3, -3, -3, u=0.02), [], prior=UNKNOWN)
    got = outlook(belief, fewest_readings=3, u_kit_ratio=0.0, seed=1)
    assert got.mending is Mending.NOT_KNOWN
    assert 0.1 < got.probability < 0.9
