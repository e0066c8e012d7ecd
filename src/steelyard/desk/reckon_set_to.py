"""What to set on a checked tool for a torque."""

from collections.abc import Iterator
from datetime import date

from steelyard.desk.answer import Answer, Said
from steelyard.desk.check import JudgedCheck, judge_check
from steelyard.desk.checked_curve import FORM, CheckedCurve, SetTo, checked_curve, is_old, set_to
from steelyard.desk.figures import Known, figure
from steelyard.errors import InputRefused
from steelyard.evaluation import Verdict
from steelyard.findings import Finding, Severity
from steelyard.quantities import Dimension, Quantity, Unit, read_quantity

CODES = ("reckon-set-to", "reckon-set-to-read")
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
    wanted = wanted_torque(want)
    judged = judge_check(content)
    _refuse_old(judged, today)
    checked = checked_curve(judged, direction)
    found = set_to(checked, wanted)
    form = judged.form
    lines: tuple[Said, ...] = (
        setting_said(CODES, checked, found, wanted=wanted),
        gets_said(found, wanted.unit),
        ("reckon-set-to-single", {"within": within_said(found.single_newton_metre, wanted.unit)}),
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
    return Answer(lines, numbers, tuple(doubts_about(judged, found)))


def wanted_torque(want: str | None) -> Quantity:
    """The torque for the bolt, above zero."""
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


def setting_said(codes: tuple[str, str], checked: CheckedCurve, found: SetTo, *, wanted: Quantity) -> Said:
    """The setting on the graduation and to the last digit, in the unit of the tool.

    codes: of the sentence for a tool that is set, and for one that shows.
    """
    tool = checked.judged.form.tool
    unit = tool.highest.unit
    rounded = f"{found.rounded.shown_newton_metre / float(unit.factor):.6g} {unit.symbol}"
    exact = figure(Known(found.exact.shown_newton_metre), unit)
    facts = {"rounded": rounded, "exact": exact, "wanted": wanted.typed, "number": tool.number}
    return codes[tool.kind.is_indicating], facts


def gets_said(found: SetTo, unit: Unit) -> Said:
    """What the bolt gets at the setting on the graduation."""
    rounded = found.rounded
    torque = Known(rounded.torque_newton_metre, rounded.expanded_newton_metre)
    return "reckon-set-to-gets", {"torque": figure(torque, unit)}


def within_said(newton_metre: float, unit: Unit) -> str:
    """A half-width in words, two digits."""
    return figure(Known(newton_metre), unit, digits=2)


def doubts_about(judged: JudgedCheck, found: SetTo) -> Iterator[Finding]:
    """Neighbouring points that are not in, and what makes the check itself unreliable."""
    for point in found.neighbours:
        verdict = point.result.judged.verdict
        if verdict in SEVERITY:
            code = f"reckon-set-to-point-{verdict.value}"
            yield Finding(code, SEVERITY[verdict], {"point": point.ready.form.name})
    yield from (doubt for doubt in judged.doubts if doubt.severity is Severity.GRAVE)
