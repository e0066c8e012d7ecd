"""A quick question with its texts as typed, whichever door they came through."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from steelyard.desk.answer import Answer
from steelyard.desk.checked_curve import FORM
from steelyard.desk.hung_question import HungQuestion
from steelyard.desk.reckon_adapter import reckon_adapter, reckon_insert
from steelyard.desk.reckon_choose import reckon_choose
from steelyard.desk.reckon_combinations import reckon_combinations
from steelyard.desk.reckon_mass import reckon_mass
from steelyard.desk.reckon_pivot import reckon_pivot
from steelyard.desk.reckon_place import reckon_gravity
from steelyard.desk.reckon_scale import reckon_water
from steelyard.desk.reckon_set_to import reckon_set_to
from steelyard.desk.reckon_torque import reckon_torque
from steelyard.desk.reckon_weight import reckon_hung
from steelyard.errors import InputRefused, NotFound

YES = "yes"
Typed = Mapping[str, str | None]


def reckon_asked(
    question: str, typed: Typed, *, today: date | None = None, forms: Sequence[bytes] = ()
) -> Answer:
    """The answer to a question of `reckon`.

    typed: texts by option without its dashes, such as `tool-length`; None or missing: not typed. A switch is
        `yes`. The rows of `combinations` stand in `row`, one a line.
    today: for the questions about checked tools, where `today` was not typed. forms: check forms of those.
    Raises NotFound for a question that is not there, InputRefused as the question itself does.
    """
    if question in ABOUT_CHECKS:
        return ABOUT_CHECKS[question](typed, today, forms)
    if question not in ASKED:
        raise NotFound(question)
    return ASKED[question](typed)


def _torque(typed: Typed) -> Answer:
    return reckon_torque(typed.get("torque") or "", unit=typed.get("to"))


def _adapter(typed: Typed) -> Answer:
    return reckon_adapter(
        tool_length=typed.get("tool-length"),
        adapter=typed.get("adapter"),
        angle=typed.get("angle"),
        wanted=typed.get("wanted"),
        setting=typed.get("setting"),
        flexes=typed.get("flexes") == YES,
    )


def _insert(typed: Typed) -> Answer:
    return reckon_insert(
        tool_length=typed.get("tool-length"),
        standoff=typed.get("standoff"),
        reference_standoff=typed.get("reference-standoff"),
        wanted=typed.get("wanted"),
        setting=typed.get("setting"),
    )


def _hung(typed: Typed) -> Answer:
    question = HungQuestion(
        load=typed.get("load"),
        wanted=typed.get("wanted"),
        arm=typed.get("arm"),
        own_mass=typed.get("own-mass"),
        balance=typed.get("balance"),
        own_reading=typed.get("own-reading"),
        own_at=typed.get("own-at"),
        own_zero=typed.get("own-zero") == YES,
        gravity=typed.get("gravity"),
        latitude=typed.get("latitude"),
        height=typed.get("height"),
        droop=typed.get("droop"),
        buoyancy=typed.get("no-buoyancy") != YES,
        unit=typed.get("to"),
    )
    return reckon_hung(question)


def _gravity(typed: Typed) -> Answer:
    return reckon_gravity(latitude=typed.get("latitude"), height=typed.get("height"))


def _mass(typed: Typed) -> Answer:
    return reckon_mass(
        step=typed.get("step"),
        with_it=typed.get("with"),
        without_it=typed.get("without"),
        placements=typed.get("placements"),
        scale_class=typed.get("class"),
        accuracy=typed.get("accuracy"),
    )


def _water(typed: Typed) -> Answer:
    return reckon_water(
        volume=typed.get("volume"),
        temperature=typed.get("temperature"),
        height=typed.get("height"),
        air_density=typed.get("air-density"),
        shows=typed.get("shows"),
        step=typed.get("step"),
    )


def _combinations(typed: Typed) -> Answer:
    return reckon_combinations(
        rows=[row for row in (typed.get("row") or "").splitlines() if row.strip()],
        step=typed.get("step"),
        scale_class=typed.get("class"),
        accuracy=typed.get("accuracy"),
    )


def _pivot(typed: Typed) -> Answer:
    return reckon_pivot(
        near_load=typed.get("near-load"),
        near_arm=typed.get("near-arm"),
        far_load=typed.get("far-load"),
        far_arm=typed.get("far-arm"),
    )


def _set_to(typed: Typed, today: date | None, forms: Sequence[bytes]) -> Answer:
    if not forms:
        raise InputRefused(FORM, None, "want-readable-file")
    return reckon_set_to(
        forms[0], want=typed.get("want"), today=_day(typed, today), direction=typed.get("direction")
    )


def _choose(typed: Typed, today: date | None, forms: Sequence[bytes]) -> Answer:
    return reckon_choose(
        forms, want=typed.get("want"), today=_day(typed, today), direction=typed.get("direction")
    )


def _day(typed: Typed, today: date | None) -> date:
    """The day that was typed, or the one that stands in."""
    text = typed.get("today")
    if text is None and today is not None:
        return today
    try:
        return date.fromisoformat((text or "").strip())
    except ValueError:
        raise InputRefused("--today", text, "want-date") from None


ASKED: dict[str, Callable[[Typed], Answer]] = {
    "torque": _torque,
    "adapter": _adapter,
    "insert": _insert,
    "hung": _hung,
    "gravity": _gravity,
    "mass": _mass,
    "combinations": _combinations,
    "water": _water,
    "pivot": _pivot,
}
ABOUT_CHECKS: dict[str, Callable[[Typed, date | None, Sequence[bytes]], Answer]] = {
    "set-to": _set_to,
    "choose": _choose,
}
