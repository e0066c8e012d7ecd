"""Which answer goes least with the others: a load confused, a word typed wrong, a trip by a jerk."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.readings.threshold.answer import Answer
from steelyard.readings.threshold.grid import grid_for

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

FEWEST = 3  # answers: of two that disagree nobody knows which
ODD = 0.015  # probability, the others known, below which an answer is asked about


@dataclass(frozen=True)
class LeastFitting:
    """place: among the answers. probability: of this answer where all the others are known."""

    place: int
    probability: float

    @property
    def is_odd(self) -> bool:
        """So improbable that it is worth asking what was hung, and what was heard."""
        return self.probability < ODD


def least_fitting(answers: Sequence[Answer]) -> LeastFitting | None:
    """The answer that the others would have expected least; None below three.

    answers: as for `estimate_threshold`.
    Source: Bayes' theorem, all answers over all but the one. When it is asked about is our own choice; how
        often for nothing: `steelyard simulate threshold`.
    """
    if len(answers) < FEWEST:
        return None
    grid = grid_for(answers)
    log_table = grid.log_posterior(answers)
    whole = _log_sum(log_table)
    expected = [math.exp(whole - _log_sum(log_table - grid.log_likelihood(answer))) for answer in answers]
    place = min(range(len(expected)), key=expected.__getitem__)
    return LeastFitting(place, expected[place])


def _log_sum(table: "Table") -> float:
    """Logarithm of the sum of exponentials."""
    import numpy as np

    most = float(table.max())
    return most + math.log(float(np.exp(table - most).sum()))
