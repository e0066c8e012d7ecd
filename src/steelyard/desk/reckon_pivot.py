"""Where the pivot of a click head lies, from the loads at the click at two marks."""

import math
from typing import Any

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, figure, number, placed
from steelyard.desk.typed_lines import line_above_zero
from steelyard.errors import InputRefused
from steelyard.evaluation import PIVOT_UNKNOWN, Posterior, coverage_factor, first_order, posterior
from steelyard.findings import Finding, Severity
from steelyard.quantities import UNITS, Dimension, Line
from steelyard.rigs import pivot_from_two_marks

MILLIMETRE = UNITS[Dimension.LENGTH]["mm"]
MOST_METRE = PIVOT_UNKNOWN.value + PIVOT_UNKNOWN.width
PLACES = 2001
ALIKE = 0.8  # of the prior's interval, from which the loads have told next to nothing; our choice
FAR_OFF = 3.0  # standard uncertainties by which no place fits, from which the loads contradict; our choice
LEVEL = Finding("reckon-pivot-level", Severity.NOTE)


def reckon_pivot(
    *, near_load: str | None, near_arm: str | None, far_load: str | None, far_arm: str | None
) -> Answer:
    """Where the pivot lies, and what to write into the form.

    near_load, far_load: mass of all that hung at the click, at one and the same setting, arm level.
    near_arm, far_arm: drive axis to the mark where it hung. All as typed, at least one with ±.
    Numbers: `ratio_pivot_metre` and its `within` from the loads alone; `pivot_metre`, the mean of what they
        leave of 0 … 40 mm, `pivot_low_metre`, `pivot_high_metre` (95 %), and the `pivot_form_metre` with its
        `within` to write down. The last five are missing where the loads contradict 0 … 40 mm, the last two
        where they are too alike to tell.
    Raises InputRefused for what cannot be read, marks in the wrong order, and where nothing carries a ±.
    Source: `rigs.pivot_from_two_marks`; likelihood of the residual F1·(L1 − p) − F2·(L2 − p), a normal about
        0 with its first-order standard uncertainty: own derivation, docs/explanation/hung-weight.md.
    Left out: what both loads have in common, such as one scale's gain, which cancels: here they count as
        independent; droop.
    """
    lines = _lines(near_load, near_arm, far_load, far_arm)
    alone = first_order(_ratio, lines)
    ratio = Known(alone.value, coverage_factor(math.inf) * alone.u)
    first: Said = ("reckon-pivot-ratio", {"ratio": figure(ratio, MILLIMETRE), "most": _most()})
    numbers: dict[str, float | str] = {
        "ratio_pivot_metre": ratio.value,
        "ratio_pivot_within_metre": ratio.within or 0.0,
    }
    places = [MOST_METRE * i / (PLACES - 1) for i in range(PLACES)]
    residuals = [_residual(place, lines) for place in places]
    if min(abs(r / u) for r, u in residuals) > FAR_OFF:
        return Answer((first,), numbers, (Finding("reckon-pivot-outside", Severity.GRAVE), LEVEL))
    left = posterior(places, [-((r / u) ** 2) / 2 - math.log(u) for r, u in residuals])
    numbers |= {"pivot_metre": left.mean, "pivot_low_metre": left.low, "pivot_high_metre": left.high}
    where: Said = ("reckon-pivot", {"mean": _mm(left.mean), "low": _mm(left.low), "high": _mm(left.high)})
    if left.high - left.low > ALIKE * 0.95 * MOST_METRE:
        alike: Said = ("reckon-pivot-alike", {"most": _most()})
        return Answer((alike, where, first), numbers, (LEVEL,))
    form = _form(left)
    numbers |= {"pivot_form_metre": form.value, "pivot_form_within_metre": form.within or 0.0}
    write: Said = ("reckon-pivot-form", {"form": figure(form, MILLIMETRE)})
    return Answer((where, write, first), numbers, (LEVEL,))


def _lines(
    near_load: str | None, near_arm: str | None, far_load: str | None, far_arm: str | None
) -> tuple[Line, Line, Line, Line]:
    near = line_above_zero(near_load, Dimension.MASS, field="--near-load", name="near-load")
    at = line_above_zero(near_arm, Dimension.LENGTH, field="--near-arm", name="near-arm")
    far = line_above_zero(far_load, Dimension.MASS, field="--far-load", name="far-load")
    out = line_above_zero(far_arm, Dimension.LENGTH, field="--far-arm", name="far-arm")
    if not at.value - at.width > MOST_METRE:
        raise InputRefused("--near-arm", near_arm, "want-reckon-arm-beyond", most=_most())
    if not out.value > at.value:
        raise InputRefused("--far-arm", far_arm, "want-reckon-farther", near=near_arm)
    if not near.value > far.value:
        raise InputRefused("--near-load", near_load, "want-reckon-heavier", far=far_load)
    if not any(line.width for line in (near, at, far, out)):
        raise InputRefused("--near-load", near_load, "want-reckon-some-within")
    return near, at, far, out


def _ratio(_maths: Any, near: Any, at: Any, far: Any, out: Any) -> Any:
    return pivot_from_two_marks(near, at, force_far_newton=far, arm_far_metre=out)


def _residual(place_metre: float, lines: tuple[Line, ...]) -> tuple[float, float]:
    """How far the moments about a place differ, and the standard uncertainty of that. [kg m]"""

    def model(_maths: Any, near: Any, at: Any, far: Any, out: Any) -> Any:
        return near * (at - place_metre) - far * (out - place_metre)

    first = first_order(model, lines)
    return first.value, first.u


def _form(left: Posterior) -> Known:
    """Value and ± as the form takes them: a rectangle of the same mean and u, never below 0.

    Source: half-width √3·u of a rectangle, JCGM 100:2008 4.3.7.
    """
    half = math.sqrt(3) * left.u
    return Known(left.mean, half) if left.mean > half else Known(left.high / 2, left.high / 2)


def _mm(metre: float) -> str:
    return f"{placed(metre / float(MILLIMETRE.factor), -1)} mm"


def _most() -> str:
    return f"{number(MOST_METRE / float(MILLIMETRE.factor), digits=2)} mm"
