"""Densities of load materials."""

import pytest

from steelyard.errors import InputRefused
from steelyard.published import load_materials, material_density
from steelyard.quantities import Shape

CHECK = {  # [kg/m³], ±; a weight supplier's sheet on OIML R 111:2004 (U, k = 2)
    "cast-iron": (7200, 400),
    "steel": (7800, 200),
    "aluminium": (2700, 120),
    "brass": (8400, 100),
    "stainless": (7900, 140),
}
OTHERS = {  # [kg/m³], ±; lead and concrete: a general table, the ± from memory; the rest from memory (low)
    "lead": (11340, 200),
    "concrete": (2400, 200),
    "vinyl-cement": (1900, 400),
    "sand": (2100, 600),
    "water": (998, 3),
}
# [kg/m³]; vinyl-cement and sand from memory (low), water at 20 °C by Tanaka, the rest a general table
INSIDE = {
    "lead": 11340,
    "concrete": 2400,
    "vinyl-cement": 1900,
    "sand": 1600,
    "steel": 7850,
    "water": 998.2067,
}
TANAKA_0_AND_30 = (999.97495, 995.6487972)  # largest, and at 30 °C


@pytest.mark.parametrize(("name", "expected"), [*CHECK.items(), *OTHERS.items()])
def test_value_and_half_width(name: str, expected: tuple[float, float]) -> None:
    line = material_density(name)
    assert (line.value, line.width) == expected


@pytest.mark.parametrize("name", INSIDE)
def test_the_usual_value_lies_inside_the_range(name: str) -> None:
    line = material_density(name)
    assert abs(line.value - INSIDE[name]) <= line.width


def test_water_covers_clean_water_up_to_thirty_degrees() -> None:
    line = material_density("water")
    assert all(abs(line.value - density) <= line.width for density in TANAKA_0_AND_30)


def test_every_material_gives_a_rectangular_line_and_names_its_source() -> None:
    for material in load_materials():
        line = material_density(material.name)
        assert (line.name, line.unit, line.shape) == ("load-density", "kg/m³", Shape.RECTANGULAR)
        assert 0 < line.width < line.value
        assert material.source.document
        assert material.source.seen or material.source.clause == "memory"


def test_it_refuses_a_material_it_does_not_know() -> None:
    with pytest.raises(InputRefused, match="load, material: “feathers”.*one of cast-iron, steel"):
        material_density("feathers")
