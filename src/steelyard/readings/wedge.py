"""One line beside a pull: sent by a device that types like a keyboard, or typed by hand."""

import re
from dataclasses import dataclass
from typing import Literal

from steelyard.errors import InputRefused
from steelyard.quantities import Quantity, Unit, read_quantity

LINE_ENDS = "\r\n\t"
LONGEST_LINE = 100
NUMBER_THEN_UNIT = re.compile(r"(?P<number>[+\-\u2212]?[.,]?[0-9](?:\S*[0-9])?)(?P<unit>[^0-9]*)")
THREE_AFTER_MARK = re.compile(r"(?P<sign>[+\-\u2212]?)(?P<rest>[1-9][0-9]{0,2}(?P<mark>[.,])[0-9]{3})")


@dataclass(frozen=True, slots=True)
class WedgeReading:
    """One line as it came, and what it means.

    typed: the line as it came, without the keys that ended it.
    quantity: number and unit; its own text is `form_text`.
    is_unit_given: the unit stood on the line; else it is the one shown beside the field.
    """

    typed: str
    quantity: Quantity
    is_unit_given: bool

    @property
    def form_text(self) -> str:
        """The reading for the check form, always with its unit; read there to the same number and unit."""
        return self.quantity.typed


def read_wedge_line(
    text: str, *, unit: Unit, direction: str, field: str, decimal_mark: Literal[".", ","] | None = None
) -> WedgeReading:
    """The reading on one line, such as `96.1`, `+096,1 Nm` or, counter-clockwise, `-96.1`.

    text: a number as in `read_number` but without gaps, for `98 100` are two readings; then perhaps a unit;
        white space around them and the keys that ended the line. At most 100 characters.
    unit: shown beside the field, by the person's choice; a number without a unit is in it.
    direction: of the pull, `cw` or `ccw`; counter-clockwise a minus may stand before the number or not.
    field: where it stands, in the words of the page.
    decimal_mark: the workshop's. `96.100` and `96,100` read two ways; the one with this mark is then taken
        as 96.1. None takes neither.
    Returns the reading with its sign as it came.
    Raises InputRefused for anything before or behind number and unit, for zero, for a minus on a clockwise
        pull, and as `read_quantity` does.
    """
    if len(text) > LONGEST_LINE:
        raise InputRefused(field, text, "want-shorter", longest=LONGEST_LINE)
    typed = text.rstrip(LINE_ENDS)
    plain = typed.strip()
    example = f"96.1 {unit.symbol}"
    if not plain:
        raise InputRefused(field, None, "want-bench-reading", example=example)
    match = NUMBER_THEN_UNIT.fullmatch(plain)
    if match is None or any(not c.isprintable() and not c.isspace() for c in plain):
        raise InputRefused(field, typed, "want-bench-reading", example=example)
    spelling = " ".join(match["unit"].split())
    number = one_way(match["number"], decimal_mark)
    quantity = read_quantity(f"{number} {spelling or unit.symbol}", unit.dimension, field=field)
    if quantity.number == 0:
        raise InputRefused(field, typed, "want-positive", what=unit.dimension.value, example=example)
    if quantity.number < 0 and direction == "cw":
        raise InputRefused(field, typed, "want-clockwise")
    return WedgeReading(typed, quantity, bool(spelling))


def one_way(number: str, decimal_mark: str | None) -> str:
    """The number so that it reads one way: `096.100` for `96.100` where the point is the decimal mark.

    Behind a leading zero nobody sets thousands apart, and the digits that say how finely it was read stay.
    """
    match = THREE_AFTER_MARK.fullmatch(number)
    return f"{match['sign']}0{match['rest']}" if match and match["mark"] == decimal_mark else number
