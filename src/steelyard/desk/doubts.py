"""Everything that speaks against a check, or that a person should know about it."""

import math
from collections.abc import Iterator, Sequence

from steelyard.desk.cases import ReadyPoint
from steelyard.desk.point_doubts import point_doubts
from steelyard.desk.usual import usual_exercise
from steelyard.evaluation import PointResult
from steelyard.findings import Finding, Severity
from steelyard.published import (
    HAND_LIFT,
    LOAD_TIME,
    ROOM_CHANGE,
    ROOM_TEMPERATURE,
)
from steelyard.records import CheckForm, HungKit, TransducerKit
from steelyard.rigs import Axis, HungWeight, Zeroed
from steelyard.tools import Tool

QUICK_POINTS, QUICK_PULLS = 3, 5


def doubts(
    form: CheckForm, points: Sequence[ReadyPoint], results: Sequence[PointResult]
) -> tuple[Finding, ...]:
    """All doubts about a check, kit first."""
    found = [*_limit(form), *_kit(form), *_bench(form, points)]
    for ready, result in zip(points, results, strict=True):
        found += point_doubts(form, ready, result)
    return tuple(found)


def _limit(form: CheckForm) -> Iterator[Finding]:
    if form.limit.published is not None:
        yield Finding(f"limit-caution-{form.limit.published}", Severity.WARN)


def _kit(form: CheckForm) -> Iterator[Finding]:
    kit = form.kit
    if isinstance(kit, TransducerKit):
        yield from _paper(form, kit)
        if kit.is_torque_tool:
            yield Finding("comparison-only", Severity.WARN, {"kit": kit.name})
        if kit.axis is not Axis.VERTICAL and (kit.axis is Axis.UNKNOWN or kit.zeroed is Zeroed.UNKNOWN):
            yield Finding("own-weight-state-unknown", Severity.WARN)
        if kit.mode == "peak" and not form.tool.kind.is_indicating:
            yield Finding("peak-follow-through", Severity.WARN)
        return
    yield Finding("not-traceable", Severity.NOTE)
    if not form.place.is_gravity_known:
        yield Finding("gravity-unknown", Severity.WARN)
    yield from _assumed(form, kit)
    if not isinstance(kit.rig, HungWeight):
        yield Finding("drum-side-load", Severity.NOTE)
        return
    yield from _arm(form, kit.rig)


def _assumed(form: CheckForm, kit: HungKit) -> Iterator[Finding]:
    """What stands in where the form is silent about load, air and scales."""
    if form.place.air is None:
        yield Finding("buoyancy-off", Severity.NOTE)
    if form.place.is_air_assumed:
        yield Finding("air-assumed", Severity.NOTE)
    if kit.is_material_assumed:
        yield Finding("material-assumed", Severity.NOTE)
    if kit.is_drop_assumed:
        yield Finding("drop-assumed", Severity.NOTE)
    for name in kit.unproven_scales:
        yield Finding("scale-assumed", Severity.NOTE, {"scale": name})


def _arm(form: CheckForm, rig: HungWeight) -> Iterator[Finding]:
    tool = form.tool
    if tool.own_is_zero_on_purpose:
        yield Finding("own-weight-left-out", Severity.WARN)
    if tool.is_zeroed:
        yield Finding("own-weight-zeroed", Severity.NOTE)
    if tool.kind.trips_about_a_pivot and tool.pivot is None and not tool.length_independent:
        yield Finding("pivot-unknown", Severity.NOTE)
    if rig.droop.width > math.radians(2.5):
        yield Finding("droop-by-eye", Severity.NOTE)
    if rig.arm.width == 0.0:
        yield Finding("arm-taken-as-exact", Severity.WARN)
    if _is_own_exact(tool):
        yield Finding("own-weight-taken-as-exact", Severity.WARN)


def _is_own_exact(tool: Tool) -> bool:
    """The tool's own weight counts, and was given without any ±."""
    mass, arm = tool.own_mass, tool.own_arm
    return mass is not None and arm is not None and mass.value > 0.0 and mass.width == arm.width == 0.0


def _paper(form: CheckForm, kit: TransducerKit) -> Iterator[Finding]:
    paper = kit.paper
    if paper is None or paper.certificate is None:
        yield Finding("not-traceable", Severity.NOTE)
    if paper is None:
        return
    if paper.due is None:
        yield Finding("paper-without-due-date", Severity.NOTE, {"kit": kit.name})
    elif form.day > paper.due:
        yield Finding("paper-overdue", Severity.WARN, {"kit": kit.name, "due": paper.due.isoformat()})
    if not any(line.name == "drift" for line in kit.transducer.others):
        yield Finding("drift-not-given", Severity.NOTE, {"kit": kit.name})


def _bench(form: CheckForm, points: Sequence[ReadyPoint]) -> Iterator[Finding]:
    room, low, high = form.place.room_celsius, ROOM_TEMPERATURE.least, ROOM_TEMPERATURE.most
    if room is not None and not low <= room <= high:
        yield Finding("room-temperature", Severity.WARN, {"room_celsius": room})
    change = form.place.room_change_celsius
    if change is not None and change > ROOM_CHANGE.most:
        yield Finding("room-change", Severity.WARN, {"change_celsius": change})
    if form.load_seconds is not None and not LOAD_TIME.least <= form.load_seconds <= LOAD_TIME.most:
        yield Finding("load-time", Severity.WARN, {"load_seconds": form.load_seconds})
    usual = usual_exercise(form.tool.kind)
    if form.exercise_pulls is None or form.exercise_pulls < usual:
        yield Finding("exercise-short", Severity.NOTE, {"usual": usual})
    targets = {p.form.target.exact for p in points}
    if len(targets) < QUICK_POINTS or min(len(p.case.raws) for p in points) < QUICK_PULLS:
        yield Finding("quick-check", Severity.NOTE)
    if isinstance(form.kit, HungKit):
        heaviest = max(p.case.raws[0] for p in points)
        if heaviest > HAND_LIFT.most:
            yield Finding("heavy-load", Severity.WARN, {"load_kilogram": heaviest})
