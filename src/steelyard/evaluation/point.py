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
from steelyard.tools import Measure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FEW_PULLS = 3  # up to which u is not printed: t(2) has no variance
DIFFERS = 0.1  # of U: where the first-order interval is called too rough
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

    torques: by the kit, per counted pull. [N m]
    iso_percent, applied_percent, counted_percent: of each counted pull, the last in the limit's measure.
    readings: statistics of the torques (or, where the load is known, of what the tool showed). [N m]
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


def evaluate_point(case: PointCase, *, rule: Rule, seed: int, draws: int = DRAWS) -> PointResult:
    """Deviation, interval and verdict at one point.

    rule: of the verdict. seed, draws: of the Monte Carlo, see monte_carlo.py.
    Source: JCGM 100:2008, JCGM 101:2008; the point's model: docs/explanation/uncertainty.md.
    """
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
        judged=_with_never_clicked(case, counted, _cause(judged, counted, tool=len(case.tool_lines))),
    )


def _cause(judged: Judged, counted: Estimate, *, tool: int) -> Judged:
    """Can't tell because of the tool's own scale, where that makes more of the ± than the reference."""
    if judged.cause is not Cause.KIT:
        return judged
    parts = counted.first.contributions
    own = math.fsum(part * part for part in parts[1 : 1 + tool])
    reference = math.fsum(part * part for part in parts[1 + tool :])
    return Judged(judged.verdict, Cause.TOOL_SCALE) if own > reference else judged


def _with_never_clicked(case: PointCase, counted: Estimate, judged: Judged) -> Judged:
    """A pull that never clicked keeps a tool from being in, and far beyond the limit it is out."""
    if not case.never_clicked or judged.verdict not in (Verdict.IN, Verdict.CANT_TELL):
        return judged
    for raw in case.never_clicked:
        true, full = case.reference.torque_newton_metre(raw), case.full_scale_newton_metre
        least = 100 * float(deviation(case.measure, case.target_newton_metre, true, full_scale=full))
        beyond = abs(least) - counted.expanded_kit_percent > float(case.limit_percent or 0)
        if true > case.target_newton_metre and beyond:
            return Judged(Verdict.OUT, Cause.NEVER_CLICKED)
    return Judged(Verdict.CANT_TELL, Cause.NEVER_CLICKED)


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
    if lines[0].name == "spread" and lines[0].width:
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
        u_percent=100 * first.u if len(case.raws) > FEW_PULLS else None,
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
    """`curvature`, `few-pulls` or `bounds` (one rectangle rules) where the first-order interval is off."""
    half = coverage_factor(first.dof) * first.u
    off = max(abs(first.value - half - distribution.low), abs(first.value + half - distribution.high))
    if off <= DIFFERS * expanded:
        return None
    if abs(shift) > CURVED * first.u:
        return "curvature"
    return "few-pulls" if first.contributions[0] > SPREAD_MATTERS * first.u else "bounds"
