"""Best shifts and lines of an adjuster against independently computed examples."""

import pytest

from printed import agrees
from steelyard.adjustment import (
    GainPrior,
    Point,
    Reading,
    Sort,
    Turned,
    advise,
    best_shift,
    chebyshev_line,
    learn,
    restricted_range,
)

# computed independently by a linear programme and by trying all alternations of three points
PRESSURE = [0, 0.2039, 0.4080, 0.6120, 0.8160, 1.0201, 1.2242, 1.4283, 1.6325, 1.8367, 2.0410]
THERMOMETER = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160]
TARGETS = [20.0, 60.0, 100.0]
DEVIATIONS = [1.2, -0.5, -4.0]


@pytest.mark.parametrize(
    ("places", "values", "intercept", "slope", "worst"),
    [
        ([0, 1, 2, 3, 4], [0, 1.1, 1.9, 3.2, 3.9], "0.05", "1.00", "0.15"),
        (PRESSURE, list(range(0, 21, 2)), "0.0019598236", "9.7991180794", "0.0019598236"),
        # JCGM 100:2008, H.3, temperatures less 20 °C
        (
            [t - 20 for t in THERMOMETER],
            CORRECTION,
            "-0.169986372745",
            "0.00220440881764",
            "0.00436653306613",
        ),
    ],
    ids=["MM-5", "MM-P", "MM-H3"],
)
def test_chebyshev_line(
    places: list[float], values: list[float], intercept: str, slope: str, worst: str
) -> None:
    got = chebyshev_line(places, values, limits=[1.0] * len(places))
    agrees(got.intercept, intercept)
    agrees(got.slope, slope)
    agrees(got.worst, worst)


def test_two_adjusters_mend_what_one_cannot() -> None:
    """+1.2, −0.5, −4.0 N·m within 3 %: own example; a line through three points leaves far less."""
    limits = [0.03 * target for target in TARGETS]
    one = best_shift(DEVIATIONS, limits, effects=[1, 1, 1])
    both = chebyshev_line(TARGETS, DEVIATIONS, limits=limits)
    agrees(3 * one.worst, "4.3")
    assert both.worst == pytest.approx(0.25)  # 0.75 %


def test_the_best_shift_of_the_example() -> None:
    """Own example: the pair of 20 and 100 N·m decides, −(1.2·100 − 4·20)/120 leaves 4.33 % at both."""
    got = best_shift(DEVIATIONS, TARGETS, effects=[1, 1, 1])
    assert got.amount == pytest.approx(-1 / 3)
    assert got.worst == pytest.approx(5.2 / 120)


def test_the_range_that_is_left_of_the_example() -> None:
    """Own example: usable from 42 to 100 N·m, with a shift of +1.0 N·m."""
    got = restricted_range(TARGETS, DEVIATIONS, limit_ratio=0.03, effects=[1, 1, 1])
    assert got is not None
    agrees(got.low_newton_metre, "42")
    assert got.high_newton_metre == 100
    agrees(got.shift.amount, "1.0")
    assert got.shift.worst == pytest.approx(1)


@pytest.mark.parametrize("u", [0.3, 0.45, 0.6])
@pytest.mark.parametrize("spread", [0.5, 0.8])
def test_the_second_turn_of_the_example_is_shorter_than_the_straight_line(u: float, spread: float) -> None:
    """Own example: 93.4, after half a turn 96.2, goal 100: a straight line says 0.68 turn.

    By the pull itself 3.8/5.6 of a turn; the deviations as they are believed lie a little otherwise.
    """
    belief = learn(
        [Point(100.0, 0.01)],
        [Reading(-6.6, u)],
        [Turned(0.5, (Reading(-3.8, u),))],
        prior=GainPrior(4.0, spread),
    )
    got = advise(belief)
    assert got.sort is Sort.TURN
    assert got.straight_turns == pytest.approx(0.68, abs=0.04)
    assert 0 < got.turns < 0.68
    assert got.is_shortened
    assert got.needed_low_turns < 0.68 < got.needed_high_turns
