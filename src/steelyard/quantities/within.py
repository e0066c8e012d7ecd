"""Reading a value with its half-width, such as `450 mm ± 1 mm`."""

import re
from decimal import Context, Decimal

from steelyard.errors import InputRefused
from steelyard.quantities.find_unit import find_unit, known_unit
from steelyard.quantities.quantity import Quantity
from steelyard.quantities.table import EXAMPLES
from steelyard.quantities.typed import NUMBER_FIRST, read_quantity, split_unit
from steelyard.quantities.unit import Dimension, Unit

PLUS_MINUS = re.compile(r"±|\+/?[\-\u2212]")
EXACT = Context(prec=80)


def read_within(
    text: str, dimension: Dimension, *, field: str, example: str = ""
) -> tuple[Quantity, Quantity | None]:
    """A value and, after ±, +- or +/-, the half-width it lies within.

    text: `450 mm ± 1 mm`, `450 ± 1 mm` (one unit for both), `20 kg ± 0.5 %` (of the value), or no half-width.
    dimension: what the field asks for. A ratio takes its half-width in its own unit: `5 % ± 1 %` is 4 to 6 %.
    field: where it stands, in the words of the form.
    example: shown where the unit is missing; empty for the usual one of the dimension.
    Returns the value and the half-width, None where none is given. A half-width in % or ppm of the value
        comes in the value's unit; its unit is always one of differences (2 °F of half-width are 1.1 °C).
    Raises InputRefused as `read_quantity` does, for a negative half-width, a second one, and a percentage of
        a temperature.
    """
    value_text, *widths = PLUS_MINUS.split(text)
    if not widths:
        return read_quantity(text, dimension, field=field, example=example), None
    example = example or EXAMPLES[dimension]
    if len(widths) > 1:
        raise InputRefused(field, text, "want-one-half-width", example=example)
    number, spelling = split_unit(widths[0], field=field, example=example)
    if number < 0:
        raise InputRefused(field, text, "want-not-negative", what="half-width", example=example)
    if not spelling:
        raise InputRefused(field, text, "want-unit", example=example)
    if dimension is not Dimension.RATIO and known_unit(spelling, Dimension.RATIO):
        value = read_quantity(value_text.strip(), dimension, field=field)
    else:
        value = read_quantity(with_unit(value_text, spelling), dimension, field=field)
    return value, half_width(widths[0].strip(), number, spelling, value=value, field=field)


def with_unit(value_text: str, spelling: str) -> str:
    """The text of the value; the unit after the half-width serves it where it has none of its own."""
    plain = value_text.strip()
    match = NUMBER_FIRST.fullmatch(plain)
    return f"{plain} {spelling}" if match and not match["unit"].strip() else plain


def half_width(typed: str, number: Decimal, spelling: str, *, value: Quantity, field: str) -> Quantity:
    """The half-width in a unit of differences; a share of the value in the value's own unit."""
    dimension = value.unit.dimension
    share = known_unit(spelling, Dimension.RATIO)
    if share is None or dimension in (Dimension.TEMPERATURE, Dimension.RATIO):
        unit = find_unit(spelling, dimension, field=field)
        if dimension is Dimension.RATIO and unit is not value.unit:
            raise InputRefused(
                field, typed, "want-known-unit", dimension=dimension.value, examples=value.unit.symbol
            )
        return Quantity(typed, number, unit.as_difference)
    return Quantity(typed, share_of(value.number, number, share), value.unit.as_difference)


def share_of(value: Decimal, number: Decimal, share: Unit) -> Decimal:
    """`number` per cent (or millionths) of a value, exact."""
    part = EXACT.divide(EXACT.multiply(number, share.factor.numerator), share.factor.denominator)
    return EXACT.multiply(EXACT.abs(value), part)
