"""Where yes/no trials as left begin: where the tool is believed to stand, never from nothing."""

import math
from collections.abc import Sequence
from decimal import Decimal

from steelyard.desk.adjuster_belief import Stands
from steelyard.desk.trial_loads import Makeable
from steelyard.readings.threshold import Answer, Sides

WORSE, WELL_KNOWN = 2.0, 0.001  # times the best ±, and the part of a load, up to which a load is as good
LEAST_STEP, MOST_STEP = 0.5, 3.0  # percent: of the first step away from where it was believed to stand
HALF, WITHIN = 0.5, 0.9  # of the limit: each end of the bracket off its middle, and off the setting at most
SAME = 1e-9


def begin_trials(
    answers: Sequence[Answer], sides: Sides, limit: Decimal | None, found: Sequence[Makeable], stood: Stands
) -> Makeable | None:
    """The next trial while a point as left has not both clicked and not clicked; None where any will do.

    answers: since the turn or the lock; sides: what they enclose. limit: to either side. [%]
    found: what can be made.
    Between turns: where the point is believed to stand, then away from it on the side that the answers leave,
    each step about twice the one before. After the lock, and where nobody knows where it stands: a load half
    the limit below, then one half the limit above, both inside the limit where the tool was.
    Source: own rule, docs/explanation/adjusting.md. It chooses what is tried; what is said of the tool rests
        on the answers.
    """
    if stood.percent is None or stood.is_locked:
        return _bracketing(answers, limit, found, stood.percent or 0.0)
    if sides not in (Sides.NONE, Sides.ONLY_CLICKS, Sides.ONLY_NO_CLICKS):
        return None
    low = max((a.low_percent for a in answers), default=-math.inf)
    high = min((a.high_percent for a in answers), default=math.inf)
    step = min(max(stood.sd_percent, LEAST_STEP), MOST_STEP)
    aim = _middle(stood.percent, step, low, high)
    left = [m for m in found if not m.is_heavy and low + SAME < m.level_percent < high - SAME]
    return min(known_best(left, aim), key=lambda m: abs(m.level_percent - aim), default=None)


def _middle(percent: float, step: float, low: float, high: float) -> float:
    """Median of a Cauchy distribution about a level, of its part between two others: no end is ever sure."""
    below, above = (math.atan((end - percent) / step) for end in (low, high))
    return percent + step * math.tan((below + above) / 2)


def _bracketing(
    answers: Sequence[Answer], limit: Decimal | None, found: Sequence[Makeable], about_percent: float
) -> Makeable | None:
    """The first two trials: half the limit below a level, then half of it above.

    None where no limit applies, or the first one clicked already, so that nothing above can tell more.
    """
    if limit is None or len(answers) > 1 or any(math.isinf(a.low_percent) for a in answers):
        return None
    low, high = _ends(float(limit), about_percent)
    aim = high if answers else low
    light = [m for m in found if not m.is_heavy and (m.level_percent > about_percent) is bool(answers)]
    return min(light, key=lambda m: abs(m.level_percent - aim), default=None)


def _ends(limit: float, about_percent: float) -> tuple[float, float]:
    """Of the bracket: both inside the limit, unless what it is about lies at it or outside."""
    most, half = WITHIN * limit, HALF * limit
    if abs(about_percent) >= most:
        return about_percent - half, about_percent + half
    return max(about_percent - half, -most), min(about_percent + half, most)


def known_best(near: Sequence[Makeable], percent: float) -> list[Makeable]:
    """Those whose load is known well, where they reach to both sides of a level; else all."""
    best = min((m.u_ratio for m in near), default=0.0)
    well = [m for m in near if m.u_ratio <= max(WORSE * best, WELL_KNOWN)]
    reaches = any(m.level_percent > percent for m in well) and any(m.level_percent < percent for m in well)
    return well if reaches else list(near)
