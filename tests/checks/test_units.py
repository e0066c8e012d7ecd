"""Published unit conversions: every factor at the digits printed."""

from fractions import Fraction

import pytest

from printed import agrees
from steelyard.quantities import UNITS, Dimension, read_quantity

# NIST Guide to the SI, SP 811 (2008), appendix B.8, seven digits, as transcribed in the R package NISTunits.
SP_811_B8 = [
    (Dimension.TORQUE, "lbf·ft", "1.355818"),
    (Dimension.TORQUE, "lbf·in", "0.1129848"),
    (Dimension.TORQUE, "ozf·in", "0.007061552"),
    (Dimension.TORQUE, "kgf·m", "9.80665"),
    (Dimension.FORCE, "lbf", "4.448222"),
    (Dimension.MASS, "lb", "0.4535924"),
    (Dimension.MASS, "oz", "0.02834952"),
    (Dimension.PRESSURE, "psi", "6894.757"),
]
# Rational arithmetic from lb = 0.45359237 kg, in = 0.0254 m, g_n = 9.80665 m/s²; the same fractions come from
# pint 0.25.3 and metrolopy 1.1.1.
EXACT = [
    (Dimension.FORCE, "lbf", "4.4482216152605"),
    (Dimension.TORQUE, "lbf·ft", "1.3558179483314004"),
    (Dimension.TORQUE, "lbf·ft", "3389544870828501/2500000000000000"),
    (Dimension.TORQUE, "lbf·in", "0.1129848290276167"),
    (Dimension.TORQUE, "ozf·in", "0.00706155181422604375"),
    (Dimension.TORQUE, "kgf·m", "9.80665"),
    (Dimension.TORQUE, "kgf·cm", "0.0980665"),
    (Dimension.TORQUE, "gf·cm", "0.0000980665"),
    (Dimension.TORQUE, "cN·m", "0.01"),
    (Dimension.TORQUE, "dN·m", "0.1"),
    (Dimension.TORQUE, "mN·m", "0.001"),
    (Dimension.MASS, "lb", "0.45359237"),
    (Dimension.MASS, "oz", "0.028349523125"),
    (Dimension.LENGTH, "in", "0.0254"),
    (Dimension.LENGTH, "ft", "0.3048"),
    (Dimension.PRESSURE, "psi", "8896443230521/1290320000"),
    # from memory, high: conventional millimetre of mercury; US gallon of 231 cubic inches
    (Dimension.PRESSURE, "mmHg", "133.322387415"),
    (Dimension.VOLUME, "US gal", "0.003785411784"),
]
# Own rational arithmetic, exact to the last digit given.
IN_NEWTON_METRES = [
    ("100 lbf·ft", "135.58179483314004"),
    ("80 lbf·ft", "108.465435866512032"),
    ("250 lbf·ft", "338.9544870828501"),
]
# Own arithmetic from the fractions above, 40 digits, rounded to those given.
FROM_NEWTON_METRES = [
    ("100 N·m", "lbf·ft", "73.756214928"),
    ("100 N·m", "lbf·in", "885.07457913"),
    ("100 N·m", "kgf·cm", "1019.7162130"),
    ("20 N·m", "lbf·ft", "14.751242986"),
    ("340 N·m", "lbf·ft", "250.771130754"),
    ("1 N·m", "lbf·ft", "0.73756214927727"),
    ("1 N·m", "lbf·in", "8.8507457913272"),
    ("1 N·m", "ozf·in", "141.61193266123"),
    ("1 N·m", "kgf·cm", "10.197162129779"),
]


@pytest.mark.parametrize(("dimension", "symbol", "printed"), SP_811_B8)
def test_factors_of_sp_811(dimension: Dimension, symbol: str, printed: str) -> None:
    agrees(float(UNITS[dimension][symbol].factor), printed)


@pytest.mark.parametrize(("dimension", "symbol", "exact"), EXACT)
def test_factors_are_exact(dimension: Dimension, symbol: str, exact: str) -> None:
    assert UNITS[dimension][symbol].factor == Fraction(exact)


@pytest.mark.parametrize(("typed", "exact"), IN_NEWTON_METRES)
def test_exact_torques_in_newton_metres(typed: str, exact: str) -> None:
    got = read_quantity(typed, Dimension.TORQUE, field="x")
    assert got.exact == Fraction(exact)
    assert got.base == float(exact)


@pytest.mark.parametrize(("typed", "symbol", "printed"), FROM_NEWTON_METRES)
def test_torques_from_newton_metres(typed: str, symbol: str, printed: str) -> None:
    got = read_quantity(typed, Dimension.TORQUE, field="x")
    agrees(got.to(UNITS[Dimension.TORQUE][symbol]), printed)
