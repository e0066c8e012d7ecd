"""What air and water densities refuse, and how they lean."""

import math

import pytest

from steelyard.errors import InputRefused
from steelyard.surroundings import (
    CONVENTIONAL_AIR_KG_M3,
    air_density_at_height_kg_m3,
    air_density_kg_m3,
    water_density_kg_m3,
)

ROOM = {"celsius": 20.0, "pressure_hectopascal": 1013.25, "humidity_percent": 50.0}


def air(**changed: float) -> float:
    given = {**ROOM, **changed}
    return air_density_kg_m3(given.pop("celsius"), **given)


@pytest.mark.parametrize(
    ("name", "outside"),
    [
        ("celsius", (-0.1, 45.1)),
        ("pressure_hectopascal", (599.9, 1100.1)),
        ("humidity_percent", (-0.1, 100.1)),
        ("carbon_dioxide_ratio", (-0.0001, 0.0101)),
    ],
)
def test_air_refuses_what_the_formula_is_not_made_for(name: str, outside: tuple[float, ...]) -> None:
    for given in (*outside, math.nan, math.inf):
        with pytest.raises(InputRefused, match="a number from"):
            air(**{name: given})


def test_air_accepts_the_ends_of_its_range() -> None:
    assert air(celsius=0, pressure_hectopascal=1100, humidity_percent=0) > CONVENTIONAL_AIR_KG_M3
    assert air(celsius=45, pressure_hectopascal=600, humidity_percent=100) < CONVENTIONAL_AIR_KG_M3


def test_warm_thin_and_moist_air_is_lighter_and_carbon_dioxide_heavier() -> None:
    assert air(celsius=21) < air()
    assert air(pressure_hectopascal=1000) < air()
    assert air(humidity_percent=60) < air()
    assert air(carbon_dioxide_ratio=0.001) > air()


def test_air_by_height_is_near_the_air_of_that_pressure() -> None:
    # 750 hPa is the standard atmosphere's pressure near 2466 m.
    by_pressure = air(pressure_hectopascal=750)
    assert air_density_at_height_kg_m3(2466) == pytest.approx(by_pressure, rel=0.03)


@pytest.mark.parametrize("height", [-501, 9001, math.nan])
def test_air_by_height_refuses_a_height_where_nobody_works(height: float) -> None:
    with pytest.raises(InputRefused, match="height"):
        air_density_at_height_kg_m3(height)


@pytest.mark.parametrize("celsius", [-0.1, 40.1, math.nan, math.inf])
def test_water_refuses_ice_and_hot_water(celsius: float) -> None:
    with pytest.raises(InputRefused, match="water temperature: .* from 0 to 40 °C"):
        water_density_kg_m3(celsius, air_saturated=True)


def test_dissolved_air_makes_water_lighter_by_a_few_grams_in_a_cubic_metre() -> None:
    for celsius in (0, 20, 40):
        less = water_density_kg_m3(celsius, air_saturated=False) - water_density_kg_m3(
            celsius, air_saturated=True
        )
        assert 0 < less < 0.005
