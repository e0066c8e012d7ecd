"""Where threshold and scatter may lie, how likely before any trial, and how likely an answer makes each."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from steelyard.readings.threshold.answer import Answer

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

PLACES, SCATTERS = 301, 18
REACH_PERCENT = 15.0  # to either side of the setting, where no answer lies farther out
BEYOND, ROOM_PERCENT = 1.25, 5.0  # times the farthest answer, and so much more
USUAL_PERCENT = 3.5  # scale of the prior of the threshold about the setting: standard deviation 5 %
TAILS = 4.0  # its degrees of freedom: a tool that is far out is rare, not impossible
SCATTER_PERCENT, SCATTER_LOG = 0.8, 1.0  # median and log standard deviation of the prior of the scatter
LEAST_PERCENT, MOST_PERCENT = 0.1, 6.0  # scatter


@dataclass(frozen=True)
class Grid:
    """Thresholds and scatters under consideration. reach_percent: of the thresholds, to either side. [%]

    Prior of the threshold: a t about the setting, 4 degrees of freedom, standard deviation 5 %; of the
    scatter: log-normal, median 0.8 %, 1.0 in the logarithm. Weak on purpose; what they do is measured by
    `steelyard simulate threshold`. Source: our own choice, docs/explanation/yes-no.md.
    """

    reach_percent: float = REACH_PERCENT

    @property
    def places(self) -> "Table":
        """Thresholds, evenly spaced, shape (PLACES,), not to be written to. [%]"""
        return _places(self.reach_percent)

    @property
    def scatters(self) -> "Table":
        """Standard deviations from trip to trip, evenly spaced in the logarithm, shape (SCATTERS,). [%]

        Not to be written to.
        """
        return _scatters()

    def log_prior(self) -> "Table":
        """Logarithm of the prior, shape (PLACES, SCATTERS), up to a constant."""
        return log_place_prior(self.places)[:, None] + log_scatter_prior(self.scatters)[None, :]

    def log_likelihood(self, answer: Answer) -> "Table":
        """Logarithm of the probability of an answer at each threshold and scatter, same shape."""
        return _log_likelihood(self, answer)

    def likelihood(self, answer: Answer) -> "Table":
        """The probability itself, 0 where it is too small for a number."""
        return _likelihood(self, answer)

    def log_posterior(self, answers: "Sequence[Answer]") -> "Table":
        """Prior and all answers together, same shape, up to a constant."""
        table = self.log_prior()
        for answer in answers:
            table += self.log_likelihood(answer)
        return table


def log_place_prior(percent: "Table") -> "Table":
    """Logarithm of the prior of thresholds, up to a constant."""
    import numpy as np

    table: Table = -(TAILS + 1) / 2 * np.log1p((percent / USUAL_PERCENT) ** 2 / TAILS)
    return table


def log_scatter_prior(percent: "Table") -> "Table":
    """Logarithm of the prior of scatters spaced in the logarithm, up to a constant."""
    import numpy as np

    table: Table = -0.5 * (np.log(percent / SCATTER_PERCENT) / SCATTER_LOG) ** 2
    return table


def grid_for(answers: "Sequence[Answer]") -> Grid:
    """A grid wide enough for these answers."""
    ends = [end for a in answers for end in (a.low_percent, a.high_percent) if math.isfinite(end)]
    far = max(map(abs, ends), default=0.0)
    return Grid(max(REACH_PERCENT, math.ceil(BEYOND * far + ROOM_PERCENT)))


@lru_cache(maxsize=8)
def _places(reach_percent: float) -> "Table":
    import numpy as np

    return _kept(np.linspace(-reach_percent, reach_percent, PLACES))


@lru_cache(maxsize=1)
def _scatters() -> "Table":
    import numpy as np

    return _kept(np.geomspace(LEAST_PERCENT, MOST_PERCENT, SCATTERS))


@lru_cache(maxsize=256)
def _log_likelihood(grid: Grid, answer: Answer) -> "Table":
    return _kept(log_between(grid.places[:, None], grid.scatters[None, :], answer))


@lru_cache(maxsize=256)
def _likelihood(grid: Grid, answer: Answer) -> "Table":
    import numpy as np

    return _kept(np.exp(_log_likelihood(grid, answer)))


def _kept(table: "Table") -> "Table":
    """The table, safe to be kept for all who ask for it."""
    table.flags.writeable = False
    return table


def log_between(place: "Table", scatter: "Table", answer: Answer) -> "Table":
    """Logarithm of the probability that a normal trip lies within an answer.

    place, scatter: mean and standard deviation of the trips, of shapes that go together. [%]
    Source: interval-censored normal likelihood; ln Φ by `scipy.special.log_ndtr`.
    """
    import numpy as np
    from scipy.special import log_ndtr

    table: Table
    if math.isinf(answer.low_percent):
        table = log_ndtr((answer.high_percent - place) / scatter)
        return table
    low = (answer.low_percent - place) / scatter
    if math.isinf(answer.high_percent):
        table = log_ndtr(-low)
        return table
    high = (answer.high_percent - place) / scatter
    flipped = low > 0  # above the mean Φ(high) − Φ(low) loses its digits, Φ(−low) − Φ(−high) does not
    low, high = np.where(flipped, -high, low), np.where(flipped, -low, high)
    upper = log_ndtr(high)
    with np.errstate(divide="ignore"):
        table = upper + np.log(-np.expm1(log_ndtr(low) - upper))
    return table
