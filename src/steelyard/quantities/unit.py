"""What a unit is: a dimension and the exact way from its numbers to the base unit."""

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction


class Dimension(StrEnum):
    """What kind of quantity a unit measures; the value is the word a sentence uses.

    Base units: N·m, kg, m, rad, °C, Pa, m³, kg/m³, m/s², N, 1 (for ratios), s.
    """

    TORQUE = "torque"
    MASS = "mass"
    LENGTH = "length"
    ANGLE = "angle"
    TEMPERATURE = "temperature"
    PRESSURE = "pressure"
    VOLUME = "volume"
    DENSITY = "density"
    ACCELERATION = "acceleration"
    FORCE = "force"
    RATIO = "ratio"
    DURATION = "duration"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of one dimension: base value = number · factor + offset.

    symbol: as it is printed, such as `N·m`.
    dimension: what it measures.
    factor: base units in one of this unit, exact. > 0
    offset: base value of the number 0, exact; other than 0 for °F and K alone. [base unit]
    """

    symbol: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)

    @property
    def as_difference(self) -> "Unit":
        """The same unit for differences and half-widths, where the zero of the scale plays no part."""
        return replace(self, offset=Fraction(0))
