"""A torque that is off by the ratio of two units raises the question which was meant."""

import math

import pytest

from steelyard.quantities import wrong_unit_suspicion


@pytest.mark.parametrize(
    ("shown", "target", "really", "taken"),
    [
        (71.2, 100.0, "lbf·ft", "N·m"),
        (-71.2, -100.0, "lbf·ft", "N·m"),
        (139.0, 100.0, "N·m", "lbf·ft"),
        (1180.0, 100.0, "lbf·in", "lbf·ft"),
        (885.0, 100.0, "lbf·in", "N·m"),
        (10.19, 100.0, "kgf·m", "N·m"),
        (981.0, 100.0, "N·m", "kgf·m"),
        (9.81, 100.0, "N·m", "kgf·cm"),
        (1000.0, 100.0, "dN·m", "N·m"),
        (1020.0, 100.0, "kgf·cm", "N·m"),
        (9900.0, 100.0, "cN·m", "N·m"),
    ],
)
def test_it_names_the_pair_whose_ratio_is_nearest(
    shown: float, target: float, really: str, taken: str
) -> None:
    found = wrong_unit_suspicion(shown, target_newton_metre=target)
    assert found is not None
    assert (found[0].symbol, found[1].symbol) == (really, taken)


@pytest.mark.parametrize("shown", [100.0, 60.0, 200.0, 0.0, -73.8, math.inf, math.nan])
def test_it_keeps_silent_where_no_ratio_is_near(shown: float) -> None:
    assert wrong_unit_suspicion(shown, target_newton_metre=100.0) is None


@pytest.mark.parametrize("percent", range(85, 116))
def test_a_tool_that_is_merely_bad_raises_no_question(percent: int) -> None:
    assert wrong_unit_suspicion(float(percent), target_newton_metre=100.0) is None


def test_a_target_of_zero_raises_no_question() -> None:
    assert wrong_unit_suspicion(5.0, target_newton_metre=0.0) is None
