"""What is believed of an adjuster: which way and how far a turn moves each point, learned turn by turn."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

GAINS = 25  # sizes of the gain under consideration, for each sense
WIDEST = 2.5  # standard deviations of the logarithm to either side
MIXES = (0.0, 0.5, 1.0)  # part of the effect at the top point that grows with the target
TURN_TURN, TURN_RATIO = 0.02, 0.03  # how well a turn is made: standard deviation, and part of the turn
MOVED_UNKNOWN = 0.1  # of the target: standard deviation of a move that nobody can tell
SLACK_TURN, SLACK_U_TURN = 0.03, 0.02  # lost when the sense is reversed, and how well that is known


@dataclass(frozen=True, slots=True)
class GainPrior:
    """What is usual of tools of this kind, at the top point, before the first turn.

    median_newton_metre: size of the change per turn. [N m] > 0. spread: of its logarithm.
    positive: probability that a positive turn raises the torque; 0.5 where nothing is known.
    """

    median_newton_metre: float
    spread: float
    positive: float = 0.5


@dataclass(frozen=True, slots=True)
class Point:
    """A target in one direction, [N m] > 0, and its limit, to either side. [1]"""

    target_newton_metre: float
    limit_ratio: float

    @property
    def limit_newton_metre(self) -> float:
        """The limit at this target. [N m]"""
        return self.limit_ratio * self.target_newton_metre


@dataclass(frozen=True, slots=True)
class Reading:
    """What a point delivers: deviation T − X and standard uncertainty of the mean. [N m] u > 0"""

    deviation_newton_metre: float
    u_newton_metre: float


@dataclass(frozen=True)
class Turned:
    """One turn and what was read after it.

    turns: signed, "in" positive; None where size or way are not known: it teaches nothing, and where the
    points stand is known from what was read after it. A reading None: not read.
    """

    turns: float | None
    readings: tuple[Reading | None, ...]


@dataclass(frozen=True)
class Belief:
    """What the turns so far say.

    effects: change of each point per turn under each hypothesis, shape (hypotheses, points). [N m]
    weights: probability of each, summing to one. means: deviations as they stand, (hypotheses, points). [N m]
    covariances: of those, (hypotheses, points, points). [N m squared]
    last: what was read last, as found or after the last turn.
    straight_newton_metre: change per turn as the last turn alone showed it, mean over the points that were
    read before and after; None before the first turn. [N m]
    turns_made: how many, of those whose size and way are known.
    """

    points: tuple[Point, ...]
    effects: "Table"
    weights: "Table"
    means: "Table"
    covariances: "Table"
    last: tuple[Reading | None, ...]
    straight_newton_metre: float | None
    turns_made: int

    @property
    def rises_probability(self) -> float:
        """That a positive turn raises the torque."""
        return float(self.weights[self.effects[:, -1] > 0].sum())

    @property
    def sense_probability(self) -> float:
        """Of the likelier sense."""
        return max(self.rises_probability, 1 - self.rises_probability)

    @property
    def deviations_newton_metre(self) -> tuple[float, ...]:
        """Where the points stand. [N m]"""
        return tuple(float(d) for d in self.weights @ self.means)

    @property
    def spreads_newton_metre(self) -> tuple[float, ...]:
        """Standard deviation of where each point stands. [N m]"""
        import numpy as np

        known = np.diagonal(self.covariances, axis1=1, axis2=2)
        square = self.weights @ (known + (self.means - self.weights @ self.means) ** 2)
        return tuple(float(spread) for spread in np.sqrt(square))

    @property
    def gain_newton_metre(self) -> tuple[float, float]:
        """Size of the change per turn at the top point: posterior mean and standard deviation. [N m]"""
        size = abs(self.effects[:, -1])
        mean = float(self.weights @ size)
        return mean, math.sqrt(float(self.weights @ (size - mean) ** 2))


def learn(
    points: Sequence[Point], first: Sequence[Reading], turned: Sequence[Turned], *, prior: GainPrior
) -> Belief:
    """Every turn and reading, in order, put together.

    points: with the highest target last. first: as found, one reading per point.
    prior: of tools of this kind, see `GainPrior`.
    Source: a grid over signed gain and mix of the effect (same amount at every point … same percentage);
        under each a Kalman filter of the deviations, turns made to ±0.02 turn and 3 %, lost motion on a
        reversal 0.03 ± 0.02 turn. Own derivation, docs/explanation/adjusting.md; sketch and its measured
        behaviour by `steelyard simulate adjusting`.
    """
    import numpy as np

    effects, weights = _hypotheses(points, prior)
    start = np.array([r.deviation_newton_metre for r in first])
    means = np.repeat(start[None, :], len(effects), axis=0)
    known = np.diag([r.u_newton_metre**2 for r in first])
    with np.errstate(divide="ignore"):  # a sense that is held to be impossible
        chance = np.log(weights)
    state = _State(effects, chance, means, np.repeat(known[None], len(effects), axis=0), 0.0)
    for turn in turned:
        moved = _lost(state, points) if turn.turns is None else _moved(state, turn.turns)
        state = _measured(moved, points, turn.readings)
    posterior = np.exp(state.log_weights - state.log_weights.max())
    return Belief(
        tuple(points),
        effects,
        posterior / posterior.sum(),
        state.means,
        state.covariances,
        turned[-1].readings if turned else tuple(first),
        _straight(first, turned),
        sum(turn.turns is not None for turn in turned),
    )


def _straight(first: Sequence[Reading], turned: Sequence[Turned]) -> float | None:
    """Rise over run of the last turn. [N m per turn]"""
    if not turned or not turned[-1].turns:
        return None
    before = turned[-2].readings if len(turned) > 1 else tuple(first)
    rises = [
        b.deviation_newton_metre - a.deviation_newton_metre
        for a, b in zip(before, turned[-1].readings, strict=True)
        if a is not None and b is not None
    ]
    return math.fsum(rises) / len(rises) / turned[-1].turns if rises else None


@dataclass(frozen=True)
class _State:
    effects: "Table"
    log_weights: "Table"
    means: "Table"
    covariances: "Table"
    sense: float


def _hypotheses(points: Sequence[Point], prior: GainPrior) -> "tuple[Table, Table]":
    """Effects of a turn, (hypotheses, points) [N m], and their probabilities before any turn."""
    import numpy as np

    at = np.linspace(-WIDEST, WIDEST, GAINS)
    size = prior.median_newton_metre * np.exp(prior.spread * at)
    chance = np.exp(-0.5 * at**2)
    chance /= chance.sum() * len(MIXES)
    targets = np.array([p.target_newton_metre for p in points])
    shapes = np.array([1 - mix + mix * targets / targets[-1] for mix in MIXES])
    up = (size[:, None, None] * shapes[None]).reshape(-1, len(points))
    weight = np.repeat(chance, len(MIXES))
    return (
        np.concatenate([up, -up]),
        np.concatenate([weight * prior.positive, weight * (1 - prior.positive)]),
    )


def _moved(state: _State, turns: float) -> _State:
    """After a turn, before anything is read."""
    sense = math.copysign(1.0, turns) if turns else 0.0
    is_reversed = bool(sense and state.sense and sense != state.sense)
    done = sense * max(abs(turns) - (SLACK_TURN if is_reversed else 0.0), 0.0)
    variance = (TURN_TURN**2 if turns else 0.0) + (TURN_RATIO * turns) ** 2
    variance += SLACK_U_TURN**2 if is_reversed else 0.0
    outer = state.effects[:, :, None] * state.effects[:, None, :]
    return _State(
        state.effects,
        state.log_weights,
        state.means + done * state.effects,
        state.covariances + variance * outer,
        sense or state.sense,
    )


def _lost(state: _State, points: Sequence[Point]) -> _State:
    """After a turn of which nothing is known, the same under each hypothesis."""
    import numpy as np

    anywhere = np.diag([(MOVED_UNKNOWN * point.target_newton_metre) ** 2 for point in points])
    return replace(state, covariances=state.covariances + anywhere, sense=0.0)


def _measured(state: _State, points: Sequence[Point], readings: Sequence[Reading | None]) -> _State:
    """What was read, weighed against what each hypothesis expects."""
    import numpy as np

    read = [i for i, reading in enumerate(readings) if reading is not None]
    if not read:
        return state
    given = [reading for reading in readings if reading is not None]
    noise = np.diag([r.u_newton_metre**2 for r in given])
    seen = np.array([r.deviation_newton_metre for r in given])
    between = state.covariances[:, :, read]
    inner = between[:, read, :] + noise
    inverse = np.linalg.inv(inner)
    off = seen - state.means[:, read]
    gain = between @ inverse
    fit = -0.5 * (np.einsum("hi,hij,hj->h", off, inverse, off) + np.linalg.slogdet(inner)[1])
    return _State(
        state.effects,
        state.log_weights + fit,
        state.means + np.einsum("hpi,hi->hp", gain, off),
        state.covariances - gain @ np.swapaxes(between, 1, 2),
        state.sense,
    )
