"""Limits of scales exactly at the steps, and what is refused."""

import math

import pytest

from steelyard.errors import InputRefused
from steelyard.published import household_limit_kilogram, scale_limit_kilogram


def limit(scale_class: str = "III", interval: float = 0.1, load: float = 20) -> float:
    return scale_limit_kilogram(scale_class, interval_kilogram=interval, load_kilogram=load, in_service=False)


@pytest.mark.parametrize("interval", [0.0001, 0.0002, 0.003, 0.007, 0.02, 0.05, 0.1, 0.7])
def test_the_step_belongs_to_the_lower_band_and_the_next_gram_does_not(interval: float) -> None:
    step = float(f"{500 * interval:.6f}")
    assert limit(interval=interval, load=step) == pytest.approx(0.5 * interval, rel=1e-15)
    assert limit(interval=interval, load=step + 0.000001) == pytest.approx(interval, rel=1e-15)


def test_a_step_where_binary_division_would_miss() -> None:
    assert 1.8 / 0.009 > 200  # so the quotient of the floats lies in the wrong band,
    assert 1.8 > 200 * 0.009  # and so does their product
    assert limit("IIII", interval=0.009, load=1.8) == 0.009


def test_in_service_is_twice_the_limit() -> None:
    used = scale_limit_kilogram("IIII", interval_kilogram=0.1, load_kilogram=20, in_service=True)
    assert used == 2 * limit("IIII")


def test_it_refuses_a_load_beyond_the_class() -> None:
    assert limit(load=1000) == 0.15
    with pytest.raises(InputRefused, match="at most 1000.0 kg, which is 10000 intervals, .* class III\\."):
        limit(load=1000.1)
    with pytest.raises(InputRefused, match="at most 100.0 kg, which is 1000 intervals, .* class IIII\\."):
        limit("IIII", load=100.1)


@pytest.mark.parametrize("scale_class", ["I", "II", "iii", ""])
def test_it_refuses_another_class(scale_class: str) -> None:
    with pytest.raises(InputRefused, match="one of III, IIII"):
        limit(scale_class)


@pytest.mark.parametrize("load", [-0.1, math.nan, math.inf])
def test_it_refuses_a_load_that_is_none(load: float) -> None:
    with pytest.raises(InputRefused, match="zero or more"):
        limit(load=load)
    with pytest.raises(InputRefused, match="zero or more"):
        household_limit_kilogram(load, 0.1)


@pytest.mark.parametrize("step", [0, -0.1, math.nan, math.inf])
def test_it_refuses_a_step_that_is_none(step: float) -> None:
    with pytest.raises(InputRefused, match="above zero"):
        limit(interval=step)
    with pytest.raises(InputRefused, match="above zero"):
        household_limit_kilogram(20, step)
