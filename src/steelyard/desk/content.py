"""A judged check as plain content: complete, stable, units in the key names; what `--json` prints."""

import math
from decimal import Decimal
from typing import Any

from steelyard.desk.cases import ReadPull
from steelyard.desk.check import JudgedCheck, JudgedPoint
from steelyard.evaluation import METHOD, Estimate
from steelyard.findings import Finding
from steelyard.quantities import Line
from steelyard.readings.threshold import Answer, Threshold
from steelyard.records import CheckForm, KitForm, TransducerKit
from steelyard.rigs import HungWeight
from steelyard.tools import Limit

CONTENT_FORM = 1


def check_content(judged: JudgedCheck) -> dict[str, Any]:
    """Everything a record of this check has to say, of JSON types only, no nan or inf.

    Keys stay once they are published; new ones may be added with a new minor version of the program.
    """
    form, tool = judged.form, judged.form.tool
    return {
        "steelyard_result": CONTENT_FORM,
        "title": form.title,
        "date": form.day.isoformat(),
        "person": form.person,
        "notes": form.notes,
        "tool": {
            "number": tool.number,
            "kind": tool.kind.value,
            "make": tool.make,
            "lowest": tool.lowest.typed,
            "highest": tool.highest.typed,
            "lowest_newton_metre": tool.lowest.base,
            "highest_newton_metre": tool.highest.base,
        },
        "kit": {"name": form.kit.name, "certificate": judged.certificate, **_kit(form.kit)},
        "conditions": _conditions(form),
        "limit": _limit(form.limit),
        "rule": form.rule.value,
        "verdict": judged.verdict.value,
        "worst_point": judged.worst.ready.form.name if judged.worst else None,
        "restricted_range": [p.ready.form.target.typed for p in judged.restricted]
        if judged.restricted
        else None,
        "points": [_point(point) for point in judged.points],
        "pattern": [_finding(f) for f in judged.pattern.findings],
        "level_and_slope": {
            direction: {
                "level_percent": line.level_percent,
                "level_expanded_percent": line.level_expanded_percent,
                "slope_percent": line.slope_percent,
                "slope_expanded_percent": line.slope_expanded_percent,
            }
            for direction, line in judged.pattern.lines.items()
        },
        "doubts": [_finding(f) for f in judged.doubts],
    }


def _conditions(form: CheckForm) -> dict[str, Any]:
    """Place, room and handling."""
    return {
        "gravity_m_s2": form.place.gravity.value,
        "air_kg_m3": form.place.air.value if form.place.air is not None else None,
        "room_celsius": form.place.room_celsius,
        "room_change_celsius": form.place.room_change_celsius,
        "exercise_pulls": form.exercise_pulls,
        "load_seconds": form.load_seconds,
    }


def _limit(limit: Limit) -> dict[str, Any]:
    """The limit with all its parts, numbers as the decimals they are."""
    return {
        "percent": str(limit.percent),
        "measure": limit.measure.value,
        "source": limit.source,
        "published": limit.published,
        "small_percent": _text(limit.small_percent),
        "small_up_to_newton_metre": _text(limit.small_up_to_newton_metre),
        "other_direction_percent": _text(limit.other_direction_percent),
        "from_percent_of_maximum": _text(limit.from_percent_of_maximum),
    }


def _text(number: Decimal | None) -> str | None:
    return str(number) if number is not None else None


def _kit(kit: KitForm) -> dict[str, Any]:
    """What sort of kit it is and how it stood; its lengths, masses and errors are among the inputs."""
    if not isinstance(kit, TransducerKit):
        kind = "hung-weight" if isinstance(kit.rig, HungWeight) else "drum"
        return {"kind": kind, "axis": None, "zeroed": None, "mode": None, "paper": None}
    paper = kit.paper
    return {
        "kind": "transducer",
        "axis": kit.axis.value,
        "zeroed": kit.zeroed.value,
        "mode": kit.mode,
        "paper": None
        if paper is None
        else {
            "laboratory": paper.laboratory,
            "issued": paper.issued.isoformat() if paper.issued else None,
            "due": paper.due.isoformat() if paper.due else None,
        },
    }


