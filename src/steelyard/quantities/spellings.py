"""Every way of typing a unit that is understood here.

A dot marks where the words of a spelling meet: there a space, a dot, a hyphen, a cross or nothing at all may
be typed. `any_case` words are understood in capitals too; `exact` ones are not, because a capital changes
them (mNm is a thousandth of a newton metre, MNm a million).
"""

from typing import NamedTuple

from steelyard.quantities.unit import Dimension


class Spelled(NamedTuple):
    """The spellings of one unit."""

    dimension: Dimension
    symbol: str
    any_case: tuple[str, ...]
    exact: tuple[str, ...] = ()


METRES = ("m", "metre", "metres", "meter", "meters")
CENTIMETRES = ("cm", "centimetre", "centimetres", "centimeter", "centimeters")
FEET = ("ft", "foot", "feet")
INCHES = ("in", "inch", "inches")
POUNDS_FORCE = ("lbf", "lb·f", "pound·force", "pounds·force")
POUNDS = ("lb", "lbs", "pound", "pounds")
OUNCES = ("oz", "ounce", "ounces")
KILOGRAMS = ("kg", "kgs", "kilogram", "kilograms", "kilogramme", "kilogrammes")
KILOPONDS = ("kgf", "kp", "kilopond", "kiloponds", "kilogram·force", "kilograms·force")
GRAMS = ("g", "gram", "grams", "gramme", "grammes")


def newton_metres(prefix: str = "") -> tuple[str, ...]:
    """Spellings in words: newton metre and its kin, with a prefix such as `centi`."""
    return tuple(f"{prefix}newton{s}·{metre}" for s in ("", "s") for metre in METRES[1:])


def both_ways(forces: tuple[str, ...], lengths: tuple[str, ...]) -> tuple[str, ...]:
    """Force times length in either order: `lb·ft` and `ft·lb` alike.

    A mass times a length is read as the force of that mass under standard gravity: in a field that asks for a
    torque, `kg·m` can mean nothing but kgf·m.
    """
    return tuple(word for f in forces for s in lengths for word in (f"{f}·{s}", f"{s}·{f}"))


