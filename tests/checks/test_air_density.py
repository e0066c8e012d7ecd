"""Air density against CIPM-2007 (Picard et al., Metrologia 45 (2008) 149–155).

The values are those of two independent codes (MSL New Zealand, 9 decimals, and our own), equal in every
digit; at 0 % humidity of our own code alone. Carbon dioxide 0.0004.
"""

import pytest

from printed import agrees
from steelyard.surroundings import (
    CONVENTIONAL_AIR_KG_M3,
    CONVENTIONAL_DENSITY_KG_M3,
    air_density_at_height_kg_m3,
    air_density_kg_m3,
)

CIPM_2007 = [  # [°C], [hPa], [%], [kg/m³]
    (20, 1013.25, 50, "1.199313895"),
    (20, 1013.25, 0, "1.204557342"),
    (20, 1013.25, 100, "1.194087244"),
    (15, 1013.25, 50, "1.221631222"),
    (25, 1013.25, 50, "1.177315374"),
    (22, 950, 30, "1.118131187"),
    (20, 750, 50, "0.8862765949"),
    (0, 1013.25, 50, "1.291577911"),
]
MMHG_HECTOPASCAL = 1013.25 / 760
OLDER_FORMULA = [  # [°C], [mmHg], [%], [kg/m³]: NIST SOP 2 (NISTIR 6969), examples 1 and 3, formula of 1978
    (22.3, 748.1, 37, 1.17194),
    (23.4, 612.3, 23, 0.95632),
]


@pytest.mark.parametrize(("celsius", "hectopascal", "humidity", "printed"), CIPM_2007)
def test_cipm_2007(celsius: float, hectopascal: float, humidity: float, printed: str) -> None:
    got = air_density_kg_m3(celsius, pressure_hectopascal=hectopascal, humidity_percent=humidity)
    agrees(got, printed)


@pytest.mark.parametrize(("celsius", "mmhg", "humidity", "published"), OLDER_FORMULA)
def test_the_formula_of_1978_differs_by_less_than_a_ten_thousandth(
    celsius: float, mmhg: float, humidity: float, published: float
) -> None:
    pressure = mmhg * MMHG_HECTOPASCAL
    got = air_density_kg_m3(celsius, pressure_hectopascal=pressure, humidity_percent=humidity)
    assert got == pytest.approx(published, rel=1e-4)


def test_carbon_dioxide_adds_the_mass_of_its_carbon() -> None:
    # M_a = (28.96546 + 12.011·(x − 0.0004))·1e-3 kg/mol, CIPM-2007.
    usual, stale = (
        air_density_kg_m3(20, pressure_hectopascal=1013.25, humidity_percent=0, carbon_dioxide_ratio=ratio)
        for ratio in (0.0004, 0.0014)
    )
    assert stale / usual - 1 == pytest.approx(0.012011 / 28.96546, rel=1e-9)


def test_the_conventional_mass_is_defined_by_air_and_density() -> None:
    # OIML D 28, definition (from memory).
    assert (CONVENTIONAL_AIR_KG_M3, CONVENTIONAL_DENSITY_KG_M3) == (1.2, 8000)


def test_height_alone_gives_the_conventional_air_at_sea_level() -> None:
    # R package masscor: 1.2·exp(−1.2·9.8·h/101325); about 0.9 at 2500 m.
    assert air_density_at_height_kg_m3(0) == 1.2
    agrees(air_density_at_height_kg_m3(2500), "0.9")
