"""From what a person typed into a field to one uncertain input of a model."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, Line, Quantity, Unit, find_unit, read_within
from steelyard.records import LATITUDE_EXAMPLE

HEMISPHERE = re.compile(r"(?<![A-Za-z])[NnSs](?![A-Za-z])")
DEGREES_WRITTEN = re.compile(r"°|º|deg|rad", re.IGNORECASE)


def typed(
    text: str | None, dimension: Dimension, *, field: str, example: str = ""
) -> tuple[Quantity, Quantity | None]:
    """Value and half-width of a field; refused where nothing stands in it."""
    return read_within(text or "", dimension, field=field, example=example)


def any_line(text: str | None, dimension: Dimension, *, field: str, name: str) -> Line:
    """A field as a line, rectangular within its ±, in base units; `detail` is the field."""
    value, half = typed(text, dimension, field=field)
    unit = next(iter(UNITS[dimension]))
    return Line(name, value.base, half.base if half else 0.0, unit=unit, detail=field)


def line_above_zero(text: str | None, dimension: Dimension, *, field: str, name: str) -> Line:
    """The same, refused where any value within the ± is zero or less."""
    line = any_line(text, dimension, field=field, name=name)
    if not line.value - line.width > 0:
        example = f"12.5 {line.unit}"
        raise InputRefused(field, text, "want-positive", what=dimension.value, example=example)
    return line


def line_from_zero(text: str | None, dimension: Dimension, *, field: str, name: str) -> Line:
    """The same, refused where the value is less than zero."""
    line = any_line(text, dimension, field=field, name=name)
    if not line.value >= 0:
        example = f"0 {line.unit}"
        raise InputRefused(field, text, "want-not-negative", what=dimension.value, example=example)
    return line


def latitude_line(text: str | None, *, field: str) -> Line:
    """A latitude in degrees, north positive: `51.5`, `51.5° N`, `33.9 S ± 0.5`; a bare number is degrees."""
    sides = HEMISPHERE.findall(text or "")
    plain = HEMISPHERE.sub("", text or "")
    if len(sides) > 1 or (sides and plain.strip().startswith(("-", "\u2212"))):
        raise InputRefused(field, text, "want-latitude")
    if plain.strip() and not DEGREES_WRITTEN.search(plain):
        plain = f"{plain}°"
    value, half = typed(plain, Dimension.ANGLE, field=field, example=LATITUDE_EXAMPLE)
    degree = UNITS[Dimension.ANGLE]["°"]
    sign = -1 if sides and sides[0] in "Ss" else 1
    within = half.to(degree) if half else 0.0
    return Line("latitude", sign * value.to(degree), within, unit="°", detail=field)


def unit_of(text: str | None, dimension: Dimension, *, field: str, otherwise: Unit) -> Unit:
    """The unit a person wants an answer in, or the one that serves where none is named."""
    return find_unit(text, dimension, field=field) if text else otherwise


@contextmanager
def asked_as(field: str, given: str | None) -> Iterator[None]:
    """A refusal from below, which knows its own name of a field, told in the words of the person's field."""
    try:
        yield
    except InputRefused as refused:
        raise InputRefused(field, given, refused.wanted, **refused.facts) from refused
