"""What a measurement leaves of a quantity that was known beforehand to lie between two ends."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise


@dataclass(frozen=True, slots=True)
class Posterior:
    """Mean, standard deviation, and the interval with equal tails, in the unit of the places."""

    mean: float
    u: float
    low: float
    high: float


def posterior(
    places: Sequence[float], log_likelihoods: Sequence[float], *, probability: float = 0.95
) -> Posterior:
    """A quantity after a measurement, each of its places having been as likely as any other before.

    places: evenly spaced from the lower to the upper end, rising, two or more.
    log_likelihoods: natural logarithm of the likelihood at each, up to a common constant; finite.
    probability: of the interval, between 0 and 1.
    Source: Bayes' theorem with a rectangular prior (JCGM 101:2008 6.4.2), by trapezes.
    Left out: anything narrower than one step between the places: the interval is never much narrower.
    """
    top = max(log_likelihoods)
    density = [math.exp(each - top) for each in log_likelihoods]
    cells = [(a + b) / 2 for a, b in pairwise(density)]
    middles = [(a + b) / 2 for a, b in pairwise(places)]
    whole = math.fsum(cells)
    mean = math.fsum(c * x for c, x in zip(cells, middles, strict=True)) / whole
    square = math.fsum(c * (x - mean) ** 2 for c, x in zip(cells, middles, strict=True)) / whole
    within_cell = (places[1] - places[0]) ** 2 / 12
    reached = [0.0, *(part / whole for part in accumulate(cells))]
    tail = (1 - probability) / 2
    low, high = (_place(level, reached, places) for level in (tail, 1 - tail))
    return Posterior(mean, math.sqrt(square + within_cell), low, high)


def _place(level: float, reached: Sequence[float], places: Sequence[float]) -> float:
    """Where so much of the probability lies below."""
    i = next(i for i, part in enumerate(reached) if part >= level)
    share = (level - reached[i - 1]) / (reached[i] - reached[i - 1])
    return places[i - 1] + share * (places[i] - places[i - 1])
