"""What to set on a checked tool for a torque, and which of several checked tools to take."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from steelyard.desk.answer import Answer, Said
from steelyard.desk.check import JudgedCheck, judge_check
from steelyard.desk.checked_curve import FORM, CheckedCurve, SetTo, checked_curve, is_old, set_to
from steelyard.desk.figures import Known, figure, number
from steelyard.errors import InputRefused
from steelyard.evaluation import Verdict
from steelyard.findings import Finding, Severity
from steelyard.quantities import Dimension, Quantity, Unit, read_quantity

LEAST_OF_MAXIMUM = 0.2  # tools are checked and used from a fifth of their maximum
ROUNDING = 1e-12
SEVERITY = {Verdict.OUT: Severity.GRAVE, Verdict.CANT_TELL: Severity.WARN}


def reckon_set_to(content: bytes, *, want: str | None, today: date, direction: str | None = None) -> Answer:
    """The set-to card: what to set, or to read, so that the bolt gets a torque.

    content: a check form. want: the torque for the bolt. today: the day of the question.
    direction: in which the bolt is turned; None: the tool's main one.
    Numbers: `wanted_newton_metre`, `exact_setting_newton_metre`, `setting_newton_metre` on the graduation,
        `torque_newton_metre` which that gives, its `within` for the mean of many pulls and
        `single_pull_within_newton_metre`.
    Raises InputRefused for what cannot be read, a check older than 12 months or from a later day, a tool
        that is neither set nor read, and a torque outside the checked range.
    Source: domain rules in docs/explanation/uncertainty.md; `evaluation.curve`.
    Left out: drift of the tool since the check; an adapter, see `reckon_adapter`.
    """
    wanted = _wanted(want)
    judged = judge_check(content)
    _refuse_old(judged, today)
    checked = checked_curve(judged, direction)
    found = set_to(checked, wanted)
    form = judged.form
    lines: tuple[Said, ...] = (
        _setting("reckon-set-to", checked, found, wanted),
        _gets(found, wanted.unit),
        ("reckon-set-to-single", {"within": _within(found.single_newton_metre, wanted.unit)}),
        (
            f"reckon-set-to-check-{judged.verdict.value}",
            {"number": form.tool.number, "day": form.day.isoformat(), "direction": checked.direction},
        ),
    )
    numbers: dict[str, float | str] = {
        "wanted_newton_metre": wanted.base,
        "exact_setting_newton_metre": found.exact.shown_newton_metre,
        "setting_newton_metre": found.rounded.shown_newton_metre,
        "torque_newton_metre": found.rounded.torque_newton_metre,
        "torque_within_newton_metre": found.rounded.expanded_newton_metre,
        "single_pull_within_newton_metre": found.single_newton_metre,
    }
    return Answer(lines, numbers, tuple(_findings(judged, found)))


def _wanted(want: str | None) -> Quantity:
    wanted = read_quantity(want or "", Dimension.TORQUE, field="--want")
    if not wanted.base > 0:
        raise InputRefused("--want", want, "want-positive", what="torque", example="70 N·m")
    return wanted


def _refuse_old(judged: JudgedCheck, today: date) -> None:
    day = judged.form.day
    if day > today:
        raise InputRefused("--today", today.isoformat(), "want-after-check", day=day.isoformat())
    if is_old(day, today=today):
        raise InputRefused(FORM, day.isoformat(), "want-fresh-check", today=today.isoformat())


def _setting(code: str, checked: CheckedCurve, found: SetTo, wanted: Quantity) -> Said:
    """The setting on the graduation and to the last digit, in the unit of the tool."""
    tool = checked.judged.form.tool
    unit = tool.highest.unit
    rounded = f"{found.rounded.shown_newton_metre / float(unit.factor):.6g} {unit.symbol}"
    exact = figure(Known(found.exact.shown_newton_metre), unit)
    facts = {"rounded": rounded, "exact": exact, "wanted": wanted.typed, "number": tool.number}
    return (f"{code}-read" if tool.kind.is_indicating else code), facts


def _gets(found: SetTo, unit: Unit) -> Said:
    rounded = found.rounded
    torque = Known(rounded.torque_newton_metre, rounded.expanded_newton_metre)
    return "reckon-set-to-gets", {"torque": figure(torque, unit)}


def _within(newton_metre: float, unit: Unit) -> str:
    return figure(Known(newton_metre), unit, digits=2)


def _findings(judged: JudgedCheck, found: SetTo) -> Iterator[Finding]:
    """Neighbouring points that are not in, and what makes the check itself unreliable."""
    for point in found.neighbours:
        verdict = point.result.judged.verdict
        if verdict in SEVERITY:
            code = f"reckon-set-to-point-{verdict.value}"
            yield Finding(code, SEVERITY[verdict], {"point": point.ready.form.name})
    yield from (doubt for doubt in judged.doubts if doubt.severity is Severity.GRAVE)


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
    wanted = _wanted(want)
    if not contents:
        raise InputRefused(FORM, None, "want-readable-file")
    fit: list[_Candidate] = []
    left: list[Said] = []
    judged = [judge_check(content) for content in contents]
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
        _setting("reckon-choose", best.checked, best.found, wanted),
        _gets(best.found, wanted.unit),
        *(_wider(other, wanted.unit) for other in others),
        *left,
    )
    numbers: dict[str, float | str] = {
        "tool": best.number,
        "setting_newton_metre": rounded.shown_newton_metre,
        "torque_newton_metre": rounded.torque_newton_metre,
        "torque_within_newton_metre": rounded.expanded_newton_metre,
    }
    return Answer(lines, numbers, tuple(_findings(best.checked.judged, best.found)))


def _wider(other: _Candidate, unit: Unit) -> Said:
    within = _within(other.found.rounded.expanded_newton_metre, unit)
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
