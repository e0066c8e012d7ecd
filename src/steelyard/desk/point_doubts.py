"""Everything that speaks against one point of a check."""

import math
from collections.abc import Iterator, Mapping

from steelyard.desk.cases import ReadyPoint
from steelyard.desk.hanging import known_load_doubts, mark_doubts, piece_doubts
from steelyard.evaluation import Estimate, PointResult, Verdict, point_name
from steelyard.findings import Finding, Severity
from steelyard.quantities import wrong_unit_suspicion
from steelyard.records import CheckForm, HungKit, TransducerKit

KIT_SHARE = 4  # the kit should be that many times better than the limit
CURVED = 0.05  # shift over u from which curvature is named


def point_doubts(form: CheckForm, ready: ReadyPoint, result: PointResult) -> Iterator[Finding]:
    """All doubts about one point: its readings, then kit and limit, then the numbers themselves."""
    name = point_name(result)
    yield from known_load_doubts(form, ready.form)
    arms = (p.form.arm for p in ready.pulls if p.form.pull.struck_out is None)
    yield from mark_doubts(form, ready.form, [arm.value for arm in arms if arm is not None])
    yield from _readings(form, ready, name)
    yield from _paper(form, result, name)
    yield from _limit(result, name)
    yield from _numbers(result.counted, name)
    if result.readings.s == 0.0:
        yield Finding("no-spread", Severity.NOTE, {"point": name})


def _paper(form: CheckForm, result: PointResult, name: str) -> Iterator[Finding]:
    paper = form.kit.transducer.paper if isinstance(form.kit, TransducerKit) else None
    raws = result.case.raws
    if paper is not None and not paper.reaches(math.fsum(raws) / len(raws)):
        yield Finding("outside-paper", Severity.WARN, {"point": name})


def _limit(result: PointResult, name: str) -> Iterator[Finding]:
    limit, kit = result.case.limit_percent, result.counted.expanded_kit_percent
    reference = result.counted.expanded_reference_percent
    if limit is None:
        yield Finding("no-limit-here", Severity.NOTE, {"point": name})
        return
    if reference * KIT_SHARE > float(limit):
        yield Finding("kit-coarse", Severity.NOTE, {"point": name, "times": float(limit) / reference})
    if result.judged.verdict is Verdict.CANT_TELL:
        for i, pull in enumerate(result.counted_percent, 1):
            if 0 < abs(pull) - float(limit) < kit:
                facts: dict[str, str | float | int] = {"point": name, "pull": i, "deviation_percent": pull}
                yield Finding("pull-just-outside", Severity.NOTE, facts)


def _numbers(counted: Estimate, name: str) -> Iterator[Finding]:
    if counted.rough is not None:
        yield Finding(f"rough-{counted.rough}", Severity.NOTE, {"point": name})
    if abs(counted.shift_percent) > CURVED * 100 * counted.first.u:
        yield Finding("curved", Severity.NOTE, {"point": name, "shift_percent": counted.shift_percent})


def _readings(form: CheckForm, ready: ReadyPoint, name: str) -> Iterator[Finding]:
    low, high = form.tool.lowest.base, form.tool.highest.base
    room = float(ready.case.limit_percent or 0) / 100
    outside = []
    for i, pull in enumerate(ready.pulls, 1):
        facts: dict[str, str | float | int] = {"point": name, "pull": i, "typed": pull.form.pull.typed}
        if pull.form.pull.never_clicked:
            yield Finding("never-clicked", Severity.WARN, facts)
        reading = pull.shown_newton_metre if ready.form.load is not None else pull.torque_newton_metre
        if pull.form.pull.struck_out is None:
            yield from unit_suspicion(reading, ready.case.target_newton_metre, facts)
            if isinstance(form.kit, HungKit):
                yield from piece_doubts(form.kit, pull.form.loads, facts, of="pull")
        if not low * (1 - room) <= reading <= high * (1 + room) and pull.form.pull.is_counted:
            outside.append(i)
    if outside:
        pulls = ", ".join(map(str, outside))
        yield Finding("reading-outside-range", Severity.NOTE, {"point": name, "pulls": pulls})


def unit_suspicion(
    reading_newton_metre: float, target_newton_metre: float, facts: Mapping[str, str | float | int]
) -> Iterator[Finding]:
    """A reading that fits a kit showing another unit; nothing is converted.

    facts: `point`, `pull` and `typed`, for the sentence.
    """
    suspect = wrong_unit_suspicion(reading_newton_metre, target_newton_metre=target_newton_metre)
    if suspect is not None:
        units = {"likely": suspect[0].symbol, "taken": suspect[1].symbol}
        yield Finding("unit-suspected", Severity.GRAVE, {**facts, **units})
