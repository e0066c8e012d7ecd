"""Whether the answers can come from one and the same threshold: drift, or a set-up that was changed."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.readings.threshold.answer import Answer
from steelyard.readings.threshold.estimate import estimate_threshold
from steelyard.readings.threshold.grid import (
    LEAST_PERCENT,
    MOST_PERCENT,
    Grid,
    grid_for,
    log_place_prior,
    log_scatter_prior,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

FEWEST = 6  # answers below which nothing can be said
DRIFT_PERCENT = 0.1  # standard deviation of the prior of the slope, per trial
STEEPEST_PERCENT, SLOPES = 0.36, 25
PLACES, SCATTERS, REACH = 61, 9, 5  # of the grid with a slope; reach in standard deviations of the threshold
CHANGE_ODDS = 1 / 9  # of a change against one steady threshold, before any answer
SURE_OF_DRIFT, SURE_OF_CHANGE = 0.95, 0.9


@dataclass(frozen=True)
class Steadiness:
    """How the trips behave over the trials.

    drift_percent, drift_u_percent: change of the threshold per trial. [%]
    drift_probability: that it goes the way it seems to go. change_probability: of one sudden change, against
    one steady threshold. changed_after: number of trials before the likeliest change.
    now_percent, now_u_percent: where the threshold stands at the last trial, drift allowed for. [%]
    """

    drift_percent: float
    drift_u_percent: float
    drift_probability: float
    change_probability: float
    changed_after: int
    now_percent: float
    now_u_percent: float

    @property
    def is_changed(self) -> bool:
        """One sudden change is likely enough to be said."""
        return self.change_probability >= SURE_OF_CHANGE

    @property
    def is_drifting(self) -> bool:
        """A trend is likely enough to be said, and no sudden change explains the answers."""
        return self.drift_probability >= SURE_OF_DRIFT and not self.is_changed


def steadiness(answers: Sequence[Answer]) -> Steadiness | None:
    """Weigh one steady threshold against a trend and against one sudden change.

    answers: in the order of the trials. Returns None below six.
    Source: Bayes on a grid; slope a normal of 0.1 % per trial about none; a change as likely after any trial,
        to a threshold of the same prior, odds 1 to 9. How often it is said, rightly and wrongly:
        `steelyard simulate threshold`. Own choices, docs/explanation/yes-no.md.
    """
    if len(answers) < FEWEST:
        return None
    slopes, tables, places = _with_slope(answers)
    by_slope = tables.sum(axis=(1, 2))
    falling = float(by_slope[slopes < 0].sum() + by_slope[slopes == 0].sum() / 2)
    middle = (len(answers) - 1) / 2
    now, now_u = _moments(tables.sum(axis=2), places[None, :] + slopes[:, None] * middle)
    drift, drift_u = _moments(by_slope, slopes)
    change, after = _change(grid_for(answers), answers)
    return Steadiness(
        drift_percent=drift,
        drift_u_percent=drift_u,
        drift_probability=max(falling, 1 - falling),
        change_probability=change,
        changed_after=after,
        now_percent=now,
        now_u_percent=now_u,
    )


def _with_slope(answers: Sequence[Answer]) -> "tuple[Table, Table, Table]":
    """Slopes, posterior (slopes, places, scatters) and places, the threshold taken at the middle trial."""
    import numpy as np

    flat = estimate_threshold(answers)
    reach = REACH * flat.sd_percent + STEEPEST_PERCENT
    places = np.linspace(flat.percent - reach, flat.percent + reach, PLACES)
    scatters = np.geomspace(LEAST_PERCENT, MOST_PERCENT, SCATTERS)
    slopes = np.linspace(-STEEPEST_PERCENT, STEEPEST_PERCENT, SLOPES)
    place, scatter, slope = places[None, :, None], scatters[None, None, :], slopes[:, None, None]
    table = np.exp(log_place_prior(place) + log_scatter_prior(scatter) - 0.5 * (slope / DRIFT_PERCENT) ** 2)
    middle = (len(answers) - 1) / 2
    for i, answer in enumerate(answers):
        table = table * _between(place + slope * (i - middle), scatter, answer)
        table /= table.max()
    return slopes, table / table.sum(), places


def _between(place: "Table", scatter: "Table", answer: Answer) -> "Table":
    """Probability that a normal trip lies within an answer; digits lost far out, where it is nothing."""
    from scipy.special import ndtr

    if math.isinf(answer.low_percent):
        table: Table = ndtr((answer.high_percent - place) / scatter)
        return table
    table = ndtr((place - answer.low_percent) / scatter)
    return table if math.isinf(answer.high_percent) else table - ndtr((place - answer.high_percent) / scatter)


def _moments(chance: "Table", values: "Table") -> tuple[float, float]:
    mean = float((chance * values).sum())
    return mean, math.sqrt(float((chance * (values - mean) ** 2).sum()))


def _change(grid: Grid, answers: Sequence[Answer]) -> tuple[float, int]:
    """Probability of one change, and after how many trials it was likeliest."""
    import numpy as np

    place = log_place_prior(grid.places)[:, None]
    place = place - _log_sum(place, 0)
    scatter = log_scatter_prior(grid.scatters)
    scatter = scatter - _log_sum(scatter, 0)
    steps = np.cumsum([grid.log_likelihood(answer) for answer in answers], axis=0)
    before = _log_sum(place + steps[:-1], 1)  # (changes, scatters)
    behind = _log_sum(place + (steps[-1] - steps[:-1]), 1)
    evidence = _log_sum(scatter + before + behind, 1)
    steady = float(_log_sum(scatter + _log_sum(place + steps[-1], 0), 0))
    changed = float(_log_sum(evidence, 0)) - math.log(evidence.size)
    return _probability(changed - steady), int(evidence.argmax()) + 1


def _log_sum(table: "Table", axis: int) -> "Table":
    """Logarithm of the sum of exponentials along an axis; plainer than SciPy's and several times as fast."""
    import numpy as np

    top = table.max(axis=axis, keepdims=True)
    total: Table = np.log(np.exp(table - top).sum(axis=axis)) + top.squeeze(axis)
    return total


def _probability(log_factor: float) -> float:
    """From the logarithm of a Bayes factor and the odds beforehand."""
    from scipy.special import expit

    return float(expit(log_factor + math.log(CHANGE_ODDS)))
