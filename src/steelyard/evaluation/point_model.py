"""A point ready for evaluation, and its model: readings, the tool's own errors and the kit in one."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Any

from steelyard.evaluation.deviation import Centre, deviation, deviation_model
from steelyard.evaluation.repeats import Repeats, repeats
from steelyard.evaluation.yes_no import answered
from steelyard.quantities import Line, Shape
from steelyard.readings.threshold import Answer, Threshold, estimate_threshold
from steelyard.rigs import Reference
from steelyard.tools import Measure

TOUCHING = 1e-9  # of a half step: neighbouring brackets share an edge and no more


@dataclass(frozen=True)
class PointCase:
    """Counted pulls of one point and everything that belongs to them.

    target_newton_metre: nominal torque. [N m] > 0; direction: as written.
    raws: of the kit, per counted pull, shape (n,): load [kg] or indication [N m]; n ≥ 2. With answers: of
        every answer.
    shown: what was set or what the tool showed, shape (n,). [N m] > 0
    half_steps: half the step of each load, shape (n,); zeros where there is no step. [as raws]
    reference: of the kit about these raws.
    tool_lines: errors of setting or reading and others, as ratios of what is shown. [1]
    setting_step_ratio: step of the tool's scale that is met afresh at each pull; else 0. [1]
    full_scale_newton_metre: the tool's maximum. [N m]
    is_load_known: the kit makes the torque and the tool shows one; else the tool is set and the kit shows.
    answers: yes/no trials and pulls between two loads, where the point is known as a threshold; the loads
        without a click among them. Empty where the mean of the pulls is judged.
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
    answers: tuple[Answer, ...] = ()

    @cached_property
    def threshold(self) -> Threshold | None:
        """What the answers say; None where the mean of the pulls is judged."""
        return estimate_threshold(self.answers) if self.answers else None

    @property
    def series(self) -> tuple[float, ...]:
        """What varies from pull to pull: what the tool showed at a known load, else the torque. [N m]"""
        if self.is_load_known:
            return self.shown
        return tuple(self.reference.torque_newton_metre(raw) for raw in self.raws)


def point_model(
    case: PointCase, measure: Measure, torques: Sequence[float]
) -> tuple[Any, tuple[Line, ...], Centre]:
    """The deviation model of a point with its lines (spread first), and where its readings lie."""
    full = case.full_scale_newton_metre
    if case.threshold is not None:
        known = answered(
            case.threshold,
            measure,
            case.reference,
            target_newton_metre=case.target_newton_metre,
            raw=case.raws[0],
            full_scale_newton_metre=full,
        )
        model = deviation_model(measure, case.reference, known.centre, own=len(case.tool_lines))
        return model, (known.line, *case.tool_lines, *case.reference.lines), known.centre
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
