"""How a number and its ± are worked out from typed inputs and printed."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Context, Decimal
from typing import Any

from steelyard.desk.answer import Said
from steelyard.evaluation import coverage_factor, first_order, second_order
from steelyard.quantities import Line, Unit

WIDE = Context(prec=200)
DIGITS = 4  # of a number without ±


@dataclass(frozen=True, slots=True)
class Known:
    """A value and the half-width it lies within in 95 of 100 cases; None where no input carries a ±."""

    value: float
    within: float | None = None


def known(model: Any, lines: Sequence[Line]) -> Known:
    """A model's value with its ±.

    model: `model(maths, *values)`; lines: one per parameter, infinite degrees of freedom.
    The half-width is k times the root mean square distance from the value, so that an angle of 0° ± 2°,
    which can only make a torque smaller, counts too.
    Source: `first_order`, `second_order`; k of a normal distribution, 95 %.
    """
    first = first_order(model, lines)
    if all(line.width == 0 for line in lines):
        return Known(first.value)
    curved = second_order(model, first)
    return Known(first.value, coverage_factor(first.dof) * math.hypot(curved.u, curved.shift))


def last_place(within: float) -> int:
    """Exponent of the second significant digit of a ±, after rounding."""
    return int(f"{within:.1e}".partition("e")[2]) - 1


def placed(value: float, exponent: int) -> str:
    """A number rounded at a power of ten."""
    return f"{Decimal(value).quantize(Decimal(1).scaleb(exponent), context=WIDE):f}"


def number(value: float, *, digits: int = DIGITS) -> str:
    """A number with so many significant digits, trailing zeros kept; never fewer than its whole part."""
    if value == 0:
        return "0"
    leading = int(f"{value:.{digits - 1}e}".partition("e")[2])
    return placed(value, min(0, leading - digits + 1))


def figure(this: Known, unit: Unit, *, digits: int = DIGITS) -> str:
    """Number, ± and unit as printed: the ± with two digits, the number to the same place.

    this: in base units. unit: to print in.
    """
    value, factor = (this.value - float(unit.offset)) / float(unit.factor), float(unit.factor)
    if not this.within:
        return f"{number(value, digits=digits)} {unit.symbol}"
    within = this.within / factor
    place = last_place(within)
    return f"{placed(value, place)} {unit.symbol} ± {placed(within, place)} {unit.symbol}"


def both(this: Known, units: tuple[Unit, Unit]) -> str:
    """The figure in one unit, and in another in brackets."""
    return f"{figure(this, units[0])} ({figure(this, units[1])})"


def about_within(lines: Sequence[Line]) -> Said:
    """The sentence that says what the ± stands for: the fields it comes from, and those taken as exact."""
    counted = ", ".join(dict.fromkeys(line.detail for line in lines if line.detail and line.width))
    exact = ", ".join(dict.fromkeys(line.detail for line in lines if line.detail and not line.width))
    if not counted:
        return "reckon-no-within", {}
    if not exact:
        return "reckon-within", {"counted": counted}
    return "reckon-within-but", {"counted": counted, "exact": exact}


def numbered(stem: str, this: Known, unit: str) -> dict[str, float | str]:
    """Value and half-width as numbers of an answer, their keys ending in the unit."""
    keyed: dict[str, float | str] = {f"{stem}_{unit}": this.value}
    if this.within is not None:
        keyed[f"{stem}_within_{unit}"] = this.within
    return keyed
