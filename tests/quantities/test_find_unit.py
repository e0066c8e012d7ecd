"""Units are found by every spelling people use, and never by one that may mean another."""

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, find_unit
from steelyard.quantities.spellings import SPELLINGS

TYPED_TORQUES = {
    "N·m": "Nm|N.m|N m|N-m|N*m|N⋅m|N•m|N×m|N\u00a0m|N\u2009m|n·m|n.m|NM"
    "|newton metre|Newton-meters|newtonmeter",
    "cN·m": "cNm|cN.m|cN m|CNM|Ncm|N·cm|centinewton metre",
    "mN·m": "mNm|mN·m|mN-m|Nmm|N·mm|millinewton metres|MILLINEWTON METRE",
    "kN·m": "kNm|knm|KN-M|kilonewton-metre",
    "lbf·ft": "ft-lb|ft lb|ftlb|ftlbs|lb-ft|lbft|lbf ft|lbf·ft|ft·lbf|foot pounds|foot-pound|pound-feet"
    "|ft. lbs.|FT-LB|Ft.Lb|pound-force foot|ft_lb",
    "lbf·in": "in-lb|inlb|in lbs|lbf·in|inch pounds|inch-pounds|lb-in|lbfin|in.-lbs.|IN LB",
    "ozf·in": "oz-in|ozin|in-oz|ozf·in|ounce inches",
    "kgf·m": "kgm|mkg|m·kg|kg·m|kg m|mkp|kpm|kp·m|kgf·m|kgf-m|kilopond metre",
    "kgf·cm": "kgcm|cmkg|kg-cm|kgf·cm|kgf cm|kp·cm",
    "gf·cm": "gcm|g-cm|gf·cm",
}
TYPED_ELSEWHERE = [
    (Dimension.MASS, "lb", "lbs|pounds|lbm|LB|lb."),
    (Dimension.MASS, "kg", "Kg|KG|kilos|㎏"),
    (Dimension.LENGTH, "in", "\"|”|″|''|inch|in."),
    (Dimension.LENGTH, "ft", "'|’|′|feet"),
    (Dimension.LENGTH, "mm", "mm|MM|millimeters"),
    (Dimension.LENGTH, "µm", "\u00b5m|\u03bcm|um|microns"),
    (Dimension.ANGLE, "°", "°|º|˚|deg|degree|degrees"),
    (Dimension.TEMPERATURE, "°C", "°C|° C|C|degC|deg C|℃|celsius"),
    (Dimension.PRESSURE, "mmHg", "mmHg|mm Hg|MMHG"),
    (Dimension.VOLUME, "L", "l|L|litre|liters"),
    (Dimension.VOLUME, "mL", "ml|mL|cc|cm3|cm^3"),
    (Dimension.VOLUME, "US gal", "US gal|US gallons|us-gal"),
    (Dimension.DENSITY, "kg/m³", "kg/m3|kg / m³|kg/m^3"),
    (Dimension.ACCELERATION, "m/s²", "m/s2|m/s^2|m / s²"),
    (Dimension.FORCE, "kgf", "kp|kgf|kilopond"),
    (Dimension.RATIO, "%", "%|percent|per cent|％"),
    (Dimension.DURATION, "s", "s|sec|seconds"),
]


@pytest.mark.parametrize("symbol", TYPED_TORQUES)
def test_it_finds_torque_units_as_people_type_them(symbol: str) -> None:
    for spelling in TYPED_TORQUES[symbol].split("|"):
        assert find_unit(spelling, Dimension.TORQUE, field="target").symbol == symbol, spelling


@pytest.mark.parametrize(("dimension", "symbol", "typed"), TYPED_ELSEWHERE)
def test_it_finds_the_other_units_as_people_type_them(dimension: Dimension, symbol: str, typed: str) -> None:
    for spelling in typed.split("|"):
        assert find_unit(spelling, dimension, field="x").symbol == symbol, spelling


def test_every_unit_is_found_by_its_own_symbol_and_has_spellings() -> None:
    spelled = {(row.dimension, row.symbol) for row in SPELLINGS}
    for dimension, units in UNITS.items():
        for symbol, unit in units.items():
            assert find_unit(symbol, dimension, field="x") is unit
            assert (dimension, symbol) in spelled


@pytest.mark.parametrize(
    "spelling", ["MNm", "MN·m", "mnm", "Mnm", "MNM", "NMM", "N/m", "lb", "m·m", "µN·m", "N·m²"]
)
def test_it_refuses_what_is_no_torque_or_differs_by_a_capital(spelling: str) -> None:
    with pytest.raises(InputRefused) as refused:
        find_unit(spelling, Dimension.TORQUE, field="target")
    assert refused.value.wanted == "want-known-unit"
    assert "N·m, lbf·ft, lbf·in" in refused.value.sentence


@pytest.mark.parametrize("spelling", ["nm", "nM", " nm ", "nm."])
def test_it_asks_whether_nm_is_a_nanometre(spelling: str) -> None:
    with pytest.raises(InputRefused, match="nanometre") as refused:
        find_unit(spelling, Dimension.TORQUE, field="target")
    assert refused.value.wanted == "want-newton-metre"


@pytest.mark.parametrize(
    ("dimension", "spelling"),
    [
        (Dimension.MASS, "Mg"),
        (Dimension.MASS, "ton"),
        (Dimension.LENGTH, "Mm"),
        (Dimension.LENGTH, "m m"),
        (Dimension.PRESSURE, "MBAR"),
        (Dimension.PRESSURE, "MPa"),
        (Dimension.VOLUME, "ML"),
        (Dimension.VOLUME, "gal"),
        (Dimension.DURATION, "Ms"),
        (Dimension.FORCE, "lb"),
        (Dimension.RATIO, "1"),
        (Dimension.MASS, ""),
        (Dimension.MASS, "·kg"),
        (Dimension.MASS, "kg" + " " * 60),
        (Dimension.MASS, "kg" + " " * 80 + "lb"),
    ],
)
def test_it_refuses_what_could_mean_another_unit(dimension: Dimension, spelling: str) -> None:
    with pytest.raises(InputRefused) as refused:
        find_unit(spelling, dimension, field="x")
    assert refused.value.wanted == "want-known-unit"
