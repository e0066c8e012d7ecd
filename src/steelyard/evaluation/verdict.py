"""In, out, or can't tell with this kit: the four rules, for one point and for the whole tool."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

ENOUGH_DIGITS = 12  # significant: drops the noise of binary floats, keeps every digit a person typed
SURE = 0.95  # of the rule by probability
SIMPLE_SHARE = 4  # the kit must be that many times better than the limit


class Verdict(StrEnum):
    """What is said of a point or a tool. NO_LIMIT: the limit does not reach down to this point."""

    IN = "in"
    OUT = "out"
    CANT_TELL = "cant-tell"
    NO_LIMIT = "no-limit"


class Rule(StrEnum):
    """How it is decided; printed with the verdict.

    GUARDED: the whole interval and every counted pull inside. SIMPLE: every pull inside, with a kit four
    times better than the limit. EACH_PULL: every pull inside by the kit's U. PROBABILITY: 95 % sure to be
    inside.
    Source: JCGM 106:2012 8 (guard bands; from memory), ILAC-G8:09/2019 4.2 (seen in a secondary source).
    """

    GUARDED = "guarded"
    SIMPLE = "simple"
    EACH_PULL = "each-pull"
    PROBABILITY = "probability"


class Cause(StrEnum):
    """What stands behind a verdict."""

    INSIDE = "inside"
    INTERVAL_OUTSIDE = "interval-outside"
    PULL_OUTSIDE = "pull-outside"
    NEVER_CLICKED = "never-clicked"
    ALWAYS_CLICKED = "always-clicked"
    FEW_ANSWERS = "few-answers"
    KIT = "kit"
    TOOL_SCALE = "tool-scale"
    SCATTER = "scatter"
    NO_LIMIT = "no-limit"


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict with its cause."""

    verdict: Verdict
    cause: Cause


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the rules look at, all in percent of the limit's own measure.

    low, high: the interval; pulls: deviation of each counted pull; expanded: U; expanded_kit: U without the
    spread of the readings; inside: probability that the deviation lies inside the limit.
    """

    low_percent: float
    high_percent: float
    pulls_percent: Sequence[float]
    expanded_percent: float
    expanded_kit_percent: float
    inside_probability: float


def exact(percent: float) -> Decimal:
    """A float as the decimal it stands for, so that 4 is not above 4."""
    return Decimal(f"{percent:.{ENOUGH_DIGITS}g}")


def judge_point(rule: Rule, evidence: Evidence, *, limit_percent: Decimal | None) -> Judged:
    """The verdict at one point.

    limit_percent: to either side, > 0; None where no limit applies.
    Source: docs/explanation/uncertainty.md, "The four rules".
    """
    if limit_percent is None:
        return Judged(Verdict.NO_LIMIT, Cause.NO_LIMIT)
    largest = max(abs(exact(pull)) for pull in evidence.pulls_percent)
    kit = exact(evidence.expanded_kit_percent)
    decide = {
        Rule.GUARDED: _guarded,
        Rule.SIMPLE: _simple,
        Rule.EACH_PULL: _each_pull,
        Rule.PROBABILITY: _probable,
    }
    return decide[rule](evidence, limit_percent, largest, kit)


def _unsure(evidence: Evidence) -> Judged:
    """Can't tell, because of the kit or because of scatter: whichever makes more of the ±."""
    squares = evidence.expanded_percent**2 - evidence.expanded_kit_percent**2
    scattered = squares > evidence.expanded_kit_percent**2
    return Judged(Verdict.CANT_TELL, Cause.SCATTER if scattered else Cause.KIT)


def _guarded(evidence: Evidence, limit: Decimal, largest: Decimal, kit: Decimal) -> Judged:
    low, high = exact(evidence.low_percent), exact(evidence.high_percent)
    if low > limit or high < -limit:
        return Judged(Verdict.OUT, Cause.INTERVAL_OUTSIDE)
    if largest > limit + kit:
        return Judged(Verdict.OUT, Cause.PULL_OUTSIDE)
    if -limit <= low and high <= limit:
        return (
            Judged(Verdict.IN, Cause.INSIDE) if largest <= limit else Judged(Verdict.CANT_TELL, Cause.SCATTER)
        )
    return _unsure(evidence)


def _simple(_evidence: Evidence, limit: Decimal, largest: Decimal, kit: Decimal) -> Judged:
    if kit * SIMPLE_SHARE > limit:
        return Judged(Verdict.CANT_TELL, Cause.KIT)
    return Judged(Verdict.IN, Cause.INSIDE) if largest <= limit else Judged(Verdict.OUT, Cause.PULL_OUTSIDE)


def _each_pull(_evidence: Evidence, limit: Decimal, largest: Decimal, kit: Decimal) -> Judged:
    if largest + kit <= limit:
        return Judged(Verdict.IN, Cause.INSIDE)
    if largest - kit > limit:
        return Judged(Verdict.OUT, Cause.PULL_OUTSIDE)
    return Judged(Verdict.CANT_TELL, Cause.KIT)


def _probable(evidence: Evidence, _limit: Decimal, _largest: Decimal, _kit: Decimal) -> Judged:
    if evidence.inside_probability >= SURE:
        return Judged(Verdict.IN, Cause.INSIDE)
    if evidence.inside_probability <= 1 - SURE:
        return Judged(Verdict.OUT, Cause.INTERVAL_OUTSIDE)
    return _unsure(evidence)


def judge_tool(points: Sequence[Verdict]) -> Verdict:
    """Any point out: out. Else any can't tell: can't tell. Else in; points without a limit say nothing."""
    for verdict in (Verdict.OUT, Verdict.CANT_TELL, Verdict.IN):
        if verdict in points:
            return verdict
    return Verdict.NO_LIMIT


def deciding_point(points: Sequence[Verdict], used_up: Sequence[float]) -> int | None:
    """Which point made the verdict of the tool: of those with its verdict, the one nearest to the limit or
    farthest beyond it.

    used_up: (|d| + U)/limit of each. [1] Returns a place in the row; None where no limit applies anywhere.
    A point that is out by a single pull alone may have used up less than one that is in: it is named.
    """
    whole = judge_tool(points)
    if whole is Verdict.NO_LIMIT:
        return None
    return max((i for i, verdict in enumerate(points) if verdict is whole), key=lambda i: used_up[i])
