"""What the place does to a measurement: gravity, the air and the water, computed from published formulas.

In: latitude, height, temperature, pressure, humidity, as floats whose names end in their unit.
Out: floats, or a `Line` where the ± belongs to the formula itself.
Refuses: what lies outside the range a formula was made for, and what is no number.
"""

from steelyard.surroundings.air import (
    CONVENTIONAL_AIR_KG_M3,
    CONVENTIONAL_DENSITY_KG_M3,
    air_density_at_height_kg_m3,
    air_density_kg_m3,
)
from steelyard.surroundings.gravity import (
    GRAVITY_STANDARD_U_RATIO,
    STANDARD_GRAVITY_M_S2,
    local_gravity,
    normal_gravity_m_s2,
    plausible_gravity,
)
from steelyard.surroundings.water import water_density_kg_m3

__all__ = [
    "CONVENTIONAL_AIR_KG_M3",
    "CONVENTIONAL_DENSITY_KG_M3",
    "GRAVITY_STANDARD_U_RATIO",
    "STANDARD_GRAVITY_M_S2",
    "air_density_at_height_kg_m3",
    "air_density_kg_m3",
    "local_gravity",
    "normal_gravity_m_s2",
    "plausible_gravity",
    "water_density_kg_m3",
]
