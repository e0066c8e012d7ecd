"""pint, with fractions, has the same factor for every unit."""

import math
from fractions import Fraction

import pint
import pytest

from steelyard.quantities import UNITS, Dimension

REGISTRY: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
BASE = {
    Dimension.TORQUE: "newton*meter",
    Dimension.MASS: "kilogram",
    Dimension.LENGTH: "meter",
    Dimension.PRESSURE: "pascal",
    Dimension.VOLUME: "meter**3",
    Dimension.DENSITY: "kilogram/meter**3",
    Dimension.ACCELERATION: "meter/second**2",
    Dimension.FORCE: "newton",
    Dimension.RATIO: "dimensionless",
    Dimension.DURATION: "second",
}
PINT_SPELLS = {
    "N·m": "N*m", "lbf·ft": "lbf*ft", "lbf·in": "lbf*inch", "kgf·m": "kgf*m", "kgf·cm": "kgf*cm",
    "cN·m": "cN*m", "dN·m": "dN*m", "mN·m": "mN*m", "kN·m": "kN*m", "ozf·in": "ozf*inch", "gf·cm": "gf*cm",
   
    "in": "inch", "mmHg": "millimeter_Hg", "inHg": "inch_Hg", "m³": "m**3", "US gal": "gallon",
    "kg/m³": "kg/m**3",
    "g/cm³": "g/cm**3", "m/s²": "m/s**2", "%": "percent", "t": "metric_ton",
}  # fmt: skip
ROWS = [(dimension, symbol) for dimension in BASE for symbol in UNITS[dimension]]


@pytest.mark.parametrize(("dimension", "symbol"), ROWS, ids=lambda x: str(x))
def test_pint_has_the_same_fraction(dimension: Dimension, symbol: str) -> None:
    theirs = REGISTRY.Quantity(Fraction(1), PINT_SPELLS.get(symbol, symbol)).to(BASE[dimension]).magnitude
    assert theirs == UNITS[dimension][symbol].factor


@pytest.mark.parametrize("symbol", UNITS[Dimension.TEMPERATURE])
def test_pint_has_the_same_temperatures(symbol: str) -> None:
    unit = UNITS[Dimension.TEMPERATURE][symbol]
    name = {"°C": "degC", "°F": "degF", "K": "kelvin"}[symbol]
    theirs = REGISTRY.Quantity(Fraction("71.3"), name).to("degC").magnitude
    assert float(theirs) == pytest.approx(float(Fraction("71.3") * unit.factor + unit.offset), rel=1e-14)


def test_the_degree_is_the_quotient_of_the_nearest_float_to_pi() -> None:
    assert float(UNITS[Dimension.ANGLE]["°"].factor) == math.radians(1)
