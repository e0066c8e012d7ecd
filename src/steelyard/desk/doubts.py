"""Everything that speaks against a check, or that a person should know about it."""

import math
from collections.abc import Iterator, Sequence

from steelyard.desk.cases import ReadyPoint
from steelyard.evaluation import PointResult, Verdict, point_name
from steelyard.findings import Finding, Severity
from steelyard.published import EXERCISE_INDICATING, EXERCISE_SETTING, HAND_LIFT, ROOM_TEMPERATURE
from steelyard.quantities import wrong_unit_suspicion
from steelyard.records import CheckForm, HungKit, TransducerKit
from steelyard.rigs import HungWeight, OwnActs

KIT_SHARE = 4
QUICK_POINTS, QUICK_PULLS = 3, 5
CURVED = 0.05


def doubts(
    form: CheckForm, points: Sequence[ReadyPoint], results: Sequence[PointResult]
) -> tuple[Finding, ...]:
    """All doubts about a check, kit first."""
    found = [*_kit(form), *_bench(form, points)]
    for ready, result in zip(points, results, strict=True):
        found += _point(form, ready, result)
    return tuple(found)


def _kit(form: CheckForm) -> Iterator[Finding]:
    kit = form.kit
    if isinstance(kit, TransducerKit):
        yield from _paper(form, kit)
        if kit.own_acts is OwnActs.UNKNOWN:
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
    usual = EXERCISE_INDICATING if form.tool.kind.is_indicating else EXERCISE_SETTING
    if form.exercise_pulls is None or form.exercise_pulls < usual.least:
        yield Finding("exercise-short", Severity.NOTE, {"usual": int(usual.least)})
    targets = {p.form.target.exact for p in points}
    if len(targets) < QUICK_POINTS or min(len(p.case.raws) for p in points) < QUICK_PULLS:
        yield Finding("quick-check", Severity.NOTE)
    if isinstance(form.kit, HungKit):
        heaviest = max(p.case.raws[0] for p in points)
        if heaviest > HAND_LIFT.most:
            yield Finding("heavy-load", Severity.WARN, {"load_kilogram": heaviest})


def _point(form: CheckForm, ready: ReadyPoint, result: PointResult) -> Iterator[Finding]:
    name = point_name(result)
    yield from _readings(form, ready, name)
    limit, counted = result.case.limit_percent, result.counted
    if limit is None:
        yield Finding("no-limit-here", Severity.NOTE, {"point": name})
    elif counted.expanded_kit_percent * KIT_SHARE > float(limit):
        share = float(limit) / counted.expanded_kit_percent
        yield Finding("kit-coarse", Severity.NOTE, {"point": name, "times": share})
    if result.judged.verdict is Verdict.CANT_TELL and limit is not None:
        for i, pull in enumerate(result.counted_percent, 1):
            over = abs(pull) - float(limit)
            if 0 < over < counted.expanded_kit_percent:
                yield Finding(
                    "pull-just-outside", Severity.NOTE, {"point": name, "pull": i, "deviation_percent": pull}
                )
    if counted.rough is not None:
        yield Finding(f"rough-{counted.rough}", Severity.NOTE, {"point": name})
    if abs(counted.shift_percent) > CURVED * 100 * counted.first.u:
        yield Finding("curved", Severity.NOTE, {"point": name, "shift_percent": counted.shift_percent})
    if result.readings.s == 0.0:
        yield Finding("no-spread", Severity.NOTE, {"point": name})


def _readings(form: CheckForm, ready: ReadyPoint, name: str) -> Iterator[Finding]:
    low, high = form.tool.lowest.base, form.tool.highest.base
    outside = []
    for i, pull in enumerate(ready.pulls, 1):
        facts: dict[str, str | float | int] = {"point": name, "pull": i, "typed": pull.form.pull.typed}
        if pull.form.pull.never_clicked:
            yield Finding("never-clicked", Severity.WARN, facts)
        reading = pull.shown_newton_metre if ready.form.load is not None else pull.torque_newton_metre
        suspect = wrong_unit_suspicion(reading, target_newton_metre=ready.case.target_newton_metre)
        if suspect is not None and pull.form.pull.struck_out is None:
            units = {"likely": suspect[0].symbol, "taken": suspect[1].symbol}
            yield Finding("unit-suspected", Severity.GRAVE, {**facts, **units})
        if not low <= reading <= high and pull.form.pull.is_counted:
            outside.append(i)
    if outside:
        pulls = ", ".join(map(str, outside))
        yield Finding("reading-outside-range", Severity.NOTE, {"point": name, "pulls": pulls})
