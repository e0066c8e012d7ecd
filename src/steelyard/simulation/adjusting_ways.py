"""Ways of adjusting one made-up tool until all points read inside the limit."""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Protocol

from steelyard.adjustment import GainPrior, Point, Reading, Sort, Turned, advise, best_shift, learn
from steelyard.simulation.adjusted_tools import (
    GAIN_NEWTON_METRE,
    GAIN_SPREAD,
    READINGS,
    TARGETS_NEWTON_METRE,
    AdjustedTool,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

READ_TO_RATIO = 0.01
MOST_TURNS = 15
QUARTER = 0.25
LEAST_SPREAD_RATIO = 0.002  # below which no repeatability is believed
LONGEST_TURN = 2.0


class AdjustingWay(StrEnum):
    """GUIDED: the advice. SECANT: a straight line through the last two readings. QUARTER: quarter turns."""

    GUIDED = "guided"
    SECANT = "secant"
    QUARTER = "quarter"


@dataclass(frozen=True, slots=True)
class Finish:
    """turns, rounds: adjuster turned, and tool read again, until it was done; None where not in 15 rounds.

    A round without a turn reads alone. worst_ratio: true worst |d|/target then. [1]
    """

    turns: int | None
    rounds: int | None
    worst_ratio: float


def adjusted(tool: AdjustedTool, way: AdjustingWay, *, positive: float) -> Finish:
    """Read, turn, read again … until done. positive: what is held of the sense beforehand."""
    rule = _rule(way, positive)
    made = 0
    for rounds in range(MOST_TURNS + 1):
        turns = rule.next_turn(tool.read())
        if turns is None:
            return Finish(made, rounds, tool.worst_ratio)
        tool.turn(turns)
        made += turns != 0
    return Finish(None, None, tool.worst_ratio)


class _Rule(Protocol):
    def next_turn(self, readings: "Table") -> float | None: ...


def _rule(way: AdjustingWay, positive: float) -> _Rule:
    match way:
        case AdjustingWay.GUIDED:
            return _Guided(positive)
        case AdjustingWay.SECANT:
            return _Secant(positive)
        case AdjustingWay.QUARTER:
            return _Quarter(positive)


def _is_inside(means: "Table") -> bool:
    return bool((abs(means) <= READ_TO_RATIO * _targets()).all())


def _targets() -> "Table":
    import numpy as np

    return np.array(TARGETS_NEWTON_METRE)


def _goal(means: "Table") -> float:
    """The equal shift that is best by what was read. [N m]"""
    ones = [1.0] * len(TARGETS_NEWTON_METRE)
    return best_shift(list(map(float, means)), list(TARGETS_NEWTON_METRE), effects=ones).amount


class _Guided:
    """The advice itself; the repeatability is taken from all readings so far together."""

    def __init__(self, positive: float) -> None:
        self.points = [Point(target, READ_TO_RATIO) for target in TARGETS_NEWTON_METRE]
        self.prior = GainPrior(GAIN_NEWTON_METRE, GAIN_SPREAD, positive)
        self.read: list[Table] = []
        self.turns: list[float] = []

    def next_turn(self, readings: "Table") -> float | None:
        """How far next; None: let it be."""
        self.read.append(readings)
        first, *after = self._means()
        turned = [Turned(t, r) for t, r in zip(self.turns, after, strict=True)]
        advice = advise(learn(self.points, first, turned, prior=self.prior))
        if advice.sort is Sort.STAY and _is_inside(readings.mean(axis=0)):
            return None
        self.turns.append(advice.turns)
        return advice.turns

    def _means(self) -> list[tuple[Reading, ...]]:
        import numpy as np

        variances = np.array([(r / _targets()).var(axis=0, ddof=1).mean() for r in self.read])
        spread = max(math.sqrt(float(variances.mean())), LEAST_SPREAD_RATIO)
        u = spread * _targets() / math.sqrt(READINGS)
        return [
            tuple(Reading(float(d), float(v)) for d, v in zip(r.mean(axis=0), u, strict=True))
            for r in self.read
        ]


class _Secant:
    """Straight line through the last two; the first turn by the usual gain and the likelier sense."""

    def __init__(self, positive: float) -> None:
        self.gain = GAIN_NEWTON_METRE if positive >= 0.5 else -GAIN_NEWTON_METRE
        self.goal = self.made = 0.0

    def next_turn(self, readings: "Table") -> float | None:
        """How far next; None: let it be."""
        means = readings.mean(axis=0)
        if _is_inside(means):
            return None
        goal = _goal(means)
        if self.made and goal != self.goal:
            self.gain = (self.goal - goal) / self.made
        self.goal, self.made = goal, min(max(goal / self.gain, -LONGEST_TURN), LONGEST_TURN)
        return self.made


class _Quarter:
    """A quarter turn each time; the other way round once it was seen to go the wrong way."""

    def __init__(self, positive: float) -> None:
        self.sense = 1.0 if positive >= 0.5 else -1.0
        self.goal = 0.0
        self.is_learned = False

    def next_turn(self, readings: "Table") -> float | None:
        """How far next; None: let it be."""
        means = readings.mean(axis=0)
        if _is_inside(means):
            return None
        goal = _goal(means)
        if self.goal and not self.is_learned:
            self.sense = self.sense if abs(goal) < abs(self.goal) or goal * self.goal < 0 else -self.sense
            self.is_learned = True
        self.goal = goal
        return math.copysign(QUARTER, goal) * self.sense
