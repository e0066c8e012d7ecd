"""What is common to all points and what differs between them: level and slope, shared and free ±."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.evaluation.propagation import FirstOrder, covariance

COVERAGE = 1.959963984540054  # two-sided 95 % of a normal; first order, for orientation


@dataclass(frozen=True, slots=True)
class LevelAndSlope:
    """A straight line through the deviations of one direction, in percent.

    level: mean over the points; level_expanded: the ± that all points share (an arm, a scale), in full.
    slope: rise from the lowest to the highest point; slope_expanded: its ±, free of what all points share.
    """

    level_percent: float
    level_expanded_percent: float
    slope_percent: float
    slope_expanded_percent: float


def level_and_slope(
    targets_newton_metre: Sequence[float], results: Sequence[FirstOrder], deviations: Sequence[float]
) -> LevelAndSlope:
    """Level and slope of the deviations against torque.

    targets_newton_metre: of the points, at least two different ones. results: first order at each point;
    deviations: as ratios. All of shape (points,).
    Source: least squares with the covariance of JCGM 100:2008 F.1.2.3 through shared lines; own derivation,
    docs/explanation/uncertainty.md.
    """
    n = len(results)
    matrix = [
        [a.u**2 if i == j else covariance(a, b) for j, b in enumerate(results)] for i, a in enumerate(results)
    ]
    shared = [[covariance(a, b) for b in results] for a in results]
    mean = math.fsum(targets_newton_metre) / n
    spread = math.fsum((t - mean) ** 2 for t in targets_newton_metre)
    reach = max(targets_newton_metre) - min(targets_newton_metre)
    level = [1 / n] * n
    slope = [(t - mean) / spread * reach for t in targets_newton_metre]
    return LevelAndSlope(
        100 * _combined(level, deviations),
        100 * COVERAGE * _u(level, shared),
        100 * _combined(slope, deviations),
        100 * COVERAGE * _u(slope, matrix),
    )


def _combined(weights: Sequence[float], values: Sequence[float]) -> float:
    return math.fsum(w * v for w, v in zip(weights, values, strict=True))


def _u(weights: Sequence[float], matrix: Sequence[Sequence[float]]) -> float:
    variance = math.fsum(
        weights[i] * weights[j] * c for i, row in enumerate(matrix) for j, c in enumerate(row)
    )
    return math.sqrt(max(0.0, variance))
