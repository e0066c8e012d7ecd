"""The maximum-likelihood threshold, for comparison; refused where it does not exist."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.errors import InputRefused
from steelyard.readings.threshold.answer import Answer, bracket
from steelyard.readings.threshold.grid import log_between

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

STEP = 1e-4  # in μ/σ and 1/σ, for the curvature at the top
MOST_STEPS = 2_000
LEAST = -1e6  # in place of the logarithm of a probability that underflows


@dataclass(frozen=True, slots=True)
class Likeliest:
    """mean, s: of the normal trips, with standard errors from the observed information. log_likelihood."""

    mean: float
    s: float
    mean_error: float
    s_error: float
    log_likelihood: float


def likeliest_threshold(answers: Sequence[Answer], *, counts: Sequence[int] | None = None) -> Likeliest:
    """Mean and standard deviation of normal trips under which the answers are likeliest.

    answers: any mix of clicks, no-clicks and brackets, at levels of any one unit. counts: how often each was
        given, ≥ 0; None: once each.
    Raises InputRefused where no finite maximum exists, see `has_likeliest`.
    Source: interval-censored normal likelihood, which is log-concave in μ/σ and 1/σ, so that there is one
        maximum at most (Burridge 1981, from memory).
    """
    import numpy as np
    from scipy.optimize import minimize

    given = _given(answers, counts)
    if not _is_attained(given):
        raise InputRefused("trials", len(answers), "want-overlap")
    ends = [x for a in given for x in (a.low_percent, a.high_percent) if math.isfinite(x)]
    middle, width = float(np.mean(ends)), float(np.std(ends))

    def loss(at: "Table") -> float:
        """Of μ/σ and 1/σ, levels counted from the middle in widths."""
        if at[1] <= 0:
            return math.inf
        place, scatter = np.array(middle + width * at[0] / at[1]), np.array(width / at[1])
        terms = (n * float(log_between(place, scatter, answer)) for answer, n in given.items())
        return -sum(max(term, LEAST) for term in terms)

    at = np.array([0.0, 1.0])
    for tolerance in (1e-6, 1e-12):  # a simplex that is begun anew does not stay where the first one shrank
        options = {"xatol": tolerance, "fatol": tolerance, "maxiter": MOST_STEPS}
        at = minimize(loss, at, method="Nelder-Mead", options=options).x  # type: ignore[call-overload]
    a, b = map(float, at)
    known = np.linalg.inv(_curvature(loss, at))
    by_mean, by_s = np.array([1 / b, -a / b**2]), np.array([0.0, -1 / b**2])
    return Likeliest(
        mean=middle + width * a / b,
        s=width / b,
        mean_error=width * math.sqrt(float(by_mean @ known @ by_mean)),
        s_error=width * math.sqrt(float(by_s @ known @ by_s)),
        log_likelihood=-loss(at),
    )


def has_likeliest(answers: Sequence[Answer], *, counts: Sequence[int] | None = None) -> bool:
    """Whether a finite maximum exists.

    No threshold may suit all answers, not even on their ends, or ever smaller scatter is ever likelier: some
    trip was shown to lie above a level, and some other not above a lower level. Both answers at one level
    are not enough. And where no answer has two ends, the clicks must on the average have come at higher
    levels than the no-clicks, or ever larger scatter is ever likelier.
    Source: the boundary of the log-concave likelihood in μ/σ and 1/σ, own derivation; for binary answers
        Silvapulle 1981 (from memory).
    """
    return _is_attained(_given(answers, counts))


def _given(answers: Sequence[Answer], counts: Sequence[int] | None) -> dict[Answer, int]:
    """Answers that were given, with how often."""
    given: dict[Answer, int] = {}
    for answer, n in zip(answers, [1] * len(answers) if counts is None else counts, strict=True):
        if n:
            given[answer] = given.get(answer, 0) + n
    return given


def _is_attained(given: dict[Answer, int]) -> bool:
    low, high = bracket(list(given))
    if not (math.isfinite(low) and math.isfinite(high) and low > high):
        return False
    if any(math.isfinite(a.low_percent) and math.isfinite(a.high_percent) for a in given):
        return True
    clicks = {a.high_percent: n for a, n in given.items() if math.isinf(a.low_percent)}
    others = {a.low_percent: n for a, n in given.items() if math.isinf(a.high_percent)}
    return _mean(clicks) > _mean(others)


def _mean(levels: dict[float, int]) -> float:
    return math.fsum(x * n for x, n in levels.items()) / sum(levels.values())


def _curvature(loss: "Callable[[Table], float]", at: "Table") -> "Table":
    """Second differences of the loss."""
    import numpy as np

    steps = STEP * np.minimum(1.0, at[1]) * np.eye(2)

    def second(one: "Table", two: "Table") -> float:
        ahead = loss(at + one + two) + loss(at - one - two)
        aside = loss(at + one - two) + loss(at - one + two)
        return (ahead - aside) / 4

    table: Table = np.array([[second(one, two) for two in steps] for one in steps]) / steps.max() ** 2
    return table