def _point(point: JudgedPoint) -> dict[str, Any]:
    result, form = point.result, point.ready.form
    limit = result.case.limit_percent
    said = iter(result.case.answers)
    return {
        "target": form.target.typed,
        "target_newton_metre": form.target.base,
        "direction": form.direction,
        "pulls": [
            {
                "typed": read.form.pull.typed,
                "torque_newton_metre": read.torque_newton_metre,
                "shown_newton_metre": read.shown_newton_metre,
                "iso_deviation_percent": read.iso_percent,
                "struck_out": read.form.pull.struck_out,
                "never_clicked": read.form.pull.never_clicked,
                "counted": read.form.pull.is_said if result.threshold else read.form.pull.is_counted,
                **_trial(read),
                **(_between(next(said) if read.form.pull.is_said else None) if result.threshold else {}),
            }
            for read in point.ready.pulls
        ],
        "threshold": threshold_content(result.threshold) if result.threshold is not None else None,
        "mean_newton_metre": result.readings.mean,
        "spread_newton_metre": result.readings.s,
        "first_pull_error_newton_metre": result.readings.first_error,
        "trend_newton_metre_per_pull": result.readings.trend,
        "bolts_get_percent": result.bolts_get_percent,
        "iso": _estimate(result.iso),
        "counted": _estimate(result.counted),
        "limit_percent": _text(limit),
        "verdict": result.judged.verdict.value,
        "cause": result.judged.cause.value,
        "inputs": [_input(line) for line in result.counted.first.lines],
        "budget": [
            {
                "line": row.line.name,
                "detail": row.line.detail,
                "standard_uncertainty_percent": row.u_percent,
                "share_percent": row.share_percent,
            }
            for row in point.budget
        ],
    }


def _trial(read: ReadPull) -> dict[str, Any]:
    """What a yes/no trial adds to a pull."""
    if read.form.pull.clicked is None:
        return {}
    return {"clicked": read.form.pull.clicked, "set": read.form.set_typed, "at": read.form.arm_typed}


def _between(answer: Answer | None) -> dict[str, Any]:
    """Between which levels a trip lay; null where there is no end, or where the answer is struck out."""
    ends = (answer.low_percent, answer.high_percent) if answer is not None else (math.inf, math.inf)
    return {"between_percent": [end if math.isfinite(end) else None for end in ends]}


def threshold_content(threshold: Threshold) -> dict[str, Any]:
    """What yes/no answers say of the tool alone, T/X − 1; null where the bracket has no end."""
    ends = (threshold.bracket_low_percent, threshold.bracket_high_percent)
    return {
        "answers": threshold.count,
        "sides": threshold.sides.value,
        "percent": threshold.percent,
        "low_percent": threshold.low_percent,
        "high_percent": threshold.high_percent,
        "scatter_percent": threshold.scatter_percent,
        "scatter_low_percent": threshold.scatter_low_percent,
        "scatter_high_percent": threshold.scatter_high_percent,
        "bracket_percent": [end if math.isfinite(end) else None for end in ends],
    }


def _input(line: Line) -> dict[str, Any]:
    """One input of the point's model, whether it adds to the ± or not."""
    return {
        "line": line.name,
        "detail": line.detail,
        "value": line.value,
        "width": line.width,
        "standard_uncertainty": line.u,
        "unit": line.unit,
        "shape": line.shape.value,
        "degrees_of_freedom": line.dof if math.isfinite(line.dof) else None,
        "shared_by_all_points": line.shared,
    }


def _estimate(estimate: Estimate) -> dict[str, Any]:
    drawn = estimate.distribution
    return {
        "measure": estimate.measure.value,
        "deviation_percent": estimate.percent,
        "low_percent": estimate.low_percent,
        "high_percent": estimate.high_percent,
        "expanded_percent": estimate.expanded_percent,
        "reach_percent": estimate.reach_percent,
        "expanded_reference_percent": estimate.expanded_reference_percent,
        "expanded_kit_percent": estimate.expanded_kit_percent,
        "standard_uncertainty_percent": estimate.u_percent,
        "shift_percent": estimate.shift_percent,
        "first_order_is_rough_because": estimate.rough,
        "inside_probability": estimate.inside_probability,
        "method": {
            "version": METHOD,
            "numpy": drawn.numpy,
            "draws": drawn.draws,
            "seed": drawn.seed,
            "probability": drawn.probability,
            "tolerance_percent": 100 * drawn.tolerance,
        },
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {"code": finding.code, "severity": finding.severity.value, "facts": dict(finding.facts)}
