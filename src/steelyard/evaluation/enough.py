"""When more yes/no trials would not change the verdict."""

from enum import StrEnum

from steelyard.evaluation.point import FEWEST_FOR_IN
from steelyard.evaluation.verdict import Cause, Judged, Verdict
from steelyard.readings.threshold import Threshold

SURE = 0.95
SMALL = 1 / 3  # of the kit's standard uncertainty: what the trials leave open then hardly widens the ±


class Enough(StrEnum):
    """Why it is enough. VERDICT: it stands. KIT: the kit decides no finer. FINE: the trials add nothing."""

    VERDICT = "verdict"
    KIT = "kit"
    FINE = "fine"


def enough(
    threshold: Threshold, judged: Judged, *, kit_percent: float, limit_percent: float | None
) -> Enough | None:
    """Whether more trials could still change what is said; None where they could.

    Never before six answers, and never while they contradict each other; what is out because single answers
    prove it stays out whatever follows.
    threshold: what the answers say. judged: of all answers so far, with everything in the ±.
    kit_percent: U without the trials, 95 %. limit_percent: to either side; None where none applies.
    Source: with many more trials the deviation would be known to ± the kit's U alone; the posterior says how
        probable each verdict would then be. Own derivation, docs/explanation/yes-no.md; 95 % is our choice.
    """
    if judged.verdict is Verdict.OUT and judged.cause is Cause.PULL_OUTSIDE:
        return Enough.VERDICT
    if not threshold.is_two_sided or threshold.count < FEWEST_FOR_IN or threshold.is_contradictory:
        return None
    if limit_percent is not None:
        size, weights = abs(threshold.places), threshold.weights
        inside = float(weights[size + kit_percent <= limit_percent].sum())
        outside = float(weights[size - kit_percent > limit_percent].sum())
        settled = {Verdict.IN: inside, Verdict.OUT: outside}
        if settled.get(judged.verdict, 0.0) >= SURE:
            return Enough.VERDICT
        if 1 - inside - outside >= SURE:
            return Enough.KIT
    return Enough.FINE if threshold.u_percent <= SMALL * kit_percent / 2 else None