D = Dimension
SPELLINGS: tuple[Spelled, ...] = (
    Spelled(D.TORQUE, "N·m", ("N·m", *newton_metres())),
    Spelled(D.TORQUE, "cN·m", ("cN·m", "N·cm", *newton_metres("centi"))),
    Spelled(D.TORQUE, "dN·m", ("dN·m", *newton_metres("deci"))),
    Spelled(D.TORQUE, "mN·m", newton_metres("milli"), ("mN·m", "N·mm")),
    Spelled(D.TORQUE, "kN·m", ("kN·m", *newton_metres("kilo"))),
    Spelled(D.TORQUE, "lbf·ft", both_ways(POUNDS + POUNDS_FORCE, FEET)),
    Spelled(D.TORQUE, "lbf·in", both_ways(POUNDS + POUNDS_FORCE, INCHES)),
    Spelled(D.TORQUE, "ozf·in", both_ways((*OUNCES, "ozf", "ounce·force", "ounces·force"), INCHES)),
    Spelled(D.TORQUE, "kgf·m", both_ways(KILOGRAMS + KILOPONDS, METRES)),
    Spelled(D.TORQUE, "kgf·cm", both_ways(KILOGRAMS + KILOPONDS, CENTIMETRES)),
    Spelled(D.TORQUE, "gf·cm", both_ways((*GRAMS, "gf", "gram·force", "grams·force"), CENTIMETRES)),
    Spelled(D.MASS, "kg", (*KILOGRAMS, "kilo", "kilos")),
    Spelled(D.MASS, "g", (*GRAMS, "gm", "gms")),
    Spelled(D.MASS, "mg", ("milligram", "milligrams"), ("mg",)),
    Spelled(D.MASS, "t", ("t", "tonne", "tonnes", "metric·ton", "metric·tons")),
    Spelled(D.MASS, "lb", (*POUNDS, "lbm")),
    Spelled(D.MASS, "oz", OUNCES),
    Spelled(D.LENGTH, "m", METRES),
    Spelled(D.LENGTH, "cm", CENTIMETRES),
    Spelled(D.LENGTH, "mm", ("millimetre", "millimetres", "millimeter", "millimeters"), ("mm", "MM")),
    Spelled(D.LENGTH, "in", (*INCHES, '"', "''")),
    Spelled(D.LENGTH, "ft", (*FEET, "'")),
    Spelled(
        D.LENGTH,
        "µm",
        ("µm", "um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"),
    ),
    Spelled(D.ANGLE, "°", ("°", "deg", "degs", "degree", "degrees")),
    Spelled(D.ANGLE, "rad", ("rad", "rads", "radian", "radians")),
    Spelled(
        D.TEMPERATURE, "°C", ("°·C", "C", "deg·C", "degree·C", "degrees·C", "celsius", "degrees·celsius")
    ),
    Spelled(
        D.TEMPERATURE,
        "°F",
        ("°·F", "F", "deg·F", "degree·F", "degrees·F", "fahrenheit", "degrees·fahrenheit"),
    ),
    Spelled(D.TEMPERATURE, "K", ("K", "kelvin", "kelvins")),
    Spelled(D.PRESSURE, "Pa", ("Pa", "pascal", "pascals")),
    Spelled(D.PRESSURE, "hPa", ("hPa", "hectopascal", "hectopascals")),
    Spelled(D.PRESSURE, "kPa", ("kPa", "kilopascal", "kilopascals")),
    Spelled(D.PRESSURE, "bar", ("bar", "bars")),
    Spelled(D.PRESSURE, "mbar", ("millibar", "millibars"), ("mbar", "mb")),
    Spelled(D.PRESSURE, "mmHg", ("mm·Hg",)),
    Spelled(D.PRESSURE, "inHg", ("in·Hg", "inch·Hg", "inches·Hg", '"·Hg')),
    Spelled(D.PRESSURE, "psi", ("psi", "lbf/in²", "lb/in²")),
    Spelled(D.VOLUME, "m³", ("m³", "cubic·metre", "cubic·metres", "cubic·meter", "cubic·meters")),
    Spelled(D.VOLUME, "L", ("L", "litre", "litres", "liter", "liters", "dm³")),
    Spelled(
        D.VOLUME,
        "mL",
        ("cm³", "ccm", "cc", "millilitre", "millilitres", "milliliter", "milliliters"),
        ("mL", "ml"),
    ),
    Spelled(D.VOLUME, "US gal", ("US·gal", "gal·US", "US·gallon", "US·gallons")),
    Spelled(D.DENSITY, "kg/m³", ("kg/m³",)),
    Spelled(D.DENSITY, "g/cm³", ("g/cm³", "g/cc", "kg/dm³", "kg/L"), ("g/mL", "g/ml")),
    Spelled(D.ACCELERATION, "m/s²", ("m/s²", "m/s/s", "m/sec²")),
    Spelled(D.FORCE, "N", ("N", "newton", "newtons")),
    Spelled(D.FORCE, "kN", ("kN", "kilonewton", "kilonewtons")),
    Spelled(D.FORCE, "lbf", POUNDS_FORCE),
    Spelled(D.FORCE, "kgf", KILOPONDS),
    Spelled(D.RATIO, "%", ("%", "percent", "per·cent", "pct")),
    Spelled(D.RATIO, "ppm", ("ppm",)),
    Spelled(D.DURATION, "s", ("s", "sec", "secs", "second", "seconds")),
    Spelled(D.DURATION, "ms", ("millisecond", "milliseconds"), ("ms",)),
    Spelled(D.DURATION, "min", ("min", "mins", "minute", "minutes")),
)
