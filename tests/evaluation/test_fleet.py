"""Many points at once say what each says alone."""

import numpy as np
import pytest

from rig_models import REFERENCES, torque_model
from steelyard.evaluation import first_order, first_order_many
from steelyard.quantities import Line, Shape

POINTS = 20


@pytest.mark.parametrize("name", REFERENCES)
def test_each_point_is_as_if_it_stood_alone(name: str) -> None:
    model, lines = torque_model(name)
    chance = np.random.default_rng(1)
    values = np.array([line.value for line in lines]) * chance.uniform(0.9, 1.1, (POINTS, len(lines)))
    widths_u = np.array([line.u for line in lines]) * chance.uniform(0.0, 2.0, (POINTS, len(lines)))
    many = first_order_many(model, values, widths_u)
    for i in range(POINTS):
        alone = first_order(
            model,
            [
                Line(line.name, float(x), float(u), Shape.NORMAL)
                for line, x, u in zip(lines, values[i], widths_u[i], strict=True)
            ],
        )
        assert many.value[i] == pytest.approx(alone.value, rel=1e-13)
        assert many.u[i] == pytest.approx(alone.u, rel=1e-12)
        assert many.sensitivities[i] == pytest.approx(alone.sensitivities, rel=1e-11, abs=1e-13)


def test_an_input_without_width_has_no_sensitivity() -> None:
    many = first_order_many(lambda _maths, a, b: a * b, np.array([[2.0, 3.0]]), np.array([[0.1, 0.0]]))
    assert many.sensitivities.tolist() == [[3.0, 0.0]]
    assert many.u.tolist() == pytest.approx([0.3])


def test_the_values_given_are_left_as_they_are() -> None:
    values = np.array([[2.0, 3.0], [4.0, 5.0]])
    first_order_many(lambda _maths, a, b: a / b, values, np.full((2, 2), 0.1))
    assert values.tolist() == [[2.0, 3.0], [4.0, 5.0]]


def test_shapes_that_differ_are_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="same shape"):
        first_order_many(lambda _maths, a: a, np.ones((3, 1)), np.ones((2, 1)))
