"""A torque in every unit."""

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, figure
from steelyard.desk.typed_lines import typed
from steelyard.quantities import UNITS, Dimension, Unit, find_unit

DIGITS = 6
KEYS = {
    "N·m": "newton_metre",
    "lbf·ft": "pound_force_foot",
    "lbf·in": "pound_force_inch",
    "kgf·m": "kilogram_force_metre",
    "kgf·cm": "kilogram_force_centimetre",
    "cN·m": "centinewton_metre",
    "dN·m": "decinewton_metre",
    "mN·m": "millinewton_metre",
    "kN·m": "kilonewton_metre",
    "ozf·in": "ounce_force_inch",
    "gf·cm": "gram_force_centimetre",
}


def reckon_torque(text: str, *, unit: str | None = None) -> Answer:
    """What a torque is in other units.

    text: as typed, with its unit and perhaps a ±, such as `80 ft-lb`.
    unit: the one wanted; None: all of them.
    Returns the torque first, then what one unit is in the other and back.
    Raises InputRefused for a torque or a unit that cannot be read.
    Source: exact factors of `quantities`. Left out: J, which is energy, though it has the same dimension.
    """
    value, half = typed(text, Dimension.TORQUE, field="torque")
    within = half.base if half else None
    this = Known(value.base, within)
    units = list(UNITS[Dimension.TORQUE].values())
    lines: tuple[Said, ...] = tuple(_one(text, this, each) for each in units if each is not value.unit)
    if unit is not None:
        wanted = find_unit(unit, Dimension.TORQUE, field="--to")
        lines = (_one(text, this, wanted), _ratio(value.unit, wanted))
    numbers: dict[str, float | str] = {f"torque_{KEYS[each.symbol]}": value.to(each) for each in units}
    if half is not None:
        numbers |= {f"torque_within_{KEYS[each.symbol]}": half.to(each) for each in units}
    return Answer(lines, numbers)


def _one(text: str, this: Known, unit: Unit) -> Said:
    return "reckon-same", {"given": text.strip(), "same": figure(this, unit, digits=DIGITS)}


def _ratio(one: Unit, other: Unit) -> Said:
    there = figure(Known(float(one.factor)), other, digits=DIGITS)
    back = figure(Known(float(other.factor)), one, digits=DIGITS)
    return "reckon-ratio", {"one": one.symbol, "there": there, "other": other.symbol, "back": back}
