"""Water density against Tanaka et al., Metrologia 38 (2001) 301–309.

The values are those of the library chempy 0.10.2 and our own code, equal in six decimals; the correction for
dissolved air is from memory.
"""

import pytest

from printed import agrees
from steelyard.surroundings import water_density_kg_m3

TANAKA = [  # [°C], air-free and air-saturated [kg/m³], IAPWS-95 by iapws 1.5.5 and CoolProp 8.0.0
    (5, "999.9667829", "999.9627009", 999.966634),
    (10, "999.7027016", "999.6991496", 999.702470),
    (15, "999.1025717", "999.0995497", 999.102621),
    (20, "998.2067456", "998.2042536", 998.207150),
    (25, "997.0470217", "997.0450597", 997.047637),
    (30, "995.6487972", "995.6473652", 995.649454),
]


@pytest.mark.parametrize(("celsius", "clean", "saturated", "iapws"), TANAKA)
def test_tanaka(celsius: float, clean: str, saturated: str, iapws: float) -> None:
    agrees(water_density_kg_m3(celsius, air_saturated=False), clean)
    agrees(water_density_kg_m3(celsius, air_saturated=True), saturated)  # correction from memory


@pytest.mark.parametrize(("celsius", "clean", "saturated", "iapws"), TANAKA)
def test_another_equation_of_state_agrees_within_a_millionth(
    celsius: float, clean: str, saturated: str, iapws: float
) -> None:
    # Tanaka against IAPWS-95: at most 0.7 ppm from 5 °C to 30 °C.
    assert water_density_kg_m3(celsius, air_saturated=False) == pytest.approx(iapws, rel=0.75e-6)


def test_the_largest_density_is_at_four_degrees() -> None:
    agrees(water_density_kg_m3(3.983035, air_saturated=False), "999.97495")
