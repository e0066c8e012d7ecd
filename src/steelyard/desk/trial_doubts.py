"""What speaks against going on with yes/no trials as before."""

from collections.abc import Iterator, Sequence

from steelyard.desk.cases import ReadPull
from steelyard.desk.trial_loads import Makeable
from steelyard.findings import Finding, Severity
from steelyard.published import HAND_LIFT
from steelyard.readings.threshold import Steadiness, Threshold
from steelyard.records import CheckForm, PointForm

LEAST_REACH = 1.0  # percent


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
    if suggested is None:
        yield Finding("trials-cannot-make", Severity.WARN, facts)
    elif suggested.is_heavy:
        heavy = {"load_kilogram": suggested.kilogram, "most_kilogram": HAND_LIFT.most}
        yield Finding("trials-heavy", Severity.WARN, {**facts, **heavy})
    elif _is_out_of_reach(threshold, found):
        yield Finding("trials-cannot-make", Severity.WARN, facts)
    low, high = form.tool.lowest.base, form.tool.highest.base
    for i, read in enumerate(reads, 1):
        room = float(form.limit.percent) / 100
        inside = low * (1 - room) <= read.torque_newton_metre <= high * (1 + room)
        if read.form.pull.is_said and not inside:
            yield Finding("trial-outside-range", Severity.NOTE, {**facts, "trial": i})


def _is_out_of_reach(threshold: Threshold, found: Sequence[Makeable]) -> bool:
    """All that can be made lies to one side of where the threshold may be."""
    levels = [m.level_percent for m in found]
    return bool(levels) and not min(levels) - LEAST_REACH <= threshold.percent <= max(levels) + LEAST_REACH
