"""Units as the D-SI spells them: those that are written, those of a torque that are read."""

from collections.abc import Iterable, Iterator
from decimal import Context, Decimal
from typing import TYPE_CHECKING

from steelyard.paper.dcc.elements import SI
from steelyard.paper.dcc.tree import Element
from steelyard.quantities import UNITS, Dimension

if TYPE_CHECKING:
    from lxml.etree import _Element as Read

NEWTON_METRE, PERCENT, ONE = r"\newton\metre", r"\percent", r"\one"
CELSIUS, SECOND = r"\degreecelsius", r"\second"
METRE_PER_SECOND_SQUARED = r"\metre\second\tothe{-2}"
KILOGRAM_PER_CUBIC_METRE = r"\kilogram\metre\tothe{-3}"
SI_TORQUES = {
    "N·m": NEWTON_METRE,
    "mN·m": r"\milli\newton\metre",
    "cN·m": r"\centi\newton\metre",
    "dN·m": r"\deci\newton\metre",
    "kN·m": r"\kilo\newton\metre",
}
OTHER_TORQUES = {
    symbol: f"|{symbol.replace('·', '.')}" for symbol in UNITS[Dimension.TORQUE] if symbol not in SI_TORQUES
}
"""Outside the SI: marked by the bar, declared in a statement of the same file."""
WRITTEN = {
    PERCENT,
    ONE,
    CELSIUS,
    SECOND,
    METRE_PER_SECOND_SQUARED,
    KILOGRAM_PER_CUBIC_METRE,
    *SI_TORQUES.values(),
    *OTHER_TORQUES.values(),
}
"""Every spelling that may be written. Source: Guidelines for D-SI 2.2.1; each is read back in the tests."""
READ = {
    **{spelling: symbol for symbol, spelling in (SI_TORQUES | OTHER_TORQUES).items()},
    r"\newton\milli\metre": "mN·m",
    r"\newton\centi\metre": "cN·m",
    r"\metre\newton": "N·m",
    r"\metre\kilo\newton": "kN·m",
}
"""Symbols of the torques that are read, by their spelling."""
READ_RATIOS = {PERCENT: Decimal(1), ONE: Decimal(100), r"\ppm": Decimal("0.0001")}
"""Per cent in one of each."""
UNIT_TAGS = {f"{{{SI}}}unit", f"{{{SI}}}unitXMLList"}
ENOUGH_DIGITS = Context(prec=50)


def units_in(root: "Element | Read") -> Iterator[str]:
    """Every unit in a certificate, one by one."""
    for element in root.iter(*UNIT_TAGS):
        yield from (element.text or "").split() or [""]


def refuse_other_units(units: Iterable[str]) -> None:
    """Raise ValueError for a unit that is never written: the schema takes any text for one."""
    for unit in units:
        if unit not in WRITTEN:
            raise ValueError(f"no D-SI spelling that is written here: {unit!r}")


def defined(spelling: str) -> str:
    """What one of a unit outside the SI is, exactly. spelling: as in `OTHER_TORQUES`."""
    factor = UNITS[Dimension.TORQUE][READ[spelling]].factor
    exact = ENOUGH_DIGITS.divide(Decimal(factor.numerator), Decimal(factor.denominator))
    return f"1 {spelling.removeprefix('|')} = {exact.normalize():f} N.m"
