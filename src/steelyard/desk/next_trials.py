"""A check in a file by its yes/no answers: at each point the next trial, or that it is enough."""

from dataclasses import dataclass
from typing import Any

from steelyard.desk.content import threshold_content
from steelyard.desk.trials import Trials, trials_of
from steelyard.errors import InputRefused
from steelyard.records import CheckForm, HungKit, read_check

NEXT_FORM = 1


@dataclass(frozen=True)
class NextTrials:
    """A check and each of its points, as far as the answers in it go."""

    form: CheckForm
    points: tuple[Trials, ...]

    @property
    def is_enough(self) -> bool:
        """More trials would change nothing at any point."""
        return all(point.enough is not None for point in self.points)


def next_trials(content: bytes) -> NextTrials:
    """What to try next at each point.

    content: a check form whose kit hangs weights; points without pulls are asked too.
    Raises InputRefused with field, value and what is wanted.
    """
    form = read_check(content)
    if form.tool.kind.is_indicating:
        raise InputRefused("tool.kind", form.tool.kind.value, "want-clicking-tool")
    if not isinstance(form.kit, HungKit):
        raise InputRefused("kit.kind", "transducer", "want-hanging-kit")
    return NextTrials(form, tuple(trials_of(form, point) for point in form.points))


def next_content(found: NextTrials) -> dict[str, Any]:
    """The same as plain content of JSON types, units in the key names."""
    return {
        "steelyard_next": NEXT_FORM,
        "tool": found.form.tool.number,
        "kit": found.form.kit.name,
        "enough": found.is_enough,
        "points": [trials_content(point) for point in found.points],
    }


def trials_content(trials: Trials) -> dict[str, Any]:
    """One point: what the answers say, whether it is enough, the next trial."""
    following, result, steady = trials.next, trials.result, trials.steady
    return {
        "target": trials.point.target.typed,
        "direction": trials.point.direction,
        "threshold": threshold_content(trials.threshold) if trials.threshold.count else None,
        "bolts_get_percent": trials.threshold.percent if trials.threshold.is_two_sided else None,
        "low_percent": trials.low_percent if trials.threshold.is_two_sided else None,
        "high_percent": trials.high_percent if trials.threshold.is_two_sided else None,
        "expanded_percent": result.counted.expanded_percent
        if result is not None and trials.threshold.is_two_sided
        else None,
        "limit_percent": trials.limit_percent,
        "verdict_now": result.judged.verdict.value if result is not None else None,
        "enough": trials.enough.value if trials.enough is not None else None,
        "drift_percent_per_trial": steady.drift_percent if steady is not None else None,
        "ways": [way.value for way in trials.ways],
        "next": {
            "way": following.way.value,
            "load": following.load,
            "kilogram": following.kilogram,
            "set": following.set_typed,
            "set_newton_metre": following.set_newton_metre,
            "at": following.at,
            "level_percent": following.level_percent,
        }
        if following is not None
        else None,
        "doubts": [
            {"code": d.code, "severity": d.severity.value, "facts": dict(d.facts)} for d in trials.doubts
        ],
    }
