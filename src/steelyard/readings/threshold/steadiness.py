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
STEEPEST_PERCENT, SLOPES = 0.36, 19
PLACES, SCATTERS, REACH = 41, 9, 5  # of the grid with a slope; reach in standard deviations
NARROWER = 0.7  # of the slopes looked at: where the posterior takes less, it is looked at more closely
LEAST = 1e-300
CHANGE_ODDS = 1 / 9  # of a change against one steady threshold, before any answer
SURE_OF_DRIFT, SURE_OF_CHANGE = 0.96, 0.9


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
    falling = float(by_slope @ _share_below_none(slopes))
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
    """Slopes, posterior (slopes, places, scatters) and places, the threshold taken at the middle trial.

    Many answers narrow the slopes so far that the first grid steps over them: then again about their mean.
    """
    import numpy as np

    flat = estimate_threshold(answers)
    reach = REACH * flat.sd_percent + STEEPEST_PERCENT
    places = np.linspace(flat.percent - reach, flat.percent + reach, PLACES)
    middle, half = 0.0, STEEPEST_PERCENT
    while True:
        slopes = np.linspace(middle - half, middle + half, SLOPES)
        table = _weighed(slopes, places, answers)
        middle, u = _moments(table.sum(axis=(1, 2)), slopes)
        narrower = REACH * math.hypot(u, 2 * half / (SLOPES - 1))
        if narrower > NARROWER * half:
            return slopes, table, places
        half = narrower


def _share_below_none(slopes: "Table") -> "Table":
    """How much of the cell about each of evenly spaced slopes lies below none."""
    import numpy as np

    shares: Table = np.clip(0.5 - slopes / (slopes[1] - slopes[0]), 0.0, 1.0)
    return shares


def _weighed(slopes: "Table", places: "Table", answers: Sequence[Answer]) -> "Table":
    """Posterior of slopes, places and scatters, shape (slopes, places, scatters)."""
    import numpy as np

    scatters = np.geomspace(LEAST_PERCENT, MOST_PERCENT, SCATTERS)
    place, scatter, slope = places[None, :, None], scatters[None, None, :], slopes[:, None, None]
    table = np.exp(log_place_prior(place) + log_scatter_prior(scatter) - 0.5 * (slope / DRIFT_PERCENT) ** 2)
    middle = (len(answers) - 1) / 2
    for i, answer in enumerate(answers):
        table = table * _between(place + slope * (i - middle), scatter, answer)
        table /= table.max()
    posterior: Table = table / table.sum()
    return posterior


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

    place, scatter = np.exp(log_place_prior(grid.places)), np.exp(log_scatter_prior(grid.scatters))
    place, scatter = (place / place.sum())[:, None], scatter / scatter.sum()
    likely = [grid.likelihood(answer) for answer in answers]
    before, log_before = _running(place, likely)
    behind, log_behind = _running(place, likely[::-1])
    each = (before[:-1] * behind[-2::-1]) @ scatter
    evidence = np.log(np.maximum(each, LEAST)) + log_before[:-1] + log_behind[-2::-1]
    steady = math.log(float(before[-1] @ scatter)) + float(log_before[-1])
    changed = float(np.logaddexp.reduce(evidence)) - math.log(evidence.size)
    return _probability(changed - steady), int(evidence.argmax()) + 1


def _running(place: "Table", likely: "Sequence[Table]") -> "tuple[Table, Table]":
    """How likely the first answer, the first two, and so on are at each scatter, the threshold averaged over.

    place: prior, shape (places, 1). Returns the shares, shape (answers, scatters), and the logarithms of what
    each row is to be multiplied by, shape (answers,): products of many answers are too small for a number.
    """
    import numpy as np

    table, log_size = place, 0.0
    shares, log_sizes = [], []
    for one in likely:
        table = table * one
        most = float(table.max())
        table /= most
        log_size += math.log(most)
        shares.append(table.sum(axis=0))
        log_sizes.append(log_size)
    return np.array(shares), np.array(log_sizes)


def _probability(log_factor: float) -> float:
    """From the logarithm of a Bayes factor and the odds beforehand."""
    from scipy.special import expit

    return float(expit(log_factor + math.log(CHANGE_ODDS)))
