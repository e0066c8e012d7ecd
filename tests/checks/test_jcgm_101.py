"""Published numbers of JCGM 101:2008, clause 9, and the exact values behind them.

Published intervals are single runs, so the draws are held against the exact values (own calculation: closed
forms and numerical integration), within the tolerance of a million draws.
"""

import math
from typing import Any

import pytest
from scipy import stats

from printed import agrees
from steelyard.evaluation import coverage_factor, first_order, monte_carlo, second_order
from steelyard.quantities import Line, Shape

NORMAL = Shape.NORMAL
DRAWS = 1_000_000
SEED = 101


def added(_maths: Any, *v: Any) -> Any:
    return sum(v)


def rectangles(*u: float) -> list[Line]:
    return [Line(f"x{i}", 0.0, math.sqrt(3) * each) for i, each in enumerate(u)]


@pytest.mark.parametrize(
    ("lines", "u", "half_width", "exact", "within"),
    [
        # 9.2.2; u seen in a secondary source, 3.92 from memory
        ([Line(f"x{i}", 0.0, 1.0, NORMAL) for i in range(4)], "2.0", "3.92", "3.919927969", 0.02),
        # 9.2.3; seen in a secondary source
        (rectangles(1, 1, 1, 1), "2.0", "3.88", "3.879406741", 0.02),
        # 9.2.4; seen in a secondary source
        (rectangles(1, 1, 1, 10), "10.1", "17.0", "17.015814100", 0.1),
    ],
    ids=["9.2.2 normal", "9.2.3 rectangular", "9.2.4 one wide rectangle"],
)
def test_a_sum_of_four_has_the_printed_interval(
    lines: list[Line], u: str, half_width: str, exact: str, within: float
) -> None:
    result = monte_carlo(added, lines, seed=SEED, draws=DRAWS)
    agrees(first_order(added, lines).u, u)
    agrees(result.u, u)
    agrees(float(exact), half_width)
    assert -result.low == pytest.approx(float(exact), abs=within)
    assert result.high == pytest.approx(float(exact), abs=within)
    assert abs(result.high - float(exact)) < 2 * result.tolerance
    assert result.mean == pytest.approx(0.0, abs=5 * result.u / math.sqrt(DRAWS))


def test_the_linear_interval_is_too_wide_for_one_wide_rectangle() -> None:
    """9.2.4: ± 19.9 by the linear law; from memory."""
    agrees(first_order(added, rectangles(1, 1, 1, 10)).expanded(), "19.9")


def weighed(_maths: Any, *v: Any) -> Any:
    """Conventional mass over 100 g of a weight, 9.3.1. [mg]"""
    reference, added_mass, air, weight_density, reference_density = v
    lift = 1 + (air - 1.2) * (1 / weight_density - 1 / reference_density)
    return (reference + added_mass) * lift - 100_000


WEIGHED = [  # table 5; seen in a secondary source
    Line("reference", 100_000.0, 0.050, NORMAL),
    Line("added", 1.234, 0.020, NORMAL),
    Line("air", 1.2, 0.1),
    Line("weight-density", 8000.0, 1000.0),
    Line("reference-density", 8000.0, 50.0),
]


def test_the_linear_law_misses_the_buoyancy_of_a_weight() -> None:
    """Table 6: 0.0539 seen in a secondary source, the interval from memory."""
    result = first_order(weighed, WEIGHED)
    agrees(result.value, "1.2340")
    agrees(result.u, "0.0539")
    assert result.u == pytest.approx(float("0.0538516481"), abs=1e-9)
    agrees(result.value - result.expanded(), "1.1285")
    agrees(result.value + result.expanded(), "1.3395")


def test_mixed_terms_bring_the_buoyancy_back() -> None:
    """Table 6: 0.0750 seen in a secondary source, the interval (from the rounded u) from memory."""
    first = first_order(weighed, WEIGHED)
    result = second_order(weighed, first, cross=True)
    agrees(result.u, "0.0750")
    assert result.u == pytest.approx(float("0.0749634739"), abs=1e-9)
    k = coverage_factor(math.inf)
    agrees(first.value - k * round(result.u, 4), "1.0870")
    agrees(first.value + k * round(result.u, 4), "1.3810")
    assert second_order(weighed, first).u == pytest.approx(first.u)


