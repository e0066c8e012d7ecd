"""How far to turn next and which way: a small test turn first, shorter while unsure."""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from steelyard.adjustment.belief import TURN_RATIO, TURN_TURN, Belief
from steelyard.adjustment.best_shift import best_shift

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

FINEST = 24  # steps of a turn: fifteen degrees is what a hand sets
MOST_TURNS = 2
SURE_OF_SENSE = 0.9
LEAST_TEST_TURN, MOST_TEST_TURN = 1 / 8, 1 / 2
REFUTED = 1e-9  # probability of a hypothesis below which it is not reckoned with
REWARD = 3.0  # of being done after the turn, against the expected worst |d|/limit
BELIEVED = 0.93  # of the limits: within which what is believed must lie before it is called done
UNSURE = 0.05  # of the same, from which it is said to be unsure
LOOSE = 0.22  # relative uncertainty of the turn that is needed, from which the advice is shortened


class Sort(StrEnum):
    """TEST: to learn the sense; it may go the wrong way. TURN: towards the goal. STAY: good as it is."""

    TEST = "test"
    TURN = "turn"
    STAY = "stay"


@dataclass(frozen=True, slots=True)
class Advice:
    """The next turn.

    turns: signed, "in" positive, in steps of 1/24. straight_turns: what the last turn alone would say; None
    before the first. needed_low_turns, needed_high_turns: 95 % interval of the size of the turn it takes.
    sense_probability: that the advised sense is the right one. is_shortened: less than the straight line,
    because it is not yet known well. worst_ratio: expected worst |d|/limit after it. [1]
    """

    sort: Sort
    turns: float
    straight_turns: float | None
    needed_low_turns: float
    needed_high_turns: float
    sense_probability: float
    is_shortened: bool
    worst_ratio: float


def advise(belief: Belief) -> Advice:
    """The next turn for all points together.

    Source: the turn with the least expected worst |d|/limit, less a reward for the chance that it is the
        last; a test turn of 1/8 … 1/2 while the sense is less than 90 % sure, where that expectation alone
        would say "do nothing"; while one turn is all that was seen and the gain is loose, less than its
        straight line. Own rule, docs/explanation/adjusting.md; `steelyard simulate adjusting`.
    """
    size = abs(_needed(belief))
    straight = _straight(belief)
    loose = _relative_spread(size, belief.weights)
    if is_done(belief):
        sort, turns = Sort.STAY, 0.0
    elif belief.sense_probability < SURE_OF_SENSE:
        sort, turns = Sort.TEST, _test_turn(belief)
    else:
        turns = _least_loss(belief)
        if straight is not None and belief.turns_made == 1 and loose > LOOSE:
            turns = _no_farther(turns, (1 - loose / 4) * straight)
        sort = Sort.TURN if turns else Sort.STAY
    return Advice(
        sort=sort,
        turns=turns,
        straight_turns=straight,
        needed_low_turns=_quantile(size, belief.weights, 0.025),
        needed_high_turns=_quantile(size, belief.weights, 0.975),
        sense_probability=belief.sense_probability,
        is_shortened=straight is not None and loose > UNSURE and abs(turns) < abs(straight),
        worst_ratio=_expected_worst(belief, turns),
    )


def is_done(belief: Belief) -> bool:
    """What was read last is inside the limits, and what is believed is so with a little to spare."""
    limits = [p.limit_newton_metre for p in belief.points]
    read = all(
        r is None or abs(r.deviation_newton_metre) <= limit
        for r, limit in zip(belief.last, limits, strict=True)
    )
    believed = zip(belief.deviations_newton_metre, limits, strict=True)
    return read and all(abs(d) <= BELIEVED * limit for d, limit in believed)


def _needed(belief: Belief) -> "Table":
    """The turn that brings the points to their best, under each hypothesis, shape (hypotheses,). [turn]

    None, 0, where a hypothesis is as good as refuted.
    """
    import numpy as np

    limits = [p.limit_newton_metre for p in belief.points]
    needed = np.zeros(belief.weights.size)
    for h in np.flatnonzero(belief.weights > REFUTED):
        means, effects = belief.means[h].tolist(), belief.effects[h].tolist()
        needed[h] = best_shift(means, limits, effects=effects).amount
    return needed


def _goal(belief: Belief) -> float:
    """The equal shift of all points that is wanted, by what is believed. [N m]"""
    limits = [p.limit_newton_metre for p in belief.points]
    return best_shift(belief.deviations_newton_metre, limits, effects=[1.0] * len(limits)).amount


def _straight(belief: Belief) -> float | None:
    """What the last turn alone would say. [turn]"""
    rise = belief.straight_newton_metre
    return _goal(belief) / rise if rise else None


def _test_turn(belief: Belief) -> float:
    goal, (gain, _) = _goal(belief), belief.gain_newton_metre
    sense = math.copysign(1.0, goal) * (1 if belief.rises_probability >= 0.5 else -1)
    return sense * min(max(_rounded(abs(goal) / gain), LEAST_TEST_TURN), MOST_TEST_TURN)


def _least_loss(belief: Belief) -> float:
    """The turn with the least expected worst, less the reward for the chance to be done."""
    import numpy as np
    from scipy.special import ndtr

    turns = np.arange(-MOST_TURNS * FINEST, MOST_TURNS * FINEST + 1) / FINEST
    limits = np.array([p.limit_newton_metre for p in belief.points])
    known = np.diagonal(belief.covariances, axis1=1, axis2=2)
    made = np.where(turns == 0, 0.0, TURN_TURN**2 + (TURN_RATIO * turns) ** 2)
    means = belief.means[None] + turns[:, None, None] * belief.effects[None]
    sd = np.sqrt(known[None] + made[:, None, None] * belief.effects[None] ** 2)
    done = (ndtr((limits - means) / sd) - ndtr((-limits - means) / sd)).prod(axis=2)
    loss = ((abs(means) / limits).max(axis=2) - REWARD * done) @ belief.weights
    return float(turns[int(loss.argmin())])


def _no_farther(turns: float, most: float) -> float:
    """The smaller of both, in the sense of the first, in whole steps, at least one."""
    step = max(math.floor(abs(most) * FINEST), 1) / FINEST
    return math.copysign(min(abs(turns), step), turns) if turns else 0.0


def _rounded(turns: float) -> float:
    return round(turns * FINEST) / FINEST


def _quantile(values: "Table", weights: "Table", probability: float) -> float:
    import numpy as np

    order = np.argsort(values)
    reached = np.cumsum(weights[order])
    return float(np.interp(probability * reached[-1], reached - weights[order] / 2, values[order]))


def _relative_spread(values: "Table", weights: "Table") -> float:
    mean = float(weights @ values)
    return math.sqrt(float(weights @ (values - mean) ** 2)) / mean if mean else 0.0


def _expected_worst(belief: Belief, turns: float) -> float:
    """Expected worst |d|/limit after a turn, what is not known of the deviations left out. [1]"""
    import numpy as np

    limits = np.array([p.limit_newton_metre for p in belief.points])
    left = abs(belief.means + turns * belief.effects) / limits
    return float(belief.weights @ left.max(axis=1))
