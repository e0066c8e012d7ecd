"""Reading a row of values that may share one unit."""

import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from steelyard.errors import InputRefused
from steelyard.quantities.find_unit import find_unit, known_unit
from steelyard.quantities.marked import one_way
from steelyard.quantities.number import APOSTROPHES, read_number
from steelyard.quantities.quantity import Quantity
from steelyard.quantities.table import EXAMPLES
from steelyard.quantities.typed import thousands_are_absurd
from steelyard.quantities.unit import Dimension, Unit

MOST_VALUES = 1000
LONGEST_ROW = 40_000
SET_APART = r"(?:;|,(?=\s|\Z)|\s)"
VALUE = re.compile(
    rf"(?P<before>{SET_APART}*)"
    rf"(?P<number>[+\-\u2212]?[.,]?[0-9](?:[0-9]|[.,{APOSTROPHES}](?=[0-9]))*(?:[eE][+\-\u2212]?[0-9]+)?)"
    rf"(?P<unit>(?:(?!;|,(?:\s|\Z)|\s[+\-\u2212]?[.,]?[0-9]).)*)",
    re.DOTALL,
)
REST = re.compile(rf"{SET_APART}*")
SHORT_WHOLE = re.compile(r"[+\-\u2212]?[1-9][0-9]?")
WHOLE = re.compile(r"[+\-\u2212]?[1-9][0-9]{0,2}")
ALIKE = 3  # values of one row that differ by less than this factor are two readings of one thing
DIGITS = re.compile(r"[0-9]+")
THREE_DIGITS = re.compile(r"[0-9]{3}(?![0-9]).*")


class Piece(NamedTuple):
    """One value of the row as it stands there."""

    number: str
    spelling: str
    gap_before: bool

    @property
    def typed(self) -> str:
        """Number and unit as they stand in the row."""
        return f"{self.number} {self.spelling}".strip()


def read_quantities(
    text: str,
    dimension: Dimension,
    *,
    field: str,
    decimal_mark: str | None = None,
    largest: Fraction | None = None,
) -> tuple[Quantity, ...]:
    """Values in a row, such as `96.1 97.0 96.6 N·m`.

    text: values set apart by white space, semicolons, or a comma before white space; at most 1000. Each may
        carry its unit; the unit at the end serves all before it that carry none, as long as no other unit
        stands in the row. A gap inside a number is not read here: `1 250 1 260` is refused.
    dimension: what the field asks for.
    field: where it stands, in the words of the form.
    decimal_mark: of who typed it, point or comma; `96.100` reads two ways where it is None or the other one.
    largest: more than any value of the row can be, as its `exact`; a gap then sets two values apart where one
        number would be larger, such as `20 100 N·m` on a wrench up to 100 N·m.
    Returns them in order; `typed` of each is its number and the unit that serves it.
    Raises InputRefused as `read_quantity` does, and for a gap that may be a thousands mark.
    """
    pieces = list(split_row(text, field=field, example=EXAMPLES[dimension]))
    refuse_grouped(pieces, field, _too_large(pieces, dimension, largest))
    pieces = [p._replace(number=one_way(p.number, decimal_mark)) for p in pieces]
    served = serve_units(pieces, field=field, example=EXAMPLES[dimension])
    units: dict[str, Unit] = {p.spelling: find_unit(p.spelling, dimension, field=field) for p in served}
    return tuple(
        Quantity(
            p.typed,
            read_number(p.number, field=field, mark_is_decimal=thousands_are_absurd(p.spelling)),
            units[p.spelling],
        )
        for p in served
    )


def split_row(text: str, *, field: str, example: str) -> Iterator[Piece]:
    """The pieces of a row, in order; at least one."""
    if len(text) > LONGEST_ROW:
        raise InputRefused(field, text, "want-shorter", longest=LONGEST_ROW)
    if not text.strip():
        raise InputRefused(field, None, "want-unit", example=example)
    at = count = 0
    while (match := VALUE.match(text, at)) is not None:
        count += 1
        if count > MOST_VALUES:
            raise InputRefused(field, text, "want-fewer-values", most=MOST_VALUES)
        if len("".join(match["before"].split())) > (count > 1):
            raise InputRefused(field, text, "want-unit", example=example)
        yield Piece(match["number"], match["unit"].strip(), match["before"].isspace())
        at = match.end()
    if REST.fullmatch(text, at) is None or not count:
        raise InputRefused(field, text[at:], "want-unit", example=example)


def _too_large(
    pieces: list[Piece], dimension: Dimension, largest: Fraction | None
) -> Callable[[Piece, str], bool]:
    """Whether a number in the unit that serves a piece is larger than any value of the row can be."""

    def is_too_large(piece: Piece, digits: str) -> bool:
        unit = known_unit(piece.spelling or pieces[-1].spelling, dimension)
        number = DIGITS.match(digits.lstrip("+-\u2212"))
        if largest is None or unit is None or number is None:
            return False
        return Quantity(digits, Decimal(number[0]), unit).exact > largest

    return is_too_large


def refuse_grouped(
    pieces: list[Piece], field: str, is_too_large: Callable[[Piece, str], bool] = lambda piece, digits: False
) -> None:
    """Raise where a gap between two pieces may be a thousands mark inside one number.

    is_too_large: whether a number in the unit of a piece is more than any of the row can be.

    `1 250` may be; `98 100` is taken for two values, because they are alike; `100 102` too, because nobody
    reads torques beyond 99 999 of anything by hand; `100 000` may be, because nobody types a value as 000.
    """
    for left, right in pairwise(pieces):
        if left.spelling or not right.gap_before or not THREE_DIGITS.fullmatch(right.number):
            continue
        if are_alike(left.number, right.number) or is_too_large(right, left.number + right.number):
            continue
        if SHORT_WHOLE.fullmatch(left.number) or (WHOLE.fullmatch(left.number) and right.number[0] == "0"):
            raise InputRefused(
                field,
                f"{left.number} {right.number}",
                "want-set-apart",
                as_two=f"{left.number}; {right.number}",
                as_one=left.number + right.number,
            )


def are_alike(left: str, right: str) -> bool:
    """A whole number and one with three digits first that differ by less than a factor of three."""
    digits = left.lstrip("+-\u2212")
    first, second = int(digits) if digits.isdecimal() else 0, int(right[:3])
    return first < ALIKE * second and second < ALIKE * first


def serve_units(pieces: list[Piece], *, field: str, example: str) -> list[Piece]:
    """The pieces, each with a unit: its own, or the one at the end where it is the only one in the row."""
    last = pieces[-1].spelling
    several = len({p.spelling for p in pieces if p.spelling}) > 1
    for piece in pieces:
        if not piece.spelling and (several or not last):
            raise InputRefused(field, piece.number, "want-unit", example=example)
    return [p if p.spelling else p._replace(spelling=last) for p in pieces]
