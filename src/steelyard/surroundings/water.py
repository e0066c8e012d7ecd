"""The density of clean water, for checking a scale with a known volume."""

from steelyard.surroundings.span import Span

TEMPERATURE = Span("water temperature", 0, 40, "°C")


def water_density_kg_m3(celsius: float, *, air_saturated: bool) -> float:
    """Density of clean water at ordinary pressure.

    celsius: of the water. [°C] 0 … 40
    air_saturated: True for water that has stood open (tap, canister), False for boiled or degassed water.
    Returns the density. [kg/m³]
    Raises InputRefused outside these limits.
    Source: Tanaka et al., Metrologia 38 (2001) 301–309; the correction for dissolved air from memory
        (high confidence), at most 0.005 kg/m³; it is meant for 0 °C to 25 °C and used to 40 °C here.
    Left out: dissolved salts (hard tap water: some 0.3 kg/m³ more; sea water: 25 kg/m³ more), pressure.
    """
    TEMPERATURE.check(celsius)
    shape = (celsius - 3.983035) ** 2 * (celsius + 301.797) / (522528.9 * (celsius + 69.34881))
    clean = 999.974950 * (1 - shape)
    return clean - 4.612e-3 + 0.106e-3 * celsius if air_saturated else clean
