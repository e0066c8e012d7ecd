"""The judge of every interval: distributions carried through the model by drawing them.

Drawn in blocks of 16 384, each block with a seed of its own that grows from the one seed given, so that a
result does not depend on how blocks are shared out. The same seed, number of draws and NumPy give the same
digits; another NumPy agrees within the stored tolerance.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from steelyard.evaluation import array_maths
from steelyard.evaluation.propagation import Model
from steelyard.quantities import Line, Shape

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

METHOD = 1  # version of the mathematics; a change of any digit but noise makes a new one
BLOCK = 16_384
DRAWS = 1_350_000  # two digits of U at five pulls; docs/decisions/0005-monte-carlo-judges.md
TAIL = 0.2  # the part of a tail's draws, next to the end point, from which its density is estimated
ROUGH = 64  # every such draw tells roughly where the tails begin


@dataclass(frozen=True, slots=True)
class Distribution:
    """What the draws say of the model's value.

    mean, u: of the draws; u has no meaning where a line is a t with 2 or fewer degrees of freedom.
    low, high: ends of the interval with equal tails.
    tolerance: two standard errors of the worse end point, from the local density of the draws.
    draws, seed, probability, numpy: how it was made, the last the version that drew.
    """

    mean: float
    u: float
    low: float
    high: float
    tolerance: float
    draws: int
    seed: int
    probability: float
    numpy: str


def monte_carlo(
    model: Model, lines: Sequence[Line], *, seed: int, draws: int = DRAWS, probability: float = 0.95
) -> Distribution:
    """Distribution of the model's value.

    model: `model(maths, *values)`, see propagation.py. lines: one per parameter, in order.
    seed: ≥ 0. draws: ≥ 1000. probability: of the interval, equal tails.
    Source: JCGM 101:2008 5.9, 7; a normal line with finite dof is drawn as a scaled t (6.4.9).
    """
    return summary(sample(model, lines, seed=seed, draws=draws), seed=seed, probability=probability)


def sample(model: Model, lines: Sequence[Line], *, seed: int, draws: int) -> "NDArray[np.float64]":
    """The model's value at each draw, shape (draws,)."""
    import numpy as np

    out = np.empty(draws)
    starts = range(0, draws, BLOCK)
    moving = [i for i, line in enumerate(lines) if line.u > 0.0]
    room = np.empty((len(moving), BLOCK))
    values: list[Any] = [line.value for line in lines]
    for start, child in zip(starts, np.random.SeedSequence(seed).spawn(len(starts)), strict=True):
        generator = np.random.Generator(np.random.SFC64(child))
        size = min(BLOCK, draws - start)
        for row, i in enumerate(moving):
            place = room[row, :size]
            draw_into(place, lines[i], generator)
            values[i] = place
        out[start : start + size] = model(array_maths, *values)
    return out


def draw_into(place: "NDArray[np.float64]", line: Line, generator: "np.random.Generator") -> None:
    """Fill an array with draws of one line."""
    import numpy as np

    if line.shape is Shape.NORMAL and math.isfinite(line.dof):
        place[:] = generator.standard_t(line.dof, place.size)
    elif line.shape is Shape.NORMAL:
        generator.standard_normal(out=place)
    elif line.shape is Shape.TABULATED:
        generator.random(out=place)
        count = len(line.places)
        place[:] = np.interp(place * count - 0.5, np.arange(count), line.places)
    elif line.shape is Shape.RECTANGULAR:
        generator.random(out=place)
        place *= 2 * line.width
        place += line.value - line.width
        return
    elif line.shape is Shape.TRIANGULAR:
        generator.random(out=place)
        place -= generator.random(place.size)
    else:
        generator.random(out=place)
        place *= 2 * math.pi
        np.cos(place, out=place)
    place *= line.width
    place += line.value


def summary(values: "NDArray[np.float64]", *, seed: int, probability: float = 0.95) -> Distribution:
    """Mean, standard deviation and the interval with equal tails of drawn values, shape (draws,).

    Raises ValueError where a tail has no draw.
    """
    import numpy as np

    draws = values.size
    tail = (1 - probability) / 2
    rank = round(tail * draws)
    if rank < 1:
        raise ValueError(f"{draws} draws are too few for an interval of {probability}")
    near = max(1, round(TAIL * rank))
    lower, upper = _tails(values, rank)
    outer_low, low = _ranked(lower, rank - near, rank)
    high, outer_high = _ranked(upper, upper.size - 1 - rank, upper.size - 1 - rank + near)
    spacing = max(low - outer_low, outer_high - high) / near  # per draw, at the end point
    tolerance = 2 * math.sqrt(tail * (1 - tail) * draws) * spacing
    return Distribution(
        mean=float(values.mean()),
        u=float(values.std(ddof=1)),
        low=low,
        high=high,
        tolerance=tolerance,
        draws=draws,
        seed=seed,
        probability=probability,
        numpy=np.__version__,
    )


def _tails(values: "NDArray[np.float64]", rank: int) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
    """The lowest and the highest draws, more than `rank` of each: the rest need not be put in order."""
    import numpy as np

    rough = np.sort(values[::ROUGH])
    place = min(2 * rank // ROUGH + 1, rough.size - 1)
    lower, upper = values[values < rough[place]], values[values > rough[-1 - place]]
    return (lower if lower.size > rank else values), (upper if upper.size > rank else values)


def _ranked(values: "NDArray[np.float64]", first: int, last: int) -> tuple[float, float]:
    """The values of two ranks, counted from 0 at the lowest."""
    import numpy as np

    ordered = np.partition(values, (first, last))
    return float(ordered[first]), float(ordered[last])