def test_draws_see_the_buoyancy_of_a_weight() -> None:
    """Exact u and interval: own closed form; the published 0.0754 (from memory) is one run."""
    result = monte_carlo(weighed, WEIGHED, seed=SEED, draws=DRAWS)
    agrees(result.mean, "1.234")
    assert result.u == pytest.approx(float("0.0754797400"), abs=3e-4)
    assert result.low == pytest.approx(float("1.084433"), abs=2e-3)
    assert result.high == pytest.approx(float("1.383567"), abs=2e-3)


SQUARES_U = 0.005


def squares(_maths: Any, first: Any, second: Any) -> Any:
    """Comparison loss of a microwave power meter, 9.4.1."""
    return first * first + second * second


@pytest.mark.parametrize(
    (
        "at",
        "mean",
        "u",
        "linear",
    ),  # table 8, in 1e-6; the first row seen in a secondary source, others from memory
    [("0", "50", "50", "0"), ("0.010", "150", "112", "100"), ("0.050", "2550", "502", "500")],
)
def test_a_sum_of_squares_has_the_printed_mean_and_u(at: str, mean: str, u: str, linear: str) -> None:
    lines = [Line("x1", float(at), SQUARES_U, NORMAL), Line("x2", 0.0, SQUARES_U, NORMAL)]
    first = first_order(squares, lines)
    curved = second_order(squares, first)
    drawn = monte_carlo(squares, lines, seed=SEED, draws=DRAWS)
    agrees(1e6 * first.u, linear)
    agrees(1e6 * (first.value + curved.shift), mean)
    agrees(1e6 * curved.u, u)
    noise = drawn.u / math.sqrt(DRAWS)
    assert drawn.mean == pytest.approx(first.value + curved.shift, abs=5 * noise)
    assert drawn.u == pytest.approx(curved.u, abs=10 * noise)
    for end, quantile in ((drawn.low, 0.025), (drawn.high, 0.975)):
        exact = (
            stats.ncx2.ppf(quantile, 2, (float(at) / SQUARES_U) ** 2)
            if float(at)
            else stats.chi2.ppf(quantile, 2)
        )
        assert end == pytest.approx(exact * SQUARES_U**2, abs=2 * drawn.tolerance)


@pytest.mark.parametrize(
    ("at", "u", "exact"),  # table 9, in 1e-6; 67 and 121 seen in a secondary source, 505 from memory
    [("0", "67", "67.26812"), ("0.010", "121", "120.51971"), ("0.050", "505", "504.50471")],
)
def test_a_shared_part_carries_the_correlation_of_two_squares(at: str, u: str, exact: str) -> None:
    """r = 0.9: what the two inputs have in common is an input of its own."""

    def tied(_maths: Any, x1: Any, x2: Any, common: Any) -> Any:
        return squares(_maths, x1 + common, x2 + common)

    shared, own = SQUARES_U * math.sqrt(0.9), SQUARES_U * math.sqrt(0.1)
    lines = [
        Line("x1", float(at), own, NORMAL),
        Line("x2", 0.0, own, NORMAL),
        Line("common", 0.0, shared, NORMAL),
    ]
    curved = second_order(tied, first_order(tied, lines), cross=True)
    agrees(1e6 * curved.u, u)
    assert 1e6 * curved.u == pytest.approx(float(exact), abs=1e-4)
    assert 1e6 * curved.shift == pytest.approx(50, abs=1e-6)
    drawn = monte_carlo(tied, lines, seed=SEED, draws=DRAWS)
    assert drawn.u == pytest.approx(curved.u, abs=10 * drawn.u / math.sqrt(DRAWS))


@pytest.mark.parametrize(("at", "linear"), [("0.010", "100"), ("0.050", "500")])
def test_a_coefficient_does_the_same_to_first_order(at: str, linear: str) -> None:
    """9.4.3: the linear u is blind to r where one estimate is zero; from memory."""
    lines = [Line("x1", float(at), SQUARES_U, NORMAL), Line("x2", 0.0, SQUARES_U, NORMAL)]
    agrees(1e6 * first_order(squares, lines, correlation=[[1, 0.9], [0.9, 1]]).u, linear)
