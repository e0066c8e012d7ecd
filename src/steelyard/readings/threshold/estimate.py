"""A threshold from yes/no answers: where it lies, how sure, how much the trips scatter."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from steelyard.readings.threshold.answer import Answer, bracket
from steelyard.readings.threshold.grid import Grid, grid_for

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]


MOST_SCATTER_PERCENT = 2.5  # of a tool that is in use, our choice
MOSTLY_USUAL_PERCENT = 2.8  # u, seven tenths of what it is before any answer: our choice
MIDDLE = (0.15865525393145707, 0.8413447460685429)  # one standard deviation of a normal to either side


class Sides(StrEnum):
    """What the answers enclose.

    NONE: no answer yet. ONLY_CLICKS, ONLY_NO_CLICKS: one side alone, so there is a bound and no estimate.
    SEPARATED: every no-click lies below every click: between the two only what is usual for such tools
    speaks. MIXED: the scatter shows, the answers speak for themselves.
    """

    NONE = "none"
    ONLY_CLICKS = "only-clicks"
    ONLY_NO_CLICKS = "only-no-clicks"
    SEPARATED = "separated"
    MIXED = "mixed"


@dataclass(frozen=True)
class Threshold:
    """What the answers say, deviations T/X − 1 of the mean trip torque from the setting. [%]

    percent: mean of the posterior. low_percent, high_percent: its 95 % interval.
    u_percent: standard uncertainty, half of the middle 68 % of the posterior; like s/√n of readings it does
    not grow with the tails that few answers leave. sd_percent: the standard deviation, tails and all.
    scatter_percent: from trip to trip, with its 95 % interval: posterior mean and ends.
    bracket_low_percent, bracket_high_percent: highest level without, lowest with a click; infinite where
    there is none.
    places, weights: the posterior of the threshold itself, shape (n,), the weights sum to one.
    """

    sides: Sides
    count: int
    percent: float
    u_percent: float
    sd_percent: float
    low_percent: float
    high_percent: float
    scatter_percent: float
    scatter_low_percent: float
    scatter_high_percent: float
    bracket_low_percent: float
    bracket_high_percent: float
    places: "Table"
    weights: "Table"

    @property
    def is_two_sided(self) -> bool:
        """There is an estimate, not a bound alone."""
        return self.sides in (Sides.SEPARATED, Sides.MIXED)

    @property
    def is_contradictory(self) -> bool:
        """No tool scatters as these answers would need: one of them is probably wrong."""
        return self.scatter_low_percent > MOST_SCATTER_PERCENT

    @property
    def is_mostly_usual(self) -> bool:
        """The answers narrow little: where it lies is still what is usual for such tools."""
        return self.is_two_sided and self.u_percent > MOSTLY_USUAL_PERCENT and not self.is_contradictory

    def quantile(self, probability: float) -> float:
        """Below this the threshold lies with so much probability. [%]"""
        return _quantile(self.places, self.weights, probability)

    def quantiles(self, probabilities: "Table") -> "Table":
        """The same of many at once, shape as given. [%]"""
        return _quantiles(self.places, self.weights, probabilities)


def estimate_threshold(answers: Sequence[Answer], *, probability: float = 0.95) -> Threshold:
    """The posterior of threshold and scatter.

    answers: of one tool at one setting and one way of pulling, in any order; may be empty.
    Source: Bayes' theorem on a grid, interval-censored normal trips; priors see `Grid`.
    Left out: a trend (see `steadiness`), and what all trials have in common: the kit's own error.
    """
    grid = grid_for(answers)
    return summed(grid, normalised(grid.log_posterior(answers)), answers, probability=probability)


def normalised(log_table: "Table") -> "Table":
    """Probabilities from logarithms up to a constant."""
    import numpy as np

    table: Table = np.exp(log_table - log_table.max())
    table /= table.sum()
    return table


def summed(grid: Grid, table: "Table", answers: Sequence[Answer], *, probability: float = 0.95) -> Threshold:
    """Means and ends of a posterior table, shape (places, scatters)."""
    places, scatters = grid.places, grid.scatters
    weights = table.sum(axis=1)
    by_scatter = table.sum(axis=0)
    mean = float(weights @ places)
    tail = (1 - probability) / 2
    low, high = bracket(list(answers))
    return Threshold(
        sides=sides_of(answers),
        count=len(answers),
        percent=mean,
        u_percent=(_quantile(places, weights, MIDDLE[1]) - _quantile(places, weights, MIDDLE[0])) / 2,
        sd_percent=math.sqrt(float(weights @ (places - mean) ** 2)),
        low_percent=_quantile(places, weights, tail),
        high_percent=_quantile(places, weights, 1 - tail),
        scatter_percent=float(by_scatter @ scatters),
        scatter_low_percent=_quantile(scatters, by_scatter, tail),
        scatter_high_percent=_quantile(scatters, by_scatter, 1 - tail),
        bracket_low_percent=low,
        bracket_high_percent=high,
        places=places,
        weights=weights,
    )


def sides_of(answers: Sequence[Answer]) -> Sides:
    """What the answers enclose."""
    low, high = bracket(list(answers))
    if not answers:
        return Sides.NONE
    if math.isinf(low):
        return Sides.ONLY_CLICKS
    if math.isinf(high):
        return Sides.ONLY_NO_CLICKS
    return Sides.SEPARATED if low < high else Sides.MIXED


def _quantile(places: "Table", weights: "Table", probability: float) -> float:
    import numpy as np

    return float(_quantiles(places, weights, np.array(probability)))


def _quantiles(places: "Table", weights: "Table", probabilities: "Table") -> "Table":
    """Linear inside the cell about each place; the cells meet half-way between the places."""
    import numpy as np

    reached = np.concatenate([[0.0], np.cumsum(weights)])
    middles = (places[1:] + places[:-1]) / 2
    edges = np.concatenate([[places[0]], middles, [places[-1]]])
    found: Table = np.interp(probabilities * reached[-1], reached, edges)
    return found
