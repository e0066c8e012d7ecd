"""Limits of weights and scales against the tables of OIML R 111 and R 76."""

import pytest

from printed import agrees
from steelyard.published import (
    disc_limit_kilogram,
    household_limit_kilogram,
    scale_limit_kilogram,
    weight_limit_kilogram,
)

# OIML R 111-1:2004, table 1, as quoted in a weight supplier's sheet: nominal [kg]; M1, M2, M3 [mg]
R_111_KILOGRAMS = [
    (1, "50", "160", "500"),
    (2, "100", "300", "1000"),
    (5, "250", "800", "2500"),
    (10, "500", "1600", "5000"),
    (20, "1000", "3000", "10000"),
    (50, "2500", "8000", "25000"),
]
# The same table as quoted in a second supplier's sheet, and from memory: nominal [g]; M1, M2, M3 [mg]
R_111_GRAMS = [
    (1, "1.0", "3.0", "10"),
    (2, "1.2", "4.0", "12"),
    (5, "1.6", "5.0", "16"),
    (10, "2.0", "6.0", "20"),
    (20, "2.5", "8.0", "25"),
    (50, "3.0", "10", "30"),
    (100, "5.0", "16", "50"),
    (200, "10", "30", "100"),
    (500, "25", "80", "250"),
]
R_111 = [*R_111_KILOGRAMS, *((gram / 1000, *row) for gram, *row in R_111_GRAMS)]

# French decree 91-330, annex I, table 3 and art. 4.2 (as OIML R 76): class; load, verified, in service [e]
R_76 = [
    ("III", 0, "0.5", "1"),
    ("III", 500, "0.5", "1"),
    ("III", 501, "1.0", "2"),
    ("III", 2000, "1.0", "2"),
    ("III", 2001, "1.5", "3"),
    ("III", 10000, "1.5", "3"),
    ("IIII", 0, "0.5", "1"),
    ("IIII", 50, "0.5", "1"),
    ("IIII", 51, "1.0", "2"),
    ("IIII", 200, "1.0", "2"),
    ("IIII", 201, "1.5", "3"),
    ("IIII", 1000, "1.5", "3"),
]
# Worked from that table: class, e [kg], load [kg], verified [kg], in service [kg]
WORKED = [
    ("III", 0.1, 20, "0.05", "0.10"),
    ("III", 0.1, 50, "0.05", "0.10"),
    ("III", 0.1, 100, "0.10", "0.20"),
    ("IIII", 0.1, 10, "0.1", "0.2"),
    ("IIII", 0.1, 25, "0.15", "0.30"),
    ("III", 0.005, 10, "0.005", "0.010"),
]


@pytest.mark.parametrize(("nominal", "m1", "m2", "m3"), R_111)
def test_r_111_table_1(nominal: float, m1: str, m2: str, m3: str) -> None:
    for weight_class, milligram in (("M1", m1), ("M2", m2), ("M3", m3)):
        assert weight_limit_kilogram(weight_class, nominal_kilogram=nominal) == float(f"{milligram}e-6")


def test_r_111_half_classes_at_fifty_kilograms() -> None:
    assert weight_limit_kilogram("M1-2", nominal_kilogram=50) == 0.005
    assert weight_limit_kilogram("M2-3", nominal_kilogram=50) == 0.016


@pytest.mark.parametrize("interval", [0.001, 0.005, 0.1, 0.3])
@pytest.mark.parametrize(("scale_class", "steps", "verified", "used"), R_76)
def test_r_76_bands_in_intervals(
    scale_class: str, steps: int, verified: str, used: str, interval: float
) -> None:
    load = float(f"{steps * interval:.6f}")
    for in_service, share in ((False, verified), (True, used)):
        got = scale_limit_kilogram(
            scale_class, interval_kilogram=interval, load_kilogram=load, in_service=in_service
        )
        assert got == pytest.approx(float(share) * interval, rel=1e-15)


@pytest.mark.parametrize(("scale_class", "interval", "load", "verified", "used"), WORKED)
def test_r_76_worked(scale_class: str, interval: float, load: float, verified: str, used: str) -> None:
    for in_service, kilogram in ((False, verified), (True, used)):
        got = scale_limit_kilogram(
            scale_class, interval_kilogram=interval, load_kilogram=load, in_service=in_service
        )
        assert got == float(kilogram)


def test_powerlifting_discs_are_within_a_quarter_percent_or_ten_grams() -> None:
    # Technical rules of powerlifting, read in translation.
    agrees(disc_limit_kilogram(20), "0.050")
    agrees(disc_limit_kilogram(1.25), "0.010")
    agrees(disc_limit_kilogram(4), "0.010")


def test_household_scales_promise_a_thousandth_and_one_step() -> None:
    # A review site of scales: ±(0.1 % + 1 d), d = 100 g.
    assert household_limit_kilogram(20, 0.1) == 0.12
    assert household_limit_kilogram(0, 0.1) == 0.1
