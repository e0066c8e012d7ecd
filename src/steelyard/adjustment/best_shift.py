"""The best that an adjuster can do at all points together, and where it is good enough."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

HALVINGS = 50


@dataclass(frozen=True, slots=True)
class BestShift:
    """amount: how far to go along the effects, in their unit. worst: max |d|/limit then left. [1]"""

    amount: float
    worst: float


def best_shift(
    deviations: Sequence[float], limits: Sequence[float], *, effects: Sequence[float]
) -> BestShift:
    """Minimise max |d_j + z·e_j| / limit_j over the amount z.

    deviations, limits, effects: of each point and direction, in one unit; limits > 0; effects not all zero.
    Returns the amount and the worst that is left. Points that the adjuster does not move count as well.
    Source: a minimax line through the origin of the adjuster: at the optimum two points are equally far
        off to opposite sides, so every pair is tried (Chebyshev equioscillation); for equal effects the
        closed form z = −(d_i·l_j + d_j·l_i)/(l_i + l_j). Own derivation, docs/explanation/adjusting.md.
    """
    amounts = [0.0]
    points = list(zip(deviations, limits, effects, strict=True))
    amounts += [-d / e for d, _, e in points if e]
    for (d, one, e), (f, two, g) in combinations(points, 2):
        for sign in (1, -1):
            slope = e / one - sign * g / two
            if slope:
                amounts.append(-(d / one - sign * f / two) / slope)
    tried = (BestShift(z, worst(points, z)) for z in amounts)
    return min(tried, key=lambda best: (best.worst, abs(best.amount)))


def worst(points: Sequence[tuple[float, float, float]], amount: float) -> float:
    """max |d + z·e| / limit over points (d, limit, e)."""
    return max(abs(d + amount * e) / limit for d, limit, e in points)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the range, [N m], with the shift that makes it good and the worst left inside it. [1]"""

    low_newton_metre: float
    high_newton_metre: float
    shift: BestShift


def restricted_range(
    targets: Sequence[float], deviations: Sequence[float], *, limit_ratio: float, effects: Sequence[float]
) -> Stretch | None:
    """The longest stretch from either end of the range that one shift brings inside the limit.

    targets: rising, two or more. [N m] deviations, effects: at each target, in N m and N m per unit.
    limit_ratio: of the target. > 0
    Returns None where no stretch beyond a single point exists.
    Source: deviation and effect linear between points, so that (d + z·e)/target is monotone there and its
        ends suffice; bisection for the end of the stretch. Own derivation.
    """
    whole = _stretch(targets, deviations, limit_ratio, effects, low=targets[0], high=targets[-1])
    if whole.shift.worst <= 1:
        return whole
    found = [
        _bisected(targets, deviations, limit_ratio, effects, keep_top=keep_top) for keep_top in (True, False)
    ]
    best = max(found, key=lambda s: s.high_newton_metre - s.low_newton_metre)
    is_point = best.high_newton_metre - best.low_newton_metre <= 1e-6 * targets[-1]
    return None if is_point else best


def _bisected(
    targets: Sequence[float],
    deviations: Sequence[float],
    limit_ratio: float,
    effects: Sequence[float],
    *,
    keep_top: bool,
) -> Stretch:
    good, bad = (targets[-1], targets[0]) if keep_top else (targets[0], targets[-1])

    def at(end: float) -> Stretch:
        low, high = (end, targets[-1]) if keep_top else (targets[0], end)
        return _stretch(targets, deviations, limit_ratio, effects, low=low, high=high)

    for _ in range(HALVINGS):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if at(middle).shift.worst <= 1 else (good, middle)
    return at(good)


def _stretch(
    targets: Sequence[float],
    deviations: Sequence[float],
    limit_ratio: float,
    effects: Sequence[float],
    *,
    low: float,
    high: float,
) -> Stretch:
    inner = [t for t in targets if low < t < high]
    places = [low, *inner, high] if high > low else [low]
    at = [_between(targets, deviations, place) for place in places]
    moved = [_between(targets, effects, place) for place in places]
    return Stretch(low, high, best_shift(at, [limit_ratio * p for p in places], effects=moved))


def _between(places: Sequence[float], values: Sequence[float], place: float) -> float:
    """Straight line between neighbours."""
    for (a, b), (v, w) in zip(
        zip(places, places[1:], strict=False), zip(values, values[1:], strict=False), strict=True
    ):
        if a <= place <= b:
            return v + (w - v) * (place - a) / (b - a)
    raise ValueError(f"{place} lies outside the points")
