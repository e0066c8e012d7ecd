"""The series for small angles against NumPy, and the ways round it."""

import math

import numpy as np
import pytest

from steelyard.evaluation import array_maths


@pytest.mark.parametrize("width", [1e-9, 0.035, 0.2, 0.3, 0.31, 0.9, 3.0, 1e4])
def test_an_array_has_the_cos_and_sin_of_numpy(width: float) -> None:
    angle = np.linspace(-width, width, 20_001)
    assert np.abs(array_maths.cos(angle) - np.cos(angle)).max() <= 2.3e-16
    assert np.allclose(array_maths.sin(angle), np.sin(angle), rtol=4.5e-16, atol=0.0)


def test_one_large_angle_among_small_ones_takes_the_long_way() -> None:
    for far in (2.0, -2.0):
        angle = np.array([0.1, far, -0.1])
        assert np.array_equal(array_maths.cos(angle), np.cos(angle))
        assert np.array_equal(array_maths.sin(angle), np.sin(angle))


def test_what_is_not_a_number_stays_so() -> None:
    assert np.isnan(array_maths.cos(np.array([0.1, math.nan]))).tolist() == [False, True]


def test_one_number_is_left_to_the_standard_library() -> None:
    assert array_maths.cos(0.2) == math.cos(0.2)
    assert array_maths.sin(0.2) == math.sin(0.2)
    assert array_maths.cos(0) == 1.0


def test_the_angles_given_are_left_as_they_are() -> None:
    angle = np.array([0.1, -0.2])
    array_maths.cos(angle)
    array_maths.sin(angle)
    assert angle.tolist() == [0.1, -0.2]
