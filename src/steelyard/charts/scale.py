"""From values to places: a straight scale, round ticks, room between neighbours."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

ROUND_STEPS = (1, 2, 5, 10)
PAD_RATIO = 0.08  # of the range, left free at either end


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight line from `low`, drawn at `start`, to `high`, drawn at `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value is drawn."""
        return self.start + (self.end - self.start) * (value - self.low) / (self.high - self.low)


def spanning(values: Sequence[float], *, start: float, end: float) -> Scale:
    """A scale on which all values lie, with some room beyond the outermost.

    Raises ValueError when there is none, or one is not finite.
    """
    if not values or not all(map(math.isfinite, values)):
        raise ValueError(f"a scale needs finite values, not {values!r}")
    low, high = min(values), max(values)
    pad = (high - low) * PAD_RATIO or abs(high) * PAD_RATIO or 1.0
    return Scale(low - pad, high + pad, start, end)


def ticks(scale: Scale, *, most: int) -> tuple[float, ...]:
    """Round values on a scale, at most so many."""
    rough = (scale.high - scale.low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * m for m in ROUND_STEPS if power * m >= rough * (1 - 1e-9))
    first, last = math.ceil(scale.low / step), math.floor(scale.high / step)
    return tuple(step * i for i in range(first, last + 1))


def spread(places: Sequence[float], *, gap: float, low: float, high: float) -> tuple[float, ...]:
    """Places in rising order, moved apart just so far that neighbours stand `gap` from each other.

    The gap shrinks where there is no room for it between `low` and `high`.
    """
    gap = min(gap, (high - low) / max(1, len(places) - 1))
    moved: list[float] = []
    for place in places:
        moved.append(max(place, low, moved[-1] + gap) if moved else max(place, low))
    ceiling = high
    for i in range(len(moved) - 1, -1, -1):
        moved[i] = min(moved[i], ceiling)
        ceiling = moved[i] - gap
    return tuple(moved)
