"""What torque a hung load makes, or what to hang for a torque."""

from dataclasses import dataclass
from typing import Any

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, about_within, both, figure, known, number, numbered
from steelyard.desk.hung_question import HungQuestion, hung_reference
from steelyard.desk.typed_lines import line_above_zero, typed, unit_of
from steelyard.errors import InputRefused
from steelyard.findings import Finding, Severity
from steelyard.published import HAND_LIFT
from steelyard.quantities import UNITS, Dimension, Line, Unit
from steelyard.rigs import Reference
from steelyard.words import CAUTIONS

POUNDS = ("lb", "oz", "lbf·ft", "lbf·in", "ozf·in")
TORQUE, MASS = UNITS[Dimension.TORQUE], UNITS[Dimension.MASS]


@dataclass(frozen=True, slots=True)
class _Worked:
    """The main sentence, its numbers, the inputs behind it, the whole torque and the units to print it in."""

    first: Said
    numbers: dict[str, float | str]
    lines: tuple[Line, ...]
    total_newton_metre: float
    units: tuple[Unit, Unit]


def reckon_hung(question: HungQuestion) -> Answer:
    """The torque of a hung load, own weight of the tool included, or the load for a torque.

    Numbers: `torque_newton_metre`, `mass_kilogram`, the `within` of the one that was asked for,
        `own_newton_metre`, `gravity_m_s2`.
    Raises InputRefused for what cannot be read, for an own weight that is not given, for a droop of more than
        10°, and where the tool alone already gives more than the wanted torque.
    Source: `rigs.hung_weight`. Left out: the pivot of a click head (the tool is taken to trip on its drive
        torque), the height of the hook (taken level with the arm), scales that were adjusted elsewhere.
    """
    if (question.load is None) == (question.wanted is None):
        raise InputRefused("--load", question.load, "want-reckon-load")
    reference = hung_reference(question)
    own = _own(reference)
    worked = _torque(question, reference) if question.wanted is None else _mass(question, reference, own)
    gravity = next(line.value for line in worked.lines if line.name == "gravity")
    numbers = worked.numbers | {"own_newton_metre": own.value, "gravity_m_s2": gravity}
    lines = (worked.first, *_own_said(question, own, worked), *_set_up(question, gravity))
    return Answer((*lines, about_within(worked.lines)), numbers, _cautions(question, numbers))


def _torque(question: HungQuestion, reference: Reference) -> _Worked:
    load = line_above_zero(question.load, Dimension.MASS, field="--load", name="load")
    lines = (load, *reference.lines)
    torque = known(reference.model, lines)
    units = _torque_units(question, typed(question.load, Dimension.MASS, field="--load")[0].unit)
    said = ("reckon-hung-torque", {"torque": both(torque, units)})
    numbers = numbered("torque", torque, "newton_metre") | {"mass_kilogram": load.value}
    return _Worked(said, numbers, lines, torque.value, units)


def _mass(question: HungQuestion, reference: Reference, own: Known) -> _Worked:
    wanted = line_above_zero(question.wanted, Dimension.TORQUE, field="--wanted", name="torque")
    units = _torque_units(question, typed(question.wanted, Dimension.TORQUE, field="--wanted")[0].unit)
    if not own.value < wanted.value:
        raise InputRefused("--wanted", question.wanted, "want-above-own", own=_own_figure(own, units))
    lines = (wanted, *reference.lines)

    def model(maths: Any, torque: Any, *values: Any) -> Any:
        alone = reference.model(maths, 0.0, *values)
        return (torque - alone) / (reference.model(maths, 1.0, *values) - alone)

    mass = known(model, lines)
    masses = (MASS["lb"], MASS["kg"]) if units[0].symbol in POUNDS else (MASS["kg"], MASS["lb"])
    torque = figure(Known(wanted.value, wanted.width or None), units[0])
    said = ("reckon-hung-mass", {"mass": both(mass, masses), "torque": torque})
    numbers = numbered("mass", mass, "kilogram") | {"torque_newton_metre": wanted.value}
    return _Worked(said, numbers, lines, wanted.value, units)


def _own(reference: Reference) -> Known:
    """The torque of the tool alone: the model without a load."""

    def model(maths: Any, *values: Any) -> Any:
        return reference.model(maths, 0.0, *values)

    return known(model, reference.lines)


def _torque_units(question: HungQuestion, given: Unit) -> tuple[Unit, Unit]:
    """The unit of the answer, and another beside it: pounds are answered in lbf·ft."""
    if given.dimension is Dimension.MASS:
        given = TORQUE["lbf·ft" if given.symbol in POUNDS else "N·m"]
    first = unit_of(question.unit, Dimension.TORQUE, field="--to", otherwise=given)
    return first, TORQUE["N·m" if first.symbol != "N·m" else "lbf·ft"]


def _own_said(question: HungQuestion, own: Known, worked: _Worked) -> tuple[Said, ...]:
    if question.own_zero:
        return ()
    percent = number(100 * own.value / worked.total_newton_metre, digits=2)
    return (("reckon-hung-own", {"own": _own_figure(own, worked.units), "percent": percent}),)


def _own_figure(own: Known, units: tuple[Unit, Unit]) -> str:
    return figure(Known(own.value), units[0], digits=3)


def _set_up(question: HungQuestion, gravity_m_s2: float) -> tuple[Said, ...]:
    gravity = number(gravity_m_s2, digits=6)
    air: Said = ("reckon-air-taken-off" if question.buoyancy else "reckon-air-left-out", {})
    if question.droop is None:
        return ("reckon-hung-level", {"gravity": gravity}), air
    return ("reckon-hung-droop", {"gravity": gravity, "droop": question.droop.strip()}), air


def _cautions(question: HungQuestion, numbers: dict[str, float | str]) -> tuple[Finding, ...]:
    found = [Finding(code, Severity.NOTE) for code in CAUTIONS[:3]]
    if question.own_zero:
        found.insert(0, Finding("reckon-own-left-out", Severity.WARN))
    if float(numbers["mass_kilogram"]) > HAND_LIFT.most:
        most = f"{HAND_LIFT.most:g}"
        found.append(Finding("caution-heavy", Severity.WARN, {"most_kilogram": most}))
    return tuple(found)
