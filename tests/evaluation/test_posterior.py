"""What a measurement leaves of a quantity known to lie between two ends."""

import math

import pytest

from steelyard.evaluation import posterior

PLACES = [i / 2000 for i in range(2001)]


def test_a_measurement_that_says_nothing_leaves_the_rectangle() -> None:
    got = posterior(PLACES, [0.0] * len(PLACES))
    assert got.mean == pytest.approx(0.5)
    assert got.low == pytest.approx(0.025)
    assert got.high == pytest.approx(0.975)
    assert got.u == pytest.approx(1 / math.sqrt(12), rel=1e-6)


def test_two_places_leave_the_whole_rectangle_between_them() -> None:
    got = posterior([0.0, 1.0], [0.0, 0.0])
    assert got.u == pytest.approx(1 / math.sqrt(12))
    assert got.low == pytest.approx(0.025)
    assert got.high == pytest.approx(0.975)


def test_a_sharp_normal_is_left_as_it_is() -> None:
    got = posterior(PLACES, [-(((x - 0.4) / 0.02) ** 2) / 2 for x in PLACES])
    assert got.mean == pytest.approx(0.4)
    assert got.u == pytest.approx(0.02, rel=1e-3)
    # quantile of the normal at 97.5 %, scipy 1.14: 1.959964
    assert got.low == pytest.approx(0.4 - 0.0392, abs=2e-5)
    assert got.high == pytest.approx(0.4392, abs=2e-5)


def test_a_normal_about_the_lower_end_leaves_its_upper_half() -> None:
    got = posterior(PLACES, [-((x / 0.05) ** 2) / 2 for x in PLACES])
    assert got.mean == pytest.approx(0.05 * math.sqrt(2 / math.pi), rel=1e-3)
    assert got.low > 0
    # quantiles of the half-normal at 2.5 and 97.5 %, from the normal at 51.25 and 98.75 %: 0.031338, 2.241403
    assert got.low == pytest.approx(0.05 * 0.031338, rel=1e-3)
    assert got.high == pytest.approx(0.05 * 2.241403, rel=1e-3)


def test_a_measurement_sharper_than_the_grid_still_has_a_width() -> None:
    got = posterior(PLACES, [-(((x - 0.4) / 1e-6) ** 2) / 2 for x in PLACES])
    assert got.u > 1e-4
    assert got.low < 0.4 < got.high


def test_a_common_constant_changes_nothing() -> None:
    logs = [-(((x - 0.7) / 0.1) ** 2) / 2 for x in PLACES]
    one, other = posterior(PLACES, logs), posterior(PLACES, [each - 1024.0 for each in logs])
    assert one.mean == pytest.approx(other.mean)
    assert one.u == pytest.approx(other.u)
    assert one.low == pytest.approx(other.low)
    assert one.high == pytest.approx(other.high)
