"""One point in one direction: from pulls to a deviation with its interval, its budget and its verdict."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from steelyard.evaluation.deviation import Centre, deviation, deviation_model
from steelyard.evaluation.monte_carlo import DRAWS, Distribution, sample, summary
from steelyard.evaluation.propagation import FirstOrder, coverage_factor, first_order, second_order
from steelyard.evaluation.repeats import Repeats, repeats
from steelyard.evaluation.verdict import Cause, Evidence, Judged, Rule, Verdict, judge_point
from steelyard.quantities import Line, Shape
from steelyard.rigs import Reference
from steelyard.tools import Measure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FEW_PULLS = 3  # up to which u is not printed: t(2) has no variance
DIFFERS = 0.1  # of U: where the first-order interval is called too rough
SPREAD_MATTERS = 0.3  # part of u from which the spread of few pulls is named
TOUCHING = 1e-9  # of a half step: neighbouring brackets share an edge and no more
CURVED = 0.05  # shift over u from which curvature is named


@dataclass(frozen=True)
class PointCase:
    """Counted pulls of one point and everything that belongs to them.

    target_newton_metre: nominal torque. [N m] > 0; direction: as written.
    raws: of the kit, per counted pull, shape (n,): load [kg] or indication [N m]; n ≥ 2.
    shown: what was set or what the tool showed, shape (n,). [N m] > 0
    half_steps: half the step of each load, shape (n,); zeros where there is no step. [as raws]
    reference: of the kit about these raws.
    tool_lines: errors of setting or reading and others, as ratios of what is shown. [1]
    setting_step_ratio: step of the tool's scale that is met afresh at each pull; else 0. [1]
    full_scale_newton_metre: the tool's maximum. [N m]
    is_load_known: the kit makes the torque and the tool shows one; else the tool is set and the kit shows.
    never_clicked: raws of pulls that were reached without a click; not counted, but they bound the truth.
    measure, limit_percent: how the limit counts and its percentage; None where none applies.
    """

    target_newton_metre: float
    direction: str
    raws: tuple[float, ...]
    shown: tuple[float, ...]
    half_steps: tuple[float, ...]
    reference: Reference
    tool_lines: tuple[Line, ...]
    setting_step_ratio: float
    full_scale_newton_metre: float
    measure: Measure
    limit_percent: Decimal | None
    is_load_known: bool = False
    never_clicked: tuple[float, ...] = ()

    @property
    def series(self) -> tuple[float, ...]:
        """What varies from pull to pull: what the tool showed at a known load, else the torque. [N m]"""
        if self.is_load_known:
            return self.shown
        return tuple(self.reference.torque_newton_metre(raw) for raw in self.raws)


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


def point_model(
    case: PointCase, measure: Measure, torques: Sequence[float]
) -> tuple[Any, tuple[Line, ...], Centre]:
    """The deviation model of a point with its lines (spread first), and where its readings lie."""
    full = case.full_scale_newton_metre
    deviations = [
        float(deviation(measure, x, t, full_scale=full)) for x, t in zip(case.shown, torques, strict=True)
    ]
    spread = repeats(deviations)
    n = spread.n
    raw = math.fsum(case.raws) / n
    shown = math.fsum(case.shown) / n
    centre = Centre(raw, shown, case.reference.torque_newton_metre(raw), spread.mean, full)
    tool = (*case.tool_lines, *_step_line(case, raw, centre.torque))
    model = deviation_model(measure, case.reference, centre, own=len(tool))
    return model, (_spread_line(case, spread), *tool, *case.reference.lines), centre


def _spread_line(case: PointCase, spread: Repeats) -> Line:
    """Repeatability s/√n, or the resolution of a setting made afresh each time where that is larger."""
    setting = case.setting_step_ratio / (2 * math.sqrt(3)) / math.sqrt(spread.n)
    if setting > spread.u:
        return Line("setting-each-time", 0.0, setting, Shape.NORMAL, shared=False)
    return Line("spread", 0.0, spread.u, Shape.NORMAL, dof=spread.dof, shared=False)


def _step_line(case: PointCase, raw: float, torque: float) -> tuple[Line, ...]:
    """The steps in which a load was added.

    What all pulls have in common, the overlap of their brackets, may hide the same error in each: one
    rectangle, as wide as the overlap (five times the same bracket know no more than once). Brackets
    without an overlap erred to different sides: a rectangle per pull, so a normal for their mean.
    Source: own derivation, docs/explanation/uncertainty.md; coverage: `steelyard simulate coverage`.
    """
    if not any(case.half_steps):
        return ()
    brackets = list(zip(case.raws, case.half_steps, strict=True))
    overlap = min(raw + half for raw, half in brackets) - max(raw - half for raw, half in brackets)
    if overlap > TOUCHING * max(case.half_steps):
        width = _ratio(case, raw, torque, overlap / 2)
        return (Line("load-step", 0.0, width, Shape.RECTANGULAR, shared=False),)
    u_raw = math.sqrt(math.fsum(half * half for half in case.half_steps) / 3) / len(brackets)
    return (Line("load-step", 0.0, _ratio(case, raw, torque, u_raw), Shape.NORMAL, shared=False),)


def _ratio(case: PointCase, raw: float, torque: float, more: float) -> float:
    """By which part of the torque a little more load changes it."""
    return abs((case.reference.torque_newton_metre(raw + more) - torque) / torque)
