"""Mean and standard deviation against certified and published values."""

import pytest

from printed import agrees
from steelyard.evaluation import repeats

GUM_4_4_3 = [96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07]
GUM_4_4_3 += [100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72]


def test_gum_table_1() -> None:
    # JCGM 100:2008, 4.4.3, table 1; data and results from memory, they agree with each other
    got = repeats(GUM_4_4_3)
    agrees(got.mean, "100.145")
    agrees(got.s, "1.489")
    agrees(got.u, "0.333")


@pytest.mark.parametrize(
    ("readings", "mean", "s", "relative"),
    [
        ([10000001, 10000003, 10000002], 10000002.0, 1.0, 1e-12),
        ([1.2, *[1.1, 1.3] * 500], 1.2, 0.1, 1e-12),
        ([1000000.2, *[1000000.1, 1000000.3] * 500], 1000000.2, 0.1, 1e-9),
        ([10000000.2, *[10000000.1, 10000000.3] * 500], 10000000.2, 0.1, 1e-7),
    ],
    ids=["NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"],
)
def test_nist_numerical_accuracy(readings: list[float], mean: float, s: float, relative: float) -> None:
    # NIST StRD, univariate, NumAcc1–4: certified values; looser bounds: binary rounding of the data
    got = repeats(readings)
    assert got.mean == pytest.approx(mean, rel=1e-14)
    assert got.s == pytest.approx(s, rel=relative)


def test_own_example_of_five_pulls() -> None:
    # own worked example: set 100 N·m
    got = repeats([96.1, 97.0, 96.6, 96.8, 96.5])
    agrees(got.mean, "96.60")
    agrees(got.s, "0.34")
    agrees(got.first_error, "-0.625")


def test_a_straight_trend_is_found_and_a_level_one_is_not() -> None:
    # closed form of a least-squares slope
    assert repeats([1.0, 2.0, 3.0, 4.0]).trend == pytest.approx(1.0)
    assert repeats([1.0, 2.0, 2.0, 1.0]).trend == pytest.approx(0.0)
    assert repeats([1.0, 3.0]).trend == 0.0
