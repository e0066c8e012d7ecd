"""Likeliest thresholds against statsmodels, SciPy and surpyval."""

import math
import warnings
from typing import Any

import numpy as np
import pytest
from scipy import optimize, stats

from steelyard.readings.threshold import Answer, clicked, has_likeliest, likeliest_threshold, not_clicked

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import statsmodels.api as sm

OPEN = math.inf
SETS = {
    "four pours that meet": [(1.0, 2.0), (2.0, 3.0), (2.5, 3.5), (0.0, 1.0)],
    "pours and runs that never clicked": [
        (45.2, 45.5),
        (45.0, 45.6),
        (45.9, 46.0),
        (45.5, 45.8),
        (46.2, OPEN),
        (46.0, OPEN),
    ],
    "clicks, no-clicks and pours": [
        (-OPEN, 0.5),
        (0.2, OPEN),
        (1.0, OPEN),
        (-OPEN, 1.2),
        (0.1, 0.6),
        (0.7, 0.8),
    ],
}
BY_SURPYVAL = {
    # surpyval 0.25, Normal.fit(x=…, c=…) with c −1, 1, 2 for clicks, no-clicks and pours; it is no dependency
    # even of development (29 packages), so its numbers stand here; it stops at about six digits
    "four pours that meet": (1.8744749445558677, 0.913093781268629),
    "pours and runs that never clicked": (45.85461605963322, 0.45716480252581326),
    "clicks, no-clicks and pours": (0.6548664709132177, 0.3755290024005264),
}


fmin: Any = optimize.fmin
censored: Any = stats.CensoredData
fit: Any = stats.norm.fit


def patient(func: Any, x0: Any, args: Any = (), disp: int = 0) -> Any:
    return fmin(func, x0, args=args, disp=disp, xtol=1e-12, ftol=1e-12, maxiter=40_000)


def by_scipy(ends: list[tuple[float, float]]) -> tuple[float, float]:
    """Mean and standard deviation by SciPy's censored fit."""
    given = censored(
        interval=[each for each in ends if all(map(math.isfinite, each))],
        left=[high for low, high in ends if math.isinf(low)],
        right=[low for low, high in ends if math.isinf(high)],
    )
    mean, s = fit(given, optimizer=patient)
    return float(mean), float(s)


@pytest.mark.parametrize("name", SETS)
def test_brackets_and_open_runs_agree_with_scipy(name: str) -> None:
    got = likeliest_threshold([Answer(*each) for each in SETS[name]])
    assert (got.mean, got.s) == pytest.approx(by_scipy(SETS[name]), rel=2e-7)


@pytest.mark.parametrize("name", SETS)
def test_brackets_and_open_runs_agree_with_surpyval(name: str) -> None:
    got = likeliest_threshold([Answer(*each) for each in SETS[name]])
    assert (got.mean, got.s) == pytest.approx(BY_SURPYVAL[name], rel=2e-6)


def drawn(seed: int) -> tuple[list[float], list[bool]]:
    """Ten to forty trials at settable levels about a threshold."""
    draw = np.random.default_rng(seed)
    count = int(draw.integers(10, 41))
    levels = 0.5 * draw.integers(-6, 7, count)
    trips = draw.normal(0.3, 1.5, count)
    return [float(x) for x in levels], [bool(trip <= x) for trip, x in zip(trips, levels, strict=True)]


@pytest.mark.parametrize("seed", range(40))
def test_random_trials_agree_with_a_probit(seed: int) -> None:
    """Mean −b₀/b₁, s 1/b₁ and their standard errors; where ours refuses, no such slope exists."""
    levels, responded = drawn(seed)
    given = [clicked(x) if yes else not_clicked(x) for x, yes in zip(levels, responded, strict=True)]
    if not has_likeliest(given):
        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore")
            assert is_degenerate(levels, responded)
        return
    probit = fitted(levels, responded)
    b0, b1 = probit.params
    got = likeliest_threshold(given)
    assert got.mean == pytest.approx(-b0 / b1, rel=1e-6, abs=1e-6)
    assert got.s == pytest.approx(1 / b1, rel=1e-6)
    assert got.log_likelihood == pytest.approx(probit.llf, rel=1e-10)
    by_mean = np.array([-1 / b1, b0 / b1**2])
    known = probit.cov_params()
    assert got.mean_error == pytest.approx(math.sqrt(by_mean @ known @ by_mean), rel=1e-4)
    assert got.s_error == pytest.approx(math.sqrt(known[1, 1]) / b1**2, rel=1e-4)


def fitted(levels: list[float], responded: list[bool]) -> Any:
    model = sm.Probit(np.array(responded, dtype=float), sm.add_constant(np.array(levels)))
    return model.fit(disp=0, tol=1e-14, maxiter=200)


def is_degenerate(levels: list[float], responded: list[bool]) -> bool:
    """A probit that cannot be fitted, is perfect, or falls with the level."""
    try:
        slope = fitted(levels, responded).params[1]
    except (np.linalg.LinAlgError, ValueError):
        return True
    yes = [x for x, y in zip(levels, responded, strict=True) if y]
    no = [x for x, y in zip(levels, responded, strict=True) if not y]
    return not yes or not no or max(no) <= min(yes) or slope <= 1e-9


def test_a_likelihood_that_is_greatest_for_endless_scatter_is_refused() -> None:
    """Clicks at lower levels than the no-clicks: statsmodels finds a slope below zero."""
    levels, responded = [0.0, 1.0, 2.0, 3.0, 1.0], [True, False, True, False, False]
    given = [clicked(x) if yes else not_clicked(x) for x, yes in zip(levels, responded, strict=True)]
    assert fitted(levels, responded).params[1] < 0
    assert not has_likeliest(given)
