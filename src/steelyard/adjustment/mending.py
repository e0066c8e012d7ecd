"""Whether the adjuster can mend the tool at all, as far as it is known."""

from dataclasses import dataclass
from enum import StrEnum

from steelyard.adjustment.belief import Belief
from steelyard.adjustment.best_shift import Stretch, best_shift, restricted_range

DRAWS = 400
SURE = 0.95
FEWEST_READINGS = 3  # per point, below which "cannot" is wrong too often (8.6 % with one): our choice


class Mending(StrEnum):
    """What may be said. MENDABLE, CANNOT: with 95 % probability. NOT_KNOWN: neither."""

    MENDABLE = "mendable"
    CANNOT = "cannot"
    NOT_KNOWN = "not-known"


@dataclass(frozen=True, slots=True)
class Outlook:
    """Best that the adjuster can do at all points together.

    mending, probability: what is said, and the probability that the best lies inside the limits.
    best_ratio: best possible worst |d|/limit, median; best_low_ratio, best_high_ratio: 95 %. [1]
    best_percent: the same as a percentage of the target at the point where it is reached. [%]
    stretch: the part of the range that one shift brings inside, where the whole cannot; None where none.
    """

    mending: Mending
    probability: float
    best_ratio: float
    best_low_ratio: float
    best_high_ratio: float
    best_percent: float
    stretch: Stretch | None


def outlook(belief: Belief, *, fewest_readings: int, u_kit_ratio: float, seed: int) -> Outlook:
    """Draw deviations and effects from what is believed, and take the best shift of each draw.

    fewest_readings: of any point; below three "cannot" is never said.
    u_kit_ratio: what the kit leaves open at every point alike, standard uncertainty. [1]
    seed: of 400 draws.
    Source: Monte Carlo over `best_shift`; "cannot" only where the best lies outside with 95 % probability.
    """
    import numpy as np

    draw = np.random.Generator(np.random.SFC64(seed))
    targets = np.array([p.target_newton_metre for p in belief.points])
    limits = [p.limit_newton_metre for p in belief.points]
    chosen = draw.choice(belief.weights.size, size=DRAWS, p=belief.weights)
    normal = draw.standard_normal((DRAWS, targets.size))
    kit = u_kit_ratio * draw.standard_normal(DRAWS)[:, None] * targets
    roots = np.linalg.cholesky(belief.covariances[chosen])
    deviations = belief.means[chosen] + np.einsum("dij,dj->di", roots, normal) + kit
    best = np.array(
        [
            best_shift(list(map(float, d)), limits, effects=list(map(float, belief.effects[h]))).worst
            for d, h in zip(deviations, chosen, strict=True)
        ]
    )
    inside = float((best <= 1).mean())
    middle = float(np.median(best))
    return Outlook(
        mending=_said(inside, fewest_readings),
        probability=inside,
        best_ratio=middle,
        best_low_ratio=float(np.quantile(best, 0.025)),
        best_high_ratio=float(np.quantile(best, 0.975)),
        best_percent=100 * middle * min(p.limit_ratio for p in belief.points),
        stretch=_stretch(belief) if inside < SURE else None,
    )


def _said(inside: float, fewest_readings: int) -> Mending:
    if inside >= SURE:
        return Mending.MENDABLE
    if inside <= 1 - SURE and fewest_readings >= FEWEST_READINGS:
        return Mending.CANNOT
    return Mending.NOT_KNOWN


def _stretch(belief: Belief) -> Stretch | None:
    """By the mean deviations and effects; None where a target stands in two directions."""
    likely = belief.weights @ abs(belief.effects)
    rows = sorted(
        zip(
            [p.target_newton_metre for p in belief.points],
            belief.deviations_newton_metre,
            map(float, likely),
            strict=True,
        )
    )
    targets = [row[0] for row in rows]
    if len(set(targets)) < len(targets) or len(targets) < 2:
        return None
    return restricted_range(
        targets,
        [row[1] for row in rows],
        limit_ratio=min(p.limit_ratio for p in belief.points),
        effects=[row[2] for row in rows],
    )
