"""Which trial tells most next."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from steelyard.readings.threshold.answer import Answer, clicked
from steelyard.readings.threshold.estimate import normalised
from steelyard.readings.threshold.grid import grid_for

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

LEAST = 1e-300
AS_TELLING = 0.95  # of the best gain: trials that tell nearly as much


def expected_gain(answers: Sequence[Answer], levels_percent: Sequence[float]) -> "Table":
    """By how much a trial at each level is expected to sharpen the threshold, shape (levels,). [nat]

    answers: so far. levels_percent: deviations T/X − 1 that can be made. [%]
    Returns the mutual information of the next yes/no and the threshold, the scatter averaged over: never
        negative but for rounding.
    Source: minimum expected entropy, see J. Vision and arXiv:0809.0387 (method seen), own derivation.
    """
    import numpy as np

    grid = grid_for(answers)
    table = normalised(grid.log_posterior(answers))
    place = table.sum(axis=1)
    held = place > 1e-12  # the rest cannot move the sums
    yes = np.empty((len(levels_percent), int(held.sum())))
    joint = table[held]
    for row, level in enumerate(levels_percent):
        yes[row] = np.einsum("ps,ps->p", joint, grid.likelihood(clicked(level))[held])
    no = np.maximum(place[held] - yes, 0.0)
    gain: Table = _entropy(place[held][None])[0] - _entropy_left(yes) - _entropy_left(no)
    return gain


def most_telling(
    answers: Sequence[Answer], levels_percent: Sequence[float], *, estimate_percent: float
) -> int:
    """Which of the levels to try next: of those that tell nearly most of the threshold, the farthest out.

    answers, levels_percent: as in `expected_gain`; one level or more. estimate_percent: of the threshold. [%]
    Returns the place among the levels. The farther from the estimate, the more a trial tells of the scatter
    besides, and on the scatter the ± rests. Source: own choice; `steelyard simulate threshold`.
    """
    gains = expected_gain(answers, levels_percent)
    least = AS_TELLING * float(gains.max())
    good = [place for place, gain in enumerate(gains) if gain >= least]
    return max(good, key=lambda place: abs(levels_percent[place] - estimate_percent))


def _entropy(joint: "Table") -> "Table":
    import numpy as np

    entropy: Table = -(joint * np.log(np.maximum(joint, LEAST))).sum(axis=1)
    return entropy


def _entropy_left(joint: "Table") -> "Table":
    """Entropy of the threshold after one answer, times the probability of that answer."""
    import numpy as np

    chance = joint.sum(axis=1)
    left: Table = _entropy(joint) + chance * np.log(np.maximum(chance, LEAST))
    return left
