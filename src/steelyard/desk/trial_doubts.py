"""What speaks against going on with yes/no trials as before."""

import math
from collections.abc import Iterator, Sequence

from steelyard.desk.cases import ReadPull
from steelyard.desk.trial_loads import Makeable, Way
from steelyard.findings import Finding, Severity
from steelyard.published import HAND_LIFT
from steelyard.readings.threshold import Steadiness, Threshold
from steelyard.records import CheckForm, PointForm
from steelyard.surroundings import STANDARD_GRAVITY_M_S2

LEAST_REACH = 1.0  # percent
OUTSIDE = 5.0  # percent beyond the limit, from which a torque outside the tool's range is worth a word
ARM_STEP = 10  # mm to which an arm is rounded up


def trial_doubts(
    form: CheckForm,
    point: PointForm,
    threshold: Threshold,
    steady: Steadiness | None,
    found: Sequence[Makeable],
    suggested: Makeable | None,
    reads: Sequence[ReadPull],
) -> Iterator[Finding]:
    """What speaks against going on as before."""
    facts: dict[str, str | float | int] = {"point": point.name}
    if steady is not None and steady.is_changed:
        yield Finding("trials-changed", Severity.WARN, {**facts, "after": steady.changed_after})
    elif steady is not None and steady.is_drifting:
        drift = {"drift_percent": steady.drift_percent, "now_percent": steady.now_percent}
        yield Finding("trials-drift", Severity.WARN, {**facts, **drift})
    if threshold.is_contradictory and (steady is None or not steady.is_changed):
        yield Finding("trials-contradict", Severity.WARN, facts)
    if suggested is None:
        yield Finding("trials-cannot-make", Severity.WARN, facts)
    elif _lifted(suggested) > HAND_LIFT.most:
        heavy = {
            "load_kilogram": _lifted(suggested),
            "most_kilogram": HAND_LIFT.most,
            "arm_millimetre": _light_arm(point.target.base),
        }
        yield Finding("trials-heavy", Severity.WARN, {**facts, **heavy})
    elif _is_out_of_reach(threshold, found):
        yield Finding("trials-cannot-make", Severity.WARN, facts)
    low, high = form.tool.lowest.base, form.tool.highest.base
    room = (float(form.limit.percent) + OUTSIDE) / 100
    tried = [read.torque_newton_metre for read in reads if read.form.pull.is_said]
    if any(not low * (1 - room) <= torque <= high * (1 + room) for torque in tried):
        yield Finding("trial-outside-range", Severity.NOTE, facts)


def _lifted(suggested: Makeable) -> float:
    """What hangs in the end: poured on until it clicks, about what the target asks for. [kg]"""
    if suggested.way is not Way.POURED:
        return suggested.kilogram
    return max(suggested.kilogram, suggested.kilogram / (1 + suggested.level_percent / 100))


def _light_arm(target_newton_metre: float) -> int:
    """The arm on which a load that a hand can lift makes a torque, rounded up. [mm]"""
    metre = target_newton_metre / (HAND_LIFT.most * STANDARD_GRAVITY_M_S2)
    return ARM_STEP * math.ceil(1000 * metre / ARM_STEP)


def _is_out_of_reach(threshold: Threshold, found: Sequence[Makeable]) -> bool:
    """All that can be made lies to one side of where the threshold may be."""
    levels = [m.level_percent for m in found]
    return bool(levels) and not min(levels) - LEAST_REACH <= threshold.percent <= max(levels) + LEAST_REACH
