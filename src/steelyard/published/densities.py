"""The densities of what people hang on a handle, for the buoyancy of the air."""

from dataclasses import dataclass

from steelyard.errors import InputRefused
from steelyard.published.source import Source
from steelyard.quantities import Line, Shape


@dataclass(frozen=True, slots=True)
class Material:
    """A material with the range its density lies in.

    density_kg_m3, within_kg_m3: middle and half-width. [kg/m³]
    """

    name: str
    density_kg_m3: float
    within_kg_m3: float
    source: Source


# The sheet gives U with k = 2; it is taken as the half-width of a rectangle, which is wider.
SHEET = Source("OIML R 111-1, densities of alloys", "2004", "quoted in a weight supplier's sheet", seen=True)
LEAD = Source("general table of densities", "", "value read, the ± from memory", seen=True)
CONCRETE = Source("general table of densities", "", "value read, the ± from memory", seen=True)
FRESH_WATER = Source("Tanaka et al., Metrologia 38, 301–309", "2001", "clean, 0 °C to 30 °C", seen=True)

MATERIALS = (
    Material("cast-iron", 7200, 400, SHEET),
    Material("steel", 7800, 200, SHEET),
    Material("stainless", 7900, 140, SHEET),
    Material("brass", 8400, 100, SHEET),
    Material("lead", 11340, 200, LEAD),
    Material("concrete", 2400, 200, CONCRETE),
    Material("vinyl-cement", 1900, 400, Source.memory("cement in a vinyl shell, varies by make")),
    # From the packed sand of a tight bag (1500) to the bare grain (2700) where air passes through the bag.
    Material("sand", 2100, 600, Source.memory("dry quartz sand, packed to grain")),
    Material("water", 998, 3, FRESH_WATER),
    Material("aluminium", 2700, 120, SHEET),
)
BY_NAME = {material.name: material for material in MATERIALS}


def load_materials() -> tuple[Material, ...]:
    """All materials known here, as a person chooses among them."""
    return MATERIALS


def material_density(name: str) -> Line:
    """Density of a load material as a line of a budget.

    name: one of `load_materials`, such as `cast-iron`.
    Returns the line `load-density` [kg/m³], rectangular.
    Raises InputRefused for another name.
    Source: beside each entry.
    Left out: hollows and handles of another material; a mixed load has its own density.
    """
    if name not in BY_NAME:
        raise InputRefused("load, material", name, "want-one-of", names=", ".join(BY_NAME))
    material = BY_NAME[name]
    density, within = material.density_kg_m3, material.within_kg_m3
    return Line("load-density", density, within, Shape.RECTANGULAR, unit="kg/m³")
