"""Adapters and insert heads: the lever law and what it is not asked."""

import cmath
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.errors import InputRefused
from steelyard.tools.adapters import (
    check_adapter,
    check_insert,
    setting_with_adapter,
    setting_with_insert,
    torque_with_adapter,
    torque_with_insert,
)

length = st.floats(0.1, 2.0)
adapter = st.floats(0.0, 0.09)
angle = st.floats(0.0, math.pi)


def test_a_right_angle_changes_nothing() -> None:
    assert setting_with_adapter(80.0, tool_length_metre=0.4, adapter_metre=0.1, cosine=0) == 80.0


def test_folded_back_it_takes_its_length_off() -> None:
    to_set = setting_with_adapter(60.0, tool_length_metre=0.4, adapter_metre=0.1, cosine=-1)
    assert to_set == pytest.approx(80.0)


def test_the_reference_insert_changes_nothing() -> None:
    same = {"standoff_metre": 0.0175, "reference_standoff_metre": 0.0175}
    assert setting_with_insert(80.0, tool_length_metre=0.4, **same) == 80.0


def test_a_longer_insert_counts_by_the_difference() -> None:
    to_set = setting_with_insert(
        90.0, tool_length_metre=0.4, standoff_metre=0.07, reference_standoff_metre=0.02
    )
    assert to_set == pytest.approx(80.0)


@given(wanted=st.floats(0.1, 1000), arm=length, reach=adapter, phi=angle)
def test_there_and_back_is_where_it_was(wanted: float, arm: float, reach: float, phi: float) -> None:
    lever = {"tool_length_metre": arm, "adapter_metre": reach, "cosine": math.cos(phi)}
    assert torque_with_adapter(setting_with_adapter(wanted, **lever), **lever) == pytest.approx(wanted)
    inserts = {"tool_length_metre": arm, "standoff_metre": reach, "reference_standoff_metre": 0.02}
    assert torque_with_insert(setting_with_insert(wanted, **inserts), **inserts) == pytest.approx(wanted)


@given(wanted=st.floats(0.1, 1000), arm=length, reach=adapter, phi=angle)
def test_the_same_text_serves_complex_numbers_and_arrays(
    wanted: float, arm: float, reach: float, phi: float
) -> None:
    real = setting_with_adapter(wanted, tool_length_metre=arm, adapter_metre=reach, cosine=math.cos(phi))
    cosine = cmath.cos(complex(phi))
    by_complex = setting_with_adapter(wanted, tool_length_metre=arm, adapter_metre=reach, cosine=cosine)
    many = setting_with_adapter(
        np.full(3, wanted), tool_length_metre=arm, adapter_metre=reach, cosine=np.cos(np.full(3, phi))
    )
    assert by_complex.real == pytest.approx(real)
    assert many == pytest.approx(np.full(3, real))


@pytest.mark.parametrize(
    ("arm", "reach", "cosine", "flexes"),
    [
        (0.4, 0.05, 1.0, True),
        (0.0, 0.05, 1.0, False),
        (-0.4, 0.05, 1.0, False),
        (math.nan, 0.05, 1.0, False),
        (math.inf, 0.05, 1.0, False),
        (0.4, -0.05, 1.0, False),
        (0.4, math.inf, 1.0, False),
        (0.4, math.nan, 1.0, False),
        (0.4, 0.4, -1.0, False),
        (0.4, 0.5, -1.0, False),
    ],
)
def test_it_refuses_what_the_lever_law_does_not_cover(
    arm: float, reach: float, cosine: float, flexes: bool
) -> None:
    with pytest.raises(InputRefused):
        check_adapter(tool_length_metre=arm, adapter_metre=reach, cosine=cosine, flexes=flexes)


def test_it_takes_an_adapter_that_ends_before_the_hand() -> None:
    check_adapter(tool_length_metre=0.4, adapter_metre=0.399, cosine=-1.0)


@pytest.mark.parametrize(
    ("arm", "own", "reference"), [(0.0, 0.02, 0.02), (0.4, -0.1, 0.02), (0.4, 0.02, math.nan)]
)
def test_it_refuses_lengths_no_insert_has(arm: float, own: float, reference: float) -> None:
    with pytest.raises(InputRefused):
        check_insert(tool_length_metre=arm, standoff_metre=own, reference_standoff_metre=reference)


def test_it_refuses_an_insert_so_short_that_no_lever_is_left() -> None:
    with pytest.raises(InputRefused, match="no lever"):
        check_insert(tool_length_metre=0.4, standoff_metre=0.0, reference_standoff_metre=0.4)
