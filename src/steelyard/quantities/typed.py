"""Reading a number with its unit out of a text."""

import re
from decimal import Decimal

from steelyard.errors import InputRefused
from steelyard.quantities.find_unit import find_unit, known_unit
from steelyard.quantities.number import APOSTROPHES, GAPS, LONGEST_TEXT, NOT_FINITE, read_number
from steelyard.quantities.quantity import Quantity
from steelyard.quantities.table import EXAMPLES
from steelyard.quantities.unit import Dimension

NUMBER_FIRST = re.compile(
    rf"(?P<number>[+\-\u2212]?[.,]?[0-9](?:[0-9]|[.,{GAPS}{APOSTROPHES}](?=[0-9]))*"
    rf"(?:[eE][+\-\u2212]?[0-9]+)?)(?P<unit>.*)",
    re.DOTALL,
)

NEVER_THOUSANDS = {
    Dimension.MASS: {"kg", "t", "lb"},
    Dimension.LENGTH: {"m", "ft"},
    Dimension.ACCELERATION: {"m/s²"},
    Dimension.ANGLE: {"°", "rad"},
    Dimension.TEMPERATURE: {"°C", "°F", "K"},
    Dimension.RATIO: {"%"},
    Dimension.VOLUME: {"L", "m³"},
    Dimension.TORQUE: {"kN·m"},
}


def split_unit(text: str, *, field: str, example: str) -> tuple[Decimal, str]:
    """The number at the head of a text and the spelling after it, which may be empty.

    Raises InputRefused where no number stands there.
    """
    plain = text.strip()
    if len(text) > LONGEST_TEXT:
        raise InputRefused(field, text, "want-shorter", longest=LONGEST_TEXT)
    match = NUMBER_FIRST.fullmatch(plain)
    if match:
        spelling = match["unit"].strip()
        number = read_number(match["number"], field=field, mark_is_decimal=thousands_are_absurd(spelling))
        return number, spelling
    word = NOT_FINITE.match(plain)
    if word:
        raise InputRefused(field, text, "want-finite-number", word=word["word"].lower())
    raise InputRefused(field, text if plain else None, "want-unit", example=example)


def thousands_are_absurd(spelling: str) -> bool:
    """With this unit nobody at a bench means a thousand: `10.150 kg` is ten kilograms, not ten tonnes."""
    return any(
        (unit := known_unit(spelling, dimension)) is not None and unit.symbol in symbols
        for dimension, symbols in NEVER_THOUSANDS.items()
    )


def read_quantity(text: str, dimension: Dimension, *, field: str, example: str = "") -> Quantity:
    """A number and its unit, such as `96.1 N·m`.

    text: as typed, at most 200 characters; numbers as in `read_number`, units as in `find_unit`.
    dimension: what the field asks for.
    field: where it stands, in the words of the form.
    example: shown where the unit is missing; empty for the usual one of the dimension.
    Raises InputRefused where number or unit is missing or unknown: a bare number is never given a unit.
    """
    example = example or EXAMPLES[dimension]
    number, spelling = split_unit(text, field=field, example=example)
    if not spelling:
        raise InputRefused(field, text, "want-unit", example=example)
    return Quantity(typed=text, number=number, unit=find_unit(spelling, dimension, field=field))
