"""The units known here, each as an exact rational of its base unit.

Source: in = 25.4 mm, lb = 0.453 592 37 kg, g_n = 9.806 65 m/s² and US gal = 231 in³, exact by definition;
mmHg is the conventional millimetre of mercury, 13 595.1 kg/m³ · g_n · 1 mm (all from memory, high; the
results agree with NIST SP 811 table B.8 at its seven digits and with pint's exact fractions).
Left out: megas (`MN·m` is one key away from `mN·m`), the ton (three of them), the imperial gallon.
"""

import math
from fractions import Fraction

from steelyard.quantities.unit import Dimension, Unit

STANDARD_GRAVITY = Fraction("9.80665")  # m/s²
POUND = Fraction("0.45359237")  # kg
INCH = Fraction("0.0254")  # m
POUND_FORCE = POUND * STANDARD_GRAVITY  # N
MILLIMETRE_OF_MERCURY = Fraction("13595.1") * STANDARD_GRAVITY / 1000  # Pa
FAHRENHEIT_DEGREE = Fraction(5, 9)  # °C
# π is no rational: the degree is the exact quotient of the float nearest to π, 4e-17 relative from it.
DEGREE = Fraction(math.pi) / 180  # rad

FACTORS: dict[Dimension, dict[str, Fraction]] = {
    Dimension.TORQUE: {
        "N·m": Fraction(1),
        "lbf·ft": POUND_FORCE * INCH * 12,
        "lbf·in": POUND_FORCE * INCH,
        "kgf·m": STANDARD_GRAVITY,
        "kgf·cm": STANDARD_GRAVITY / 100,
        "cN·m": Fraction("0.01"),
        "dN·m": Fraction("0.1"),
        "mN·m": Fraction("0.001"),
        "kN·m": Fraction(1000),
        "ozf·in": POUND_FORCE * INCH / 16,
        "gf·cm": STANDARD_GRAVITY / 100_000,
    },
    Dimension.MASS: {
        "kg": Fraction(1),
        "g": Fraction("0.001"),
        "lb": POUND,
        "oz": POUND / 16,
        "mg": Fraction("0.000001"),
        "t": Fraction(1000),
    },
    Dimension.LENGTH: {
        "m": Fraction(1),
        "mm": Fraction("0.001"),
        "in": INCH,
        "cm": Fraction("0.01"),
        "ft": INCH * 12,
        "µm": Fraction("0.000001"),
    },
    Dimension.ANGLE: {"rad": Fraction(1), "°": DEGREE},
    Dimension.TEMPERATURE: {"°C": Fraction(1), "°F": FAHRENHEIT_DEGREE, "K": Fraction(1)},
    Dimension.PRESSURE: {
        "Pa": Fraction(1),
        "hPa": Fraction(100),
        "kPa": Fraction(1000),
        "bar": Fraction(100_000),
        "mbar": Fraction(100),
        "mmHg": MILLIMETRE_OF_MERCURY,
        "inHg": MILLIMETRE_OF_MERCURY * Fraction("25.4"),
        "psi": POUND_FORCE / INCH**2,
    },
    Dimension.VOLUME: {
        "m³": Fraction(1),
        "L": Fraction("0.001"),
        "mL": Fraction("0.000001"),
        "US gal": 231 * INCH**3,
    },
    Dimension.DENSITY: {"kg/m³": Fraction(1), "g/cm³": Fraction(1000)},
    Dimension.ACCELERATION: {"m/s²": Fraction(1)},
    Dimension.FORCE: {"N": Fraction(1), "kN": Fraction(1000), "lbf": POUND_FORCE, "kgf": STANDARD_GRAVITY},
    Dimension.RATIO: {"%": Fraction("0.01"), "ppm": Fraction("0.000001")},
    Dimension.DURATION: {"s": Fraction(1), "ms": Fraction("0.001"), "min": Fraction(60)},
}
OFFSETS = {"°F": -32 * FAHRENHEIT_DEGREE, "K": Fraction("-273.15")}

UNITS: dict[Dimension, dict[str, Unit]] = {
    dimension: {
        symbol: Unit(symbol, dimension, factor, OFFSETS.get(symbol, Fraction(0)))
        for symbol, factor in factors.items()
    }
    for dimension, factors in FACTORS.items()
}
EXAMPLES = {
    Dimension.TORQUE: "12.5 N·m",
    Dimension.MASS: "20.05 kg",
    Dimension.LENGTH: "450.5 mm",
    Dimension.ANGLE: "2.5 °",
    Dimension.TEMPERATURE: "20.5 °C",
    Dimension.PRESSURE: "1013.2 hPa",
    Dimension.VOLUME: "2.5 L",
    Dimension.DENSITY: "7850 kg/m³",
    Dimension.ACCELERATION: "9.81 m/s²",
    Dimension.FORCE: "200 N",
    Dimension.RATIO: "0.5 %",
    Dimension.DURATION: "2.5 s",
}
