"""The density of moist air, from the weather in the room or from the height alone."""

import math

from steelyard.surroundings.span import HEIGHT, Span

CONVENTIONAL_AIR_KG_M3 = 1.2
"""Air density of the conventional mass. Source: OIML D 28:2004, definition, from memory; exact."""

CONVENTIONAL_DENSITY_KG_M3 = 8000.0
"""Density behind the conventional mass. Source: OIML D 28:2004, definition, from memory; exact."""

TEMPERATURE = Span("room temperature", 0, 45, "°C")
PRESSURE = Span("air pressure", 600, 1100, "hPa")
HUMIDITY = Span("humidity", 0, 100, "%")
CARBON_DIOXIDE = Span("carbon dioxide", 0, 0.01, "as a share of the air")

GAS_CONSTANT = 8.314472
MOLAR_MASS_WATER = 18.01528e-3
HEIGHT_GRAVITY_M_S2 = 9.8
HEIGHT_PRESSURE_PASCAL = 101325.0


def air_density_kg_m3(
    celsius: float,
    *,
    pressure_hectopascal: float,
    humidity_percent: float,
    carbon_dioxide_ratio: float = 0.0004,
) -> float:
    """Density of moist air.

    celsius: of the air. [°C] 0 … 45
    pressure_hectopascal: of the air at the place, not reduced to sea level. [hPa] 600 … 1100
    humidity_percent: relative. [%] 0 … 100
    carbon_dioxide_ratio: mole fraction; ordinary room air has 0.0004 to 0.001. [1] 0 … 0.01
    Returns the density. [kg/m³]
    Raises InputRefused outside these limits.
    Source: CIPM-2007 (Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149–155).
        The paper recommends it for 15 °C to 27 °C (from memory); 0 °C to 45 °C is our own reach: from 0 °C to
        25 °C it stays within 4e-5 of another equation of state (CoolProp), and buoyancy is only 0.015 %.
    Left out: gases other than those of ordinary air.
    """
    TEMPERATURE.check(celsius)
    PRESSURE.check(pressure_hectopascal)
    HUMIDITY.check(humidity_percent)
    CARBON_DIOXIDE.check(carbon_dioxide_ratio)
    kelvin, pascal = celsius + 273.15, pressure_hectopascal * 100
    vapour = vapour_share(celsius, pascal, humidity_percent / 100)
    dry_molar_mass = (28.96546 + 12.011 * (carbon_dioxide_ratio - 0.0004)) * 1e-3
    compressed = compressibility(celsius, pascal, vapour)
    dry = pascal * dry_molar_mass / (compressed * GAS_CONSTANT * kelvin)
    return dry * (1 - vapour * (1 - MOLAR_MASS_WATER / dry_molar_mass))


def vapour_share(celsius: float, pascal: float, humidity_ratio: float) -> float:
    """Mole fraction of water vapour x_v in moist air. [1] Source: CIPM-2007."""
    kelvin = celsius + 273.15
    saturation = math.exp(
        1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin
    )
    enhancement = 1.00062 + 3.14e-8 * pascal + 5.6e-7 * celsius**2
    return humidity_ratio * enhancement * saturation / pascal


def compressibility(celsius: float, pascal: float, vapour: float) -> float:
    """Compressibility factor Z of moist air. [1] Source: CIPM-2007."""
    ratio = pascal / (celsius + 273.15)
    dry = 1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius**2
    linear = (5.707e-6 - 2.051e-8 * celsius) * vapour
    square = (1.9898e-4 - 2.376e-6 * celsius) * vapour**2
    return 1 - ratio * (dry + linear + square) + ratio**2 * (1.83e-11 - 0.765e-8 * vapour**2)


def air_density_at_height_kg_m3(height_metre: float) -> float:
    """Density of air where only the height of the place is known.

    height_metre: above sea level. [m] −500 … 9000
    Returns 1.2·exp(−1.2·9.8·h/101325). [kg/m³]
    Raises InputRefused outside these limits.
    Source: the R package masscor, air density from altitude.
    Left out: the weather: temperature moves it by about ±10 %, pressure by ±3 %.
    """
    HEIGHT.check(height_metre)
    scale = CONVENTIONAL_AIR_KG_M3 * HEIGHT_GRAVITY_M_S2 / HEIGHT_PRESSURE_PASCAL
    return CONVENTIONAL_AIR_KG_M3 * math.exp(-scale * height_metre)
