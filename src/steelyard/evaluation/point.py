"""One point in one direction: from pulls to a deviation with its interval, its budget and its verdict."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from steelyard.evaluation.deviation import deviation
from steelyard.evaluation.monte_carlo import DRAWS, Distribution, sample, summary
from steelyard.evaluation.point_model import PointCase, point_model
from steelyard.evaluation.propagation import FirstOrder, coverage_factor, first_order, second_order
from steelyard.evaluation.repeats import Repeats, repeats
from steelyard.evaluation.verdict import Cause, Evidence, Judged, Rule, Verdict, judge_point
from steelyard.evaluation.yes_no import proven_percent
from steelyard.readings.threshold import Answer, Sides, Threshold
from steelyard.tools import Measure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FEW_PULLS = 3  # up to which u is not printed: t(2) has no variance
TAIL = 0.025  # of the places of a posterior, to either side of the 95 % interval
IN_TAIL = 0.005  # the same where *in* is said: whoever looks after each answer gives chance many tries
DIFFERS = 0.1  # of U: where the first-order interval is called too rough
FEWEST_PROOFS = 2  # answers beyond the limit that make a tool out without its interval being there
FEWEST_FOR_IN = 6  # answers: after two, one tool on the limit in three would pass where trips scatter by 2 %
SPREAD_MATTERS = 0.3  # part of u from which the spread of few pulls is named
CURVED = 0.05  # shift over u from which curvature is named


@dataclass(frozen=True)
class Estimate:
    """A deviation in one way of counting it.

    percent: mean over the pulls. low_percent, high_percent: 95 % interval by Monte Carlo.
    expanded_percent: U, to the farther end; expanded_kit_percent: without the readings' spread.
    expanded_reference_percent: of the reference alone, first order; standards hold it against the limit.
    u_percent: analytic standard uncertainty; None for three pulls or fewer.
    shift_percent: by which curvature moves the expected value.
    rough: why the first-order interval differs by more than a tenth of U; None where it does not.
    """

    measure: Measure
    percent: float
    low_percent: float
    high_percent: float
    expanded_percent: float
    expanded_kit_percent: float
    expanded_reference_percent: float
    u_percent: float | None
    shift_percent: float
    rough: str | None
    first: FirstOrder
    distribution: Distribution
    inside_probability: float | None

    @property
    def reach_percent(self) -> float:
        """W′ = |d| + U: how far the deviation may reach. Source: DKD-R 3-8:2003 (seen)."""
        return abs(self.percent) + self.expanded_percent


@dataclass(frozen=True)
class PointResult:
    """What the pulls of a point say.

    torques: by the kit, per counted pull; empty where yes/no answers speak. [N m]
    iso_percent, applied_percent, counted_percent: of each counted pull, the last in the limit's measure.
    readings: statistics of the torques (or, where the load is known, of what the tool showed); of a threshold
        its mean and scatter. [N m]
    iso: ISO deviation; counted: in the limit's own measure (the same object where that is ISO).
    """

    case: PointCase
    torques: tuple[float, ...]
    iso_percent: tuple[float, ...]
    applied_percent: tuple[float, ...]
    counted_percent: tuple[float, ...]
    readings: Repeats
    bolts_get_percent: float
    iso: Estimate
    counted: Estimate
    judged: Judged

    @property
    def threshold(self) -> Threshold | None:
        """What yes/no answers say; None where the mean of pulls is judged."""
        return self.case.threshold


def evaluate_point(case: PointCase, *, rule: Rule, seed: int, draws: int = DRAWS) -> PointResult:
    """Deviation, interval and verdict at one point.

    rule: of the verdict. seed, draws: of the Monte Carlo, see monte_carlo.py.
    Source: JCGM 100:2008, JCGM 101:2008; the point's model: docs/explanation/uncertainty.md.
    """
    if case.threshold is not None:
        return _evaluate_threshold(case, case.threshold, rule=rule, seed=seed, draws=draws)
    torques = tuple(case.reference.torque_newton_metre(raw) for raw in case.raws)
    iso_percent = _percents(case, Measure.ISO, torques)
    applied_percent = _percents(case, Measure.APPLIED, torques)
    iso = estimate(case, Measure.ISO, torques, seed=seed, draws=draws)
    counted = (
        iso if case.measure is Measure.ISO else estimate(case, case.measure, torques, seed=seed, draws=draws)
    )
    counted_percent = _percents(case, case.measure, torques)
    evidence = Evidence(
        counted.low_percent,
        counted.high_percent,
        counted_percent,
        counted.expanded_percent,
        counted.expanded_kit_percent,
        counted.inside_probability or 0.0,
    )
    judged = judge_point(rule, evidence, limit_percent=case.limit_percent)
    return PointResult(
        case=case,
        torques=torques,
        iso_percent=iso_percent,
        applied_percent=applied_percent,
        counted_percent=counted_percent,
        readings=repeats(case.series),
        bolts_get_percent=math.fsum(applied_percent) / len(applied_percent),
        iso=iso,
        counted=counted,
        judged=_cause(judged, counted, tool=len(case.tool_lines)),
    )


def _evaluate_threshold(
    case: PointCase, threshold: Threshold, *, rule: Rule, seed: int, draws: int
) -> PointResult:
    """The same from yes/no answers: the posterior stands in place of mean and spread."""
    iso = estimate(case, Measure.ISO, (), seed=seed, draws=draws)
    is_iso = case.measure is Measure.ISO
    counted = iso if is_iso else estimate(case, case.measure, (), seed=seed, draws=draws)
    torque = case.target_newton_metre * (1 + threshold.percent / 100)
    scatter = case.target_newton_metre * threshold.scatter_percent / 100
    return PointResult(
        case=case,
        torques=(),
        iso_percent=(),
        applied_percent=(),
        counted_percent=(),
        readings=Repeats(threshold.count, torque, scatter, 0.0, 0.0, 0.0),
        bolts_get_percent=threshold.percent,
        iso=iso,
        counted=counted,
        judged=_judge_threshold(case, threshold, counted, rule),
    )


def _judge_threshold(case: PointCase, threshold: Threshold, counted: Estimate, rule: Rule) -> Judged:
    """The rule applied to what answers prove; from one side alone nothing is ever in.

    *In* needs the rule to hold with the 99 % of what the answers leave open too: a tool on its limit, looked
    at after each answer, would else pass by chance; how often: `steelyard simulate threshold`.

    Under the rules that look at each pull, the ends of the interval without the kit stand in for the pulls.
    """
    proven = proven_percent(
        case.answers,
        case.measure,
        target_newton_metre=case.target_newton_metre,
        full_scale_newton_metre=case.full_scale_newton_metre,
    )
    judged = judge_point(rule, _evidence(counted, proven, rule, tail=TAIL), limit_percent=case.limit_percent)
    if judged.verdict is Verdict.IN:
        wider = _evidence(counted, proven, rule, tail=IN_TAIL)
        judged = judge_point(rule, wider, limit_percent=case.limit_percent)
    if threshold.is_two_sided:
        if judged.cause is Cause.SCATTER:
            judged = Judged(judged.verdict, Cause.FEW_ANSWERS)
        if judged.cause is Cause.PULL_OUTSIDE and _proofs(case, counted, proven) < FEWEST_PROOFS:
            judged = Judged(Verdict.CANT_TELL, Cause.FEW_ANSWERS)
        if judged.verdict is Verdict.IN and _worth(case.answers) < FEWEST_FOR_IN:
            judged = Judged(Verdict.CANT_TELL, Cause.FEW_ANSWERS)
        return _cause(judged, counted, tool=len(case.tool_lines))
    if judged.verdict is Verdict.NO_LIMIT:
        return judged
    one = Cause.ALWAYS_CLICKED if threshold.sides is Sides.ONLY_CLICKS else Cause.NEVER_CLICKED
    beyond = _proofs(case, counted, proven) >= FEWEST_PROOFS
    return Judged(Verdict.OUT if beyond else Verdict.CANT_TELL, one)


def _evidence(counted: Estimate, proven: Sequence[float], rule: Rule, *, tail: float) -> Evidence:
    """What the rules look at where answers speak. tail: of what the answers leave open, at either end.

    The interval of the estimate has 2.5 % at either end; another tail widens it by what the answers alone
    leave open, in quadrature with the kit's U.
    """
    spread, kit = counted.first.lines[0], counted.expanded_kit_percent

    def ends(share: float) -> tuple[float, float]:
        place = round(share * len(spread.places))
        return 100 * spread.width * spread.places[place], 100 * spread.width * spread.places[-1 - place]

    far, usual = ends(tail), ends(TAIL)
    low, high = (math.hypot(kit, f) - math.hypot(kit, u) for f, u in zip(far, usual, strict=True))
    pulls = tuple(proven)
    if rule in (Rule.SIMPLE, Rule.EACH_PULL):
        pulls = (*pulls, *(counted.percent + end for end in far))
    return Evidence(
        counted.low_percent - low,
        counted.high_percent + high,
        pulls,
        counted.expanded_percent + max(low, high),
        kit,
        counted.inside_probability or 0.0,
    )


def _proofs(case: PointCase, counted: Estimate, proven: Sequence[float]) -> int:
    """How many answers prove a trip beyond the limit by more than the kit's U, the side with more of them.

    proven: least deviation of each trip. [%] One answer alone proves nothing: a click may go unheard.
    """
    beyond = float(case.limit_percent or 0) + counted.expanded_kit_percent
    return max(sum(d > beyond for d in proven), sum(d < -beyond for d in proven))


def _worth(answers: Sequence[Answer]) -> int:
    """How many yes/no trials they are worth at least: a run that ended in a click is worth two."""
    return sum(2 if math.isfinite(a.low_percent) and math.isfinite(a.high_percent) else 1 for a in answers)


def _cause(judged: Judged, counted: Estimate, *, tool: int) -> Judged:
    """Can't tell because of the tool's own scale, where that makes more of the ± than the reference."""
    if judged.cause is not Cause.KIT:
        return judged
    parts = counted.first.contributions
    own = math.fsum(part * part for part in parts[1 : 1 + tool])
    reference = math.fsum(part * part for part in parts[1 + tool :])
    return Judged(judged.verdict, Cause.TOOL_SCALE) if own > reference else judged


def _percents(case: PointCase, measure: Measure, torques: Sequence[float]) -> tuple[float, ...]:
    full = case.full_scale_newton_metre
    return tuple(
        100 * float(deviation(measure, x, t, full_scale=full))
        for x, t in zip(case.shown, torques, strict=True)
    )


def estimate(
    case: PointCase, measure: Measure, torques: Sequence[float], *, seed: int, draws: int
) -> Estimate:
    """The deviation in one measure, with its interval.

    torques: by the kit, per pull, shape (n,). [N m]. Others as in `evaluate_point`.
    """
    model, lines, centre = point_model(case, measure, torques)
    first = first_order(model, lines)
    second = second_order(model, first)
    values = sample(model, lines, seed=seed, draws=draws)
    distribution = summary(values, seed=seed)
    kit = distribution
    if lines[0].name in ("spread", "answers") and lines[0].width:
        still = (replace(lines[0], width=0.0), *lines[1:])
        kit = summary(sample(model, still, seed=seed, draws=draws), seed=seed)
    reference = math.fsum(part * part for part in first.contributions[-len(case.reference.lines) :])
    expanded = max(distribution.high - centre.mean, centre.mean - distribution.low)
    kit_expanded = max(kit.high - centre.mean, centre.mean - kit.low)
    return Estimate(
        measure=measure,
        percent=100 * centre.mean,
        low_percent=100 * distribution.low,
        high_percent=100 * distribution.high,
        expanded_percent=100 * expanded,
        expanded_kit_percent=100 * kit_expanded,
        expanded_reference_percent=100 * coverage_factor(math.inf) * math.sqrt(reference),
        u_percent=100 * first.u if case.answers or len(case.raws) > FEW_PULLS else None,
        shift_percent=100 * second.shift,
        rough=_why_rough(first, second.shift, distribution, expanded),
        first=first,
        distribution=distribution,
        inside_probability=_inside(values, case.limit_percent) if measure is case.measure else None,
    )


def _inside(values: "NDArray[np.float64]", limit_percent: Decimal | None) -> float | None:
    if limit_percent is None:
        return None
    return float((abs(values) <= float(limit_percent) / 100).mean())


def _why_rough(first: FirstOrder, shift: float, distribution: Distribution, expanded: float) -> str | None:
    """`curvature`, `few-pulls`, `few-answers` or `bounds` (a rectangle rules) where first order is off."""
    half = coverage_factor(first.dof) * first.u
    off = max(abs(first.value - half - distribution.low), abs(first.value + half - distribution.high))
    if off <= DIFFERS * expanded:
        return None
    if abs(shift) > CURVED * first.u:
        return "curvature"
    if first.contributions[0] <= SPREAD_MATTERS * first.u:
        return "bounds"
    return "few-answers" if first.lines[0].name == "answers" else "few-pulls"
