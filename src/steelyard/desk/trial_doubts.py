"""What speaks against going on with yes/no trials as before."""

import math
from collections.abc import Iterator, Sequence

from steelyard.desk.cases import ReadPull
from steelyard.desk.hanging import heavy_doubts, mark_doubts
from steelyard.desk.trial_loads import Makeable, Way
from steelyard.findings import Finding, Severity
from steelyard.published import HAND_LIFT
from steelyard.quantities import Dimension, read_within
from steelyard.readings.threshold import Answer, Steadiness, Threshold, least_fitting
from steelyard.records import CheckForm, PointForm

LEAST_REACH = 1.0  # percent
OUTSIDE = 5.0  # percent beyond the limit, from which a torque outside the tool's range is worth a word


def trial_doubts(
    form: CheckForm,
    point: PointForm,
    threshold: Threshold,
    steady: Steadiness | None,
    found: Sequence[Makeable],
    suggested: Makeable | None,
    reads: Sequence[ReadPull],
    each: Sequence[Answer],
) -> Iterator[Finding]:
    """What speaks against going on as before. reads, each: every trial with its answer, struck out or not."""
    facts: dict[str, str | float | int] = {"point": point.name}
    if steady is not None and steady.is_changed:
        yield Finding("trials-changed", Severity.WARN, {**facts, "after": steady.changed_after})
    elif steady is not None and steady.is_drifting:
        drift = {"drift_percent": steady.drift_percent, "now_percent": steady.now_percent}
        yield Finding("trials-drift", Severity.WARN, {**facts, **drift})
    if threshold.is_contradictory and (steady is None or not steady.is_changed):
        yield Finding("trials-contradict", Severity.WARN, facts)
    elif steady is None or not (steady.is_changed or steady.is_drifting):
        yield from _odd(facts, reads, each)
    if threshold.is_mostly_usual:
        yield Finding("trials-mostly-usual", Severity.NOTE, facts)
    if suggested is None:
        yield Finding("trials-cannot-make", Severity.WARN, facts)
    elif _lifted(suggested) > HAND_LIFT.most:
        yield from heavy_doubts(point, _lifted(suggested))
    elif _is_out_of_reach(threshold, found):
        yield Finding("trials-cannot-make", Severity.WARN, facts)
    low, high = form.tool.lowest.base, form.tool.highest.base
    room = (float(form.limit.percent) + OUTSIDE) / 100
    tried = [read.torque_newton_metre for read in reads if read.form.pull.is_said]
    if any(not low * (1 - room) <= torque <= high * (1 + room) for torque in tried):
        yield Finding("trial-outside-range", Severity.NOTE, facts)


def _odd(
    facts: dict[str, str | float | int], reads: Sequence[ReadPull], each: Sequence[Answer]
) -> Iterator[Finding]:
    """The answer that the others would hardly have expected."""
    counted = [(read, a) for read, a in zip(reads, each, strict=True) if read.form.pull.is_said]
    least = least_fitting([a for _, a in counted])
    if least is None or not least.is_odd:
        return
    read, answer = counted[least.place]
    has_clicked = math.isfinite(answer.high_percent)
    code = "trials-odd-click" if has_clicked else "trials-odd-no-click"
    level = answer.high_percent if has_clicked else answer.low_percent
    yield Finding(code, Severity.WARN, {**facts, "load": read.form.loads[0], "level_percent": level})


def _lifted(suggested: Makeable) -> float:
    """What hangs in the end: poured on until it clicks, about what the target asks for. [kg]"""
    if suggested.way is not Way.POURED:
        return suggested.kilogram
    return max(suggested.kilogram, suggested.kilogram / (1 + suggested.level_percent / 100))


def trial_mark_doubts(
    form: CheckForm, point: PointForm, reads: Sequence[ReadPull], at: str | None
) -> Iterator[Finding]:
    """A mark of the trials that stand, or of the next one, far beyond the grip. at: its mark as typed; None
    for the kit's own.
    """
    arms = [r.form.arm.value for r in reads if r.form.arm is not None and r.form.pull.struck_out is None]
    if at is not None:
        arms.append(read_within(at, Dimension.LENGTH, field="at")[0].base)
    yield from mark_doubts(form, point, arms)


def _is_out_of_reach(threshold: Threshold, found: Sequence[Makeable]) -> bool:
    """All that can be made lies to one side of where the threshold may be."""
    levels = [m.level_percent for m in found]
    return bool(levels) and not min(levels) - LEAST_REACH <= threshold.percent <= max(levels) + LEAST_REACH
