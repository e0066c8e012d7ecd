"""A number with its unit, kept as it was typed."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from steelyard.quantities.unit import Unit


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a person typed, and what it means.

    typed: exactly as typed.
    number: the number in it, with its digits. [unit]
    unit: the unit of the number.
    """

    typed: str
    number: Decimal
    unit: Unit

    @property
    def exact(self) -> Fraction:
        """The value without any rounding. [base unit]"""
        return Fraction(self.number) * self.unit.factor + self.unit.offset

    @property
    def base(self) -> float:
        """The value, rounded once. [base unit]"""
        return float(self.exact)

    def to(self, unit: Unit) -> float:
        """The value in another unit of the same dimension, rounded once. [unit]

        Raises ValueError for a unit of another dimension.
        """
        if unit.dimension is not self.unit.dimension:
            raise ValueError(f"a {self.unit.dimension} has no value in {unit.symbol}")
        return float((self.exact - unit.offset) / unit.factor)

    @property
    def step(self) -> Decimal:
        """One unit of the last typed digit: 0.01 for `96.10`. [unit]"""
        return Decimal(1).scaleb(int(self.number.as_tuple().exponent))

    @property
    def step_base(self) -> float:
        """One unit of the last typed digit. [base unit]"""
        return float(Fraction(self.step) * self.unit.factor)
