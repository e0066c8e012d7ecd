"""What the limits of weights refuse."""

import math

import pytest

from steelyard.errors import InputRefused
from steelyard.published import (
    CASTING_SOURCE,
    WEIGHT_SOURCE,
    casting_limit_kilogram,
    disc_limit_kilogram,
    weight_classes,
    weight_limit_kilogram,
)


@pytest.mark.parametrize("weight_class", ["F1", "m1", "", "M4"])
def test_it_refuses_a_class_it_does_not_know(weight_class: str) -> None:
    with pytest.raises(InputRefused, match="one of M1, M1-2, M2, M2-3, M3"):
        weight_limit_kilogram(weight_class, nominal_kilogram=1)


@pytest.mark.parametrize("nominal", [0, -1, 3, 0.0005, 1.001, 100, 1e308, math.nan, math.inf])
def test_it_refuses_a_nominal_value_the_class_does_not_have(nominal: float) -> None:
    with pytest.raises(InputRefused, match="weight, nominal value"):
        weight_limit_kilogram("M1", nominal_kilogram=nominal)


@pytest.mark.parametrize("weight_class", ["M1-2", "M2-3"])
def test_the_half_classes_begin_at_fifty_kilograms(weight_class: str) -> None:
    with pytest.raises(InputRefused, match="one of 50 kg"):
        weight_limit_kilogram(weight_class, nominal_kilogram=20)


def test_a_nominal_value_that_was_computed_is_recognised() -> None:
    assert weight_limit_kilogram("M1", nominal_kilogram=0.1 + 0.2 - 0.1) == 10e-6


def test_a_coarser_class_allows_more() -> None:
    limits = [weight_limit_kilogram(weight_class, nominal_kilogram=50) for weight_class in weight_classes()]
    assert limits == sorted(limits)


def test_a_casting_is_taken_within_five_percent() -> None:
    assert casting_limit_kilogram(20) == 1.0


@pytest.mark.parametrize("nominal", [0, -5, math.nan, math.inf])
def test_discs_and_castings_refuse_no_mass(nominal: float) -> None:
    for limit in (disc_limit_kilogram, casting_limit_kilogram):
        with pytest.raises(InputRefused, match="above zero"):
            limit(nominal)


def test_our_own_choice_is_not_passed_off_as_read() -> None:
    assert WEIGHT_SOURCE.seen
    assert not CASTING_SOURCE.seen
