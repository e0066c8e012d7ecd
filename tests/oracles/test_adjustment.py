"""The best shift and the Chebyshev line against SciPy's minimisers and the closed form of pairs."""

import itertools

import numpy as np
import pytest
from scipy.optimize import minimize, minimize_scalar

from steelyard.adjustment import best_shift, chebyshev_line

Case = tuple[list[float], list[float], list[float]]


def drawn(seed: int, *, fewest: int = 2) -> Case:
    """Deviations, limits and effects of up to six points."""
    draw = np.random.default_rng(seed)
    count = int(draw.integers(fewest, 7))
    return (
        [float(d) for d in draw.normal(0, 3, count)],
        [float(limit) for limit in draw.uniform(0.5, 4, count)],
        [float(e) for e in draw.uniform(0.2, 3, count) * draw.choice([-1, 1], count)],
    )


@pytest.mark.parametrize("seed", range(60))
def test_best_shift_agrees_with_a_search(seed: int) -> None:
    deviations, limits, effects = map(np.array, drawn(seed))
    searched = minimize_scalar(
        lambda z: float((abs(deviations + z * effects) / limits).max()),
        bracket=(-20, 20),
        options={"xtol": 1e-12},
    )
    got = best_shift(list(deviations), list(limits), effects=list(effects))
    assert got.worst == pytest.approx(searched.fun, rel=1e-7)
    assert got.worst <= searched.fun + 1e-12
    assert float((abs(deviations + got.amount * effects) / limits).max()) == pytest.approx(got.worst)


@pytest.mark.parametrize("seed", range(60))
def test_equal_effects_agree_with_the_closed_form_of_the_worst_pair(seed: int) -> None:
    """z = −(d_i·l_j + d_j·l_i)/(l_i + l_j) of the pair with the largest |d_i − d_j|/(l_i + l_j)."""
    deviations, limits, _ = drawn(seed)
    points = list(zip(deviations, limits, strict=True))
    (d, one), (f, two) = max(
        itertools.combinations(points, 2),
        key=lambda pair: abs(pair[0][0] - pair[1][0]) / (pair[0][1] + pair[1][1]),
    )
    got = best_shift(deviations, limits, effects=[1.0] * len(limits))
    assert got.amount == pytest.approx(-(d * two + f * one) / (one + two))
    assert got.worst == pytest.approx(abs(d - f) / (one + two))


@pytest.mark.parametrize("seed", range(30))
def test_the_line_is_no_worse_than_any_that_a_search_finds(seed: int) -> None:
    deviations, limits, _ = drawn(seed)
    places = [float(20 * i + 20) for i in range(len(limits))]
    x, y, limit = map(np.array, (places, deviations, limits))
    got = chebyshev_line(places, deviations, limits=limits)

    def loss(at: "np.typing.NDArray[np.float64]") -> float:
        return float((abs(y - at[0] - at[1] * x) / limit).max())

    assert loss(np.array([got.intercept, got.slope])) == pytest.approx(got.worst, abs=1e-9)
    start = np.array([got.intercept, got.slope])
    searched = minimize(loss, start + [0.3, 0.01], method="Nelder-Mead", options={"maxiter": 4_000})
    assert got.worst <= searched.fun + 1e-9


@pytest.mark.parametrize("seed", range(30))
def test_the_line_agrees_with_the_best_of_all_alternations_of_three(seed: int) -> None:
    deviations, limits, _ = drawn(seed, fewest=3)
    places = [float(20 * i + 20) for i in range(len(limits))]
    got = chebyshev_line(places, deviations, limits=limits)
    heights = []
    for three in itertools.combinations(zip(places, deviations, limits, strict=True), 3):
        table = [[1, x, sign * limit] for (x, _, limit), sign in zip(three, (1, -1, 1), strict=True)]
        heights.append(abs(float(np.linalg.solve(np.array(table), [y for _, y, _ in three])[2])))
    assert got.worst == pytest.approx(max(heights), rel=1e-8)
