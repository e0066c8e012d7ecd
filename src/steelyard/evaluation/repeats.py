"""Readings under the same conditions: mean, spread, the first pull, and drift from pull to pull."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Repeats:
    """What n readings say together, in the unit of the readings.

    mean, s: arithmetic mean and experimental standard deviation; s is 0.0 for one reading.
    u: s/√n. dof: n − 1. first_error: first reading minus the mean of the others.
    trend: slope of a straight line per pull; trend_t: slope over its standard error, 0.0 below 3 readings.
    """

    n: int
    mean: float
    s: float
    first_error: float
    trend: float
    trend_t: float

    @property
    def u(self) -> float:
        """Standard uncertainty of the mean, s/√n."""
        return self.s / math.sqrt(self.n)

    @property
    def dof(self) -> int:
        """Degrees of freedom behind s."""
        return self.n - 1


def repeats(readings: Sequence[float]) -> Repeats:
    """Mean, spread, first-pull error and trend of readings, shape (n,), n ≥ 1, in the order they were taken.

    Source: JCGM 100:2008 4.2. First error and trend: own choice of two plain indicators.
    """
    n = len(readings)
    mean = statistics.fmean(readings)
    s = statistics.stdev(readings) if n > 1 else 0.0
    first = readings[0] - statistics.fmean(readings[1:]) if n > 1 else 0.0
    trend, trend_t = _trend(readings, mean)
    return Repeats(n, mean, s, first, trend, trend_t)


def _trend(readings: Sequence[float], mean: float) -> tuple[float, float]:
    n = len(readings)
    if n < 3:
        return 0.0, 0.0
    middle = (n - 1) / 2
    spread = n * (n * n - 1) / 12
    slope = math.fsum((i - middle) * x for i, x in enumerate(readings)) / spread
    left = math.fsum((x - mean - slope * (i - middle)) ** 2 for i, x in enumerate(readings))
    error = math.sqrt(left / (n - 2) / spread)
    return slope, slope / error if error > 0.0 else 0.0
