"""What a judged check says between its points: which setting gives a torque, and how sure that is."""

import calendar
import math
from dataclasses import dataclass
from datetime import date

from steelyard.desk.check import JudgedCheck, JudgedPoint
from steelyard.errors import InputRefused
from steelyard.evaluation import (
    CurvePoint,
    OnCurve,
    at_shown,
    at_torque,
    coverage_factor,
    curve_point,
    is_rising,
)
from steelyard.quantities import Quantity

FORM = "check form"
FEWEST_POINTS = 2


@dataclass(frozen=True)
class CheckedCurve:
    """A check in one direction: its points by rising target, and the curve through them."""

    judged: JudgedCheck
    direction: str
    points: tuple[JudgedPoint, ...]
    curve: tuple[CurvePoint, ...]

    @property
    def least_newton_metre(self) -> float:
        """The lowest torque that was checked. [N m]"""
        return self.curve[0].torque_newton_metre

    @property
    def most_newton_metre(self) -> float:
        """The highest torque that was checked. [N m]"""
        return self.curve[-1].torque_newton_metre

    def reaches(self, torque_newton_metre: float) -> bool:
        """The torque lies where the tool was checked."""
        return self.least_newton_metre <= torque_newton_metre <= self.most_newton_metre


@dataclass(frozen=True)
class SetTo:
    """Where to set a tool for a torque.

    exact: to the last digit; rounded: to the tool's graduation, inside the checked range.
    neighbours: the points `rounded` lies between, one or two.
    single_newton_metre: within which a single pull lies in 95 of 100 cases, scatter included. [N m]
    """

    exact: OnCurve
    rounded: OnCurve
    neighbours: tuple[JudgedPoint, ...]
    single_newton_metre: float


def is_old(day: date, *, today: date) -> bool:
    """More than 12 months have gone since a day."""
    year = day.year + 1
    last = calendar.monthrange(year, day.month)[1]
    return today > date(year, day.month, min(day.day, last))


def checked_curve(judged: JudgedCheck, direction: str | None) -> CheckedCurve:
    """The curve of a check.

    direction: None takes the tool's main one.
    Raises InputRefused for a tool that is neither set nor read, a direction it has not, and fewer than two
        points in it, or points that do not rise.
    """
    tool = judged.form.tool
    way = direction if direction is not None else tool.directions[0]
    if not (tool.kind.is_adjustable or tool.kind.is_indicating) or not tool.step_newton_metre:
        raise InputRefused(FORM, tool.number, "want-settable-tool", kind=tool.kind.value)
    if way not in tool.directions:
        raise InputRefused("--direction", way, "want-direction", names=", ".join(tool.directions))
    points = sorted(
        (point for point in judged.points if point.ready.form.direction == way),
        key=lambda point: point.ready.form.target.exact,
    )
    if len(points) < FEWEST_POINTS:
        raise InputRefused(FORM, tool.number, "want-two-points", direction=way)
    curve = tuple(map(_curve_point, points))
    if not is_rising(curve):
        raise InputRefused(FORM, tool.number, "want-rising-torque", direction=way)
    return CheckedCurve(judged, way, tuple(points), curve)


def _curve_point(point: JudgedPoint) -> CurvePoint:
    shown = point.result.case.shown
    iso = point.result.iso
    return curve_point(math.fsum(shown) / len(shown), iso.first, shift_ratio=iso.shift_percent / 100)


def set_to(checked: CheckedCurve, wanted: Quantity) -> SetTo:
    """Where to set the tool for a torque.

    Raises InputRefused outside the checked range: nothing is known there.
    """
    facts = {"lowest": _in_unit(checked.least_newton_metre, wanted, up=True)}
    facts["highest"] = _in_unit(checked.most_newton_metre, wanted, up=False)
    if not checked.reaches(wanted.base):
        raise InputRefused("--want", wanted.typed, "want-inside-check", **facts)
    exact = at_torque(checked.curve, wanted.base)
    shown = _on_graduation(checked, exact.shown_newton_metre)
    if shown is None:
        raise InputRefused("--want", wanted.typed, "want-inside-check", **facts)
    rounded = at_shown(checked.curve, shown)
    neighbours = tuple(checked.points[i] for i in dict.fromkeys(rounded.neighbours))
    scatter = max(map(_scatter_ratio, neighbours)) * rounded.torque_newton_metre
    return SetTo(exact, rounded, neighbours, math.hypot(rounded.expanded_newton_metre, scatter))


def _on_graduation(checked: CheckedCurve, shown_newton_metre: float) -> float | None:
    """The nearest mark of the tool inside the checked range; None where no mark lies in it. [N m]"""
    step = checked.judged.form.tool.step_newton_metre or math.inf
    least, most = checked.curve[0].shown_newton_metre, checked.curve[-1].shown_newton_metre
    below = math.floor(shown_newton_metre / step)
    marks = [step * count for count in (below, below + 1)]
    inside = [
        min(max(mark, least), most) for mark in marks if least * (1 - 1e-9) <= mark <= most * (1 + 1e-9)
    ]
    return min(inside, key=lambda mark: abs(mark - shown_newton_metre)) if inside else None


def _scatter_ratio(point: JudgedPoint) -> float:
    """k·s of single pulls over their mean, k by their number."""
    readings = point.result.readings
    return coverage_factor(readings.dof) * readings.s / readings.mean


def _in_unit(newton_metre: float, wanted: Quantity, *, up: bool) -> str:
    """An end of the range in the unit of what is wanted, rounded inwards to four digits."""
    value = newton_metre / float(wanted.unit.factor)
    place = 10.0 ** (math.floor(math.log10(value)) - 3)
    whole = math.ceil(value / place - 1e-9) if up else math.floor(value / place + 1e-9)
    return f"{whole * place:.6g} {wanted.unit.symbol}"
