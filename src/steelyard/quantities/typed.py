"""Reading a number with its unit out of a text."""

import re
from decimal import Decimal

from steelyard.errors import InputRefused
from steelyard.quantities.find_unit import find_unit
from steelyard.quantities.number import APOSTROPHES, GAPS, LONGEST_TEXT, NOT_FINITE, read_number
from steelyard.quantities.quantity import Quantity
from steelyard.quantities.table import EXAMPLES
from steelyard.quantities.unit import Dimension

NUMBER_FIRST = re.compile(
    rf"(?P<number>[+\-\u2212]?[.,]?[0-9](?:[0-9]|[.,{GAPS}{APOSTROPHES}](?=[0-9]))*"
    rf"(?:[eE][+\-\u2212]?[0-9]+)?)(?P<unit>.*)",
    re.DOTALL,
)


def split_unit(text: str, *, field: str, example: str) -> tuple[Decimal, str]:
    """The number at the head of a text and the spelling after it, which may be empty.

    Raises InputRefused where no number stands there.
    """
    plain = text.strip()
    if len(text) > LONGEST_TEXT:
        raise InputRefused(field, text, "want-shorter", longest=LONGEST_TEXT)
    match = NUMBER_FIRST.fullmatch(plain)
    if match:
        return read_number(match["number"], field=field), match["unit"].strip()
    word = NOT_FINITE.match(plain)
    if word:
        raise InputRefused(field, text, "want-finite-number", word=word["word"].lower())
    raise InputRefused(field, text if plain else None, "want-unit", example=example)


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
