"""Every unit that is written is read back by somebody else's reader, and no other one is written."""

import warnings
from decimal import Decimal
from fractions import Fraction

import pytest
from dsi_unit import DsiUnit
from lxml import etree

from paper.dcc.exports import NAMES, export
from steelyard.paper.dcc import dcc_of
from steelyard.paper.dcc.units import (
    OTHER_TORQUES,
    READ,
    SI_TORQUES,
    WRITTEN,
    defined,
    refuse_other_units,
    units_in,
)
from steelyard.quantities import UNITS, Dimension

NIST_SP_811 = {"lbf.ft": "1.355818", "lbf.in": "0.1129848", "ozf.in": "0.007061552", "kgf.m": "9.80665"}
"""N·m in one of each. Source: NIST SP 811 (2008), appendix B.8, as printed; ozf.in likewise."""


def by_others(spelling: str) -> DsiUnit:
    """As the outside reader reads it."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a unit behind the bar is read with a warning
        return DsiUnit(spelling)


@pytest.mark.parametrize("spelling", sorted(WRITTEN))
def test_a_spelling_that_is_written_is_one(spelling: str) -> None:
    unit = by_others(spelling)
    assert unit.valid
    assert bool(unit.non_dsi_unit) == spelling.startswith("|")


@pytest.mark.parametrize(("symbol", "spelling"), SI_TORQUES.items())
def test_a_torque_of_the_si_is_the_same_to_others(symbol: str, spelling: str) -> None:
    factor = by_others(r"\newton\metre").get_scale_factor(by_others(spelling))
    assert Fraction(Decimal(repr(float(factor)))) == UNITS[Dimension.TORQUE][symbol].factor


@pytest.mark.parametrize("spelling", [s for s in READ if not s.startswith("|")])
def test_a_torque_that_is_read_is_the_same_to_others(spelling: str) -> None:
    factor = by_others(r"\newton\metre").get_scale_factor(by_others(spelling))
    assert float(factor) == pytest.approx(float(UNITS[Dimension.TORQUE][READ[spelling]].factor), rel=1e-15)


@pytest.mark.parametrize(("unit", "printed"), NIST_SP_811.items())
def test_what_a_unit_outside_the_si_is_agrees_with_a_printed_table(unit: str, printed: str) -> None:
    beginning, number, metres = defined(f"|{unit}").rsplit(" ", 2)
    assert (beginning, metres) == (f"1 {unit} =", "N.m")
    assert round(Decimal(number), -int(Decimal(printed).as_tuple().exponent)) == Decimal(printed)


def test_every_torque_has_a_spelling() -> None:
    assert set(SI_TORQUES) | set(OTHER_TORQUES) == set(UNITS[Dimension.TORQUE])


@pytest.mark.parametrize("name", NAMES)
def test_every_unit_of_a_record_is_read_by_others(name: str) -> None:
    root = etree.fromstring(dcc_of(export(name), workshop=""))
    assert [unit for unit in units_in(root) if not by_others(unit).valid] == []


@pytest.mark.parametrize("unit", ["Nm", r"\newton \metre", "", r"\percent\percent", "N·m"])
def test_another_spelling_is_refused_since_the_schema_takes_any(unit: str) -> None:
    root = etree.fromstring(dcc_of(export("one point"), workshop=""))
    refuse_other_units(units_in(root))
    next(root.iter("{https://ptb.de/si}unit")).text = unit
    with pytest.raises(ValueError, match="no D-SI spelling"):
        refuse_other_units(units_in(root))
