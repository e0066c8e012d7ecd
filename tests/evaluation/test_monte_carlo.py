"""What the draws say: ends of the interval and their tolerance, shapes, and lines without width."""

import math
import statistics
from typing import Any

import numpy as np
import pytest
from scipy import stats

from steelyard.evaluation import Distribution, monte_carlo
from steelyard.evaluation.monte_carlo import sample, summary
from steelyard.quantities import Line, Shape

SEEDS = range(20)
DRAWS = 100_000
EXACT = {  # end of the 95 % interval for a width of 1
    Shape.NORMAL: stats.norm.ppf(0.975),
    Shape.RECTANGULAR: 0.95,
    Shape.TRIANGULAR: 1 - math.sqrt(0.05),
    Shape.ARCSINE: math.sin(0.475 * math.pi),
    Shape.TABULATED: math.sqrt(3) * 0.95,
}
MOMENTS = {  # variance and kurtosis for a width of 1
    Shape.NORMAL: (1.0, 3.0),
    Shape.RECTANGULAR: (1 / 3, 1.8),
    Shape.TRIANGULAR: (1 / 6, 2.4),
    Shape.ARCSINE: (1 / 2, 1.5),
    Shape.TABULATED: (1.0, 1.8),
}
EVEN = tuple(math.sqrt(3) * (2 * (i + 0.5) / 401 - 1) for i in range(401))
"""Places of a rectangle with standard deviation 1, as the tabulated shape holds them."""


def line_of(shape: Shape, value: float, width: float) -> Line:
    return Line("x", value, width, shape, places=EVEN if shape is Shape.TABULATED else ())


def itself(_maths: Any, x: Any) -> Any:
    return x


def runs(line: Line) -> list[Distribution]:
    return [monte_carlo(itself, [line], seed=seed, draws=DRAWS) for seed in SEEDS]


@pytest.mark.parametrize(
    ("line", "end"),
    [
        (Line("x", 0.0, 1.0, Shape.NORMAL), EXACT[Shape.NORMAL]),
        (Line("x", 0.0, 1.0, Shape.NORMAL, dof=4), stats.t.ppf(0.975, 4)),
        (Line("x", 0.0, 1.0, Shape.RECTANGULAR), EXACT[Shape.RECTANGULAR]),
    ],
    ids=["normal", "t(4)", "rectangular"],
)
def test_the_tolerance_covers_the_scatter_of_the_ends(line: Line, end: float) -> None:
    """Two standard errors: about 95 % of 40 ends within it, and the scatter about half of it."""
    results = runs(line)
    misses = [abs(abs(x) - end) / r.tolerance for r in results for x in (r.low, r.high)]
    assert sum(miss <= 1 for miss in misses) >= 36
    scatter = math.sqrt(statistics.fmean(miss * miss for miss in misses))
    assert scatter == pytest.approx(0.5, abs=0.15)


def test_a_mean_of_five_readings_has_the_ends_of_student() -> None:
    line = Line("mean", 10.0, 0.2, Shape.NORMAL, dof=4)
    result = monte_carlo(itself, [line], seed=1, draws=1_000_000)
    half = 0.2 * stats.t.ppf(0.975, 4)
    assert result.low == pytest.approx(10.0 - half, abs=1.5 * result.tolerance)
    assert result.high == pytest.approx(10.0 + half, abs=1.5 * result.tolerance)
    assert result.tolerance < 0.01 * half


@pytest.mark.parametrize("shape", Shape)
def test_drawn_moments_are_those_of_the_shape(shape: Shape) -> None:
    line = line_of(shape, 3.0, 2.0)
    values = sample(itself, [line], seed=2, draws=400_000)
    variance, kurtosis = MOMENTS[shape]
    noise = 5 / math.sqrt(values.size)
    off = (values - 3.0) / 2.0
    assert off.mean() == pytest.approx(0.0, abs=noise * math.sqrt(variance))
    assert (off**2).mean() == pytest.approx(variance, rel=noise * math.sqrt(kurtosis - 1))
    assert (off**4).mean() / variance**2 == pytest.approx(kurtosis, rel=0.03)
    assert (off**3).mean() / variance**1.5 == pytest.approx(0.0, abs=0.03)
    assert line.u == pytest.approx(2.0 * math.sqrt(variance))
    assert line.kurtosis == pytest.approx(kurtosis, rel=1e-4)


@pytest.mark.parametrize("shape", Shape)
def test_the_interval_of_one_line_is_that_of_its_shape(shape: Shape) -> None:
    result = monte_carlo(itself, [line_of(shape, 5.0, 0.1)], seed=3, draws=400_000)
    assert result.high == pytest.approx(5.0 + 0.1 * EXACT[shape], abs=1.5 * result.tolerance)
    assert result.low == pytest.approx(5.0 - 0.1 * EXACT[shape], abs=1.5 * result.tolerance)


@pytest.mark.parametrize("shape", [Shape.RECTANGULAR, Shape.TRIANGULAR, Shape.ARCSINE])
def test_a_bounded_line_never_leaves_its_bounds(shape: Shape) -> None:
    values = sample(itself, [Line("x", 1.0, 0.5, shape)], seed=4, draws=100_000)
    assert values.min() >= 0.5 and values.max() <= 1.5


def test_two_lines_are_drawn_apart() -> None:
    two = [Line("a", 0.0, 1.0, Shape.NORMAL), Line("b", 0.0, 1.0, Shape.NORMAL)]
    product = sample(lambda _maths, a, b: a * b, two, seed=5, draws=200_000)
    assert product.mean() == pytest.approx(0.0, abs=5 / math.sqrt(product.size))


def test_a_model_of_lines_without_width_is_one_number() -> None:
    result = monte_carlo(lambda _maths, a, b: a * b, [Line("a", 3.0), Line("b", 4.0)], seed=6, draws=20_000)
    assert (result.mean, result.u, result.low, result.high, result.tolerance) == (12.0, 0.0, 12.0, 12.0, 0.0)


@pytest.mark.parametrize("draws", [1_000, 1_001, 16_384, 50_001])
@pytest.mark.parametrize("probability", [0.5, 0.95, 0.99])
def test_the_ends_are_the_draws_of_those_ranks(draws: int, probability: float) -> None:
    """The short way to the tails finds the same draws as putting all of them in order."""
    for values in (
        np.random.default_rng(draws).standard_t(2, draws),
        np.random.default_rng(draws).integers(0, 5, draws).astype(float),
        np.sort(np.random.default_rng(draws).random(draws)),
    ):
        result = summary(values, seed=0, probability=probability)
        ordered = np.sort(values)
        rank = round((1 - probability) / 2 * draws)
        assert (result.low, result.high) == (ordered[rank], ordered[draws - 1 - rank])
        near = round(0.2 * rank)
        widest = max(ordered[rank] - ordered[rank - near], ordered[-1 - rank + near] - ordered[-1 - rank])
        share = (1 - probability) / 2
        assert result.tolerance == pytest.approx(2 * math.sqrt(share * (1 - share) * draws) * widest / near)


def test_an_interval_beyond_the_draws_is_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="too few"):
        summary(np.arange(1000.0), seed=0, probability=0.9999)


def test_it_says_how_it_was_made() -> None:
    result = monte_carlo(itself, [Line("x", 0.0, 1.0)], seed=7, draws=5_000, probability=0.9)
    assert (result.seed, result.draws, result.probability) == (7, 5_000, 0.9)
    assert result.high == pytest.approx(0.9, abs=2 * result.tolerance)
