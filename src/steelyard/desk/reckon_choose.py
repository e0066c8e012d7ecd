"""Which of several checked tools to take for a torque."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from steelyard.desk.answer import Answer, Said
from steelyard.desk.check import JudgedCheck, judge_check
from steelyard.desk.checked_curve import FORM, CheckedCurve, SetTo, checked_curve, is_old, set_to
from steelyard.desk.figures import number
from steelyard.desk.reckon_set_to import doubts_about, gets_said, setting_said, wanted_torque, within_said
from steelyard.errors import InputRefused
from steelyard.evaluation import Verdict
from steelyard.quantities import Quantity, Unit

CODES = ("reckon-choose", "reckon-choose-read")
LEAST_OF_MAXIMUM = 0.2  # tools are checked and used from a fifth of their maximum
ROUNDING = 1e-12


@dataclass(frozen=True)
class _Candidate:
    """A tool that would do: its curve and its setting."""

    checked: CheckedCurve
    found: SetTo

    @property
    def number(self) -> str:
        return self.checked.judged.form.tool.number


def reckon_choose(
    contents: Sequence[bytes], *, want: str | None, today: date, direction: str | None = None
) -> Answer:
    """Which of several checked tools to take for a torque.

    contents: check forms; of several checks of one tool the last one counts. Others as in `reckon_set_to`.
    Returns the tool with the smallest ±, of those whose check is not older than 12 months and in, and where
        the torque lies within 20 … 100 % of the tool's maximum and inside the checked range; then why the
        others are not taken.
    Numbers: `tool`, and those of its setting as in `reckon_set_to`; none where no tool will do.
    Raises InputRefused for what cannot be read.
    Source: ISO 6789-1:2017, range from 20 % of the maximum (from memory); the choice is ours.
    """
    wanted = wanted_torque(want)
    if not contents:
        raise InputRefused(FORM, None, "want-readable-file")
    fit: list[_Candidate] = []
    left: list[Said] = []
    judged = [_judged(content, i) for i, content in enumerate(contents, 1)]
    for each in judged:
        got = _try(each, judged, wanted=wanted, today=today, direction=direction)
        if isinstance(got, _Candidate):
            fit.append(got)
        else:
            left.append(got)
    if not fit:
        return Answer((("reckon-choose-none", {"wanted": wanted.typed}), *left), {})
    best, *others = sorted(fit, key=lambda one: one.found.rounded.expanded_newton_metre)
    rounded = best.found.rounded
    lines: tuple[Said, ...] = (
        setting_said(CODES, best.checked, best.found, wanted=wanted),
        gets_said(best.found, wanted.unit),
        *(_wider(other, wanted.unit) for other in others),
        *left,
    )
    numbers: dict[str, float | str] = {
        "tool": best.number,
        "setting_newton_metre": rounded.shown_newton_metre,
        "torque_newton_metre": rounded.torque_newton_metre,
        "torque_within_newton_metre": rounded.expanded_newton_metre,
    }
    return Answer(lines, numbers, tuple(doubts_about(best.checked.judged, best.found)))


def _judged(content: bytes, i: int) -> JudgedCheck:
    """One of several forms, named in a refusal by its place."""
    try:
        return judge_check(content)
    except InputRefused as refused:
        field = f"{FORM} {i}, {refused.field}"
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from refused


def _wider(other: _Candidate, unit: Unit) -> Said:
    within = within_said(other.found.rounded.expanded_newton_metre, unit)
    return "reckon-choose-wider", {"number": other.number, "within": within}


def _try(
    judged: JudgedCheck,
    all_judged: Sequence[JudgedCheck],
    *,
    wanted: Quantity,
    today: date,
    direction: str | None,
) -> _Candidate | Said:
    """The tool with its setting, or why it is not taken."""
    tool, day = judged.form.tool, judged.form.day
    facts = {"number": tool.number, "day": day.isoformat()}
    of_tool = [each for each in all_judged if each.form.tool.number == tool.number]
    if judged is not max(reversed(of_tool), key=lambda each: each.form.day):
        return "reckon-choose-not-last", facts
    if day > today or is_old(day, today=today):
        return ("reckon-choose-not-yet" if day > today else "reckon-choose-not-fresh"), facts
    if judged.verdict is not Verdict.IN:
        return f"reckon-choose-not-{judged.verdict.value}", facts
    share = wanted.base / tool.highest.base
    if not LEAST_OF_MAXIMUM * (1 - ROUNDING) <= share <= 1 + ROUNDING:
        return "reckon-choose-not-range", facts | {"percent": number(100 * share, digits=3)}
    try:
        checked = checked_curve(judged, direction)
        return _Candidate(checked, set_to(checked, wanted))
    except InputRefused as refused:
        return "reckon-choose-not-able", facts | {"sentence": refused.sentence}
