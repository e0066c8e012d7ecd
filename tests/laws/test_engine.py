"""Laws of the uncertainty engine: scale, order, growth, units, seeds; rigs' models in three arithmetics."""

import cmath
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rig_models import REFERENCES, torque_model
from steelyard.evaluation import array_maths, coverage_factor, first_order, monte_carlo, second_order
from steelyard.evaluation.monte_carlo import BLOCK, sample
from steelyard.quantities import Line, Shape

quick = settings(derandomize=True, max_examples=40, deadline=None)
few = settings(derandomize=True, max_examples=8, deadline=None)

lines = st.lists(
    st.builds(
        Line,
        name=st.just("line"),
        value=st.floats(0.5, 3.0),
        width=st.floats(0.001, 0.1),
        shape=st.sampled_from(Shape),
        places=st.just((-1.2, -0.8, 0.0, 0.8, 1.2)),
        dof=st.sampled_from([math.inf, 3.0, 4.0, 12.5]),
    ),
    min_size=4,
    max_size=4,
)
factors = st.floats(0.01, 100.0)
indices = st.integers(0, 3)
DRAWS = 20_000


def lever(maths: Any, a: Any, b: Any, c: Any, d: Any) -> Any:
    return a * (b * maths.cos(c) + d * maths.sin(c)) + a / b


def even(_maths: Any, *v: Any) -> Any:
    """A model that does not care about the order of its inputs."""
    return 1 / sum(1 / x for x in v)


@quick
@given(lines, factors)
def test_u_grows_in_step_with_all_widths(given_lines: list[Line], factor: float) -> None:
    before = first_order(lever, given_lines)
    after = first_order(lever, [replace(line, width=factor * line.width) for line in given_lines])
    assert after.u == pytest.approx(factor * before.u, rel=1e-12)
    assert after.dof == pytest.approx(before.dof, rel=1e-12)
    assert after.value == before.value


@quick
@given(lines, st.permutations(range(4)))
def test_the_order_of_the_inputs_does_not_matter(given_lines: list[Line], order: list[int]) -> None:
    before = first_order(even, given_lines)
    after = first_order(even, [given_lines[i] for i in order])
    assert after.u == pytest.approx(before.u, rel=1e-13)
    assert after.dof == pytest.approx(before.dof, rel=1e-12)
    assert after.sensitivities == pytest.approx([before.sensitivities[i] for i in order], rel=1e-13)
    curved = [second_order(even, first, cross=True) for first in (before, after)]
    assert curved[1].u == pytest.approx(curved[0].u, rel=1e-9)
    assert curved[1].shift == pytest.approx(curved[0].shift, rel=1e-7, abs=1e-9 * before.u)


@few
@given(lines, st.permutations(range(4)))
def test_the_order_of_the_inputs_does_not_matter_to_draws(given_lines: list[Line], order: list[int]) -> None:
    before = monte_carlo(even, given_lines, seed=5, draws=DRAWS)
    after = monte_carlo(even, [given_lines[i] for i in order], seed=6, draws=DRAWS)
    assert abs(after.low - before.low) < 3 * before.tolerance
    assert abs(after.high - before.high) < 3 * before.tolerance


@quick
@given(lines, indices, st.floats(1.0, 10.0))
def test_a_wider_input_never_narrows_the_linear_u(given_lines: list[Line], i: int, factor: float) -> None:
    wider = list(given_lines)
    wider[i] = replace(wider[i], width=factor * wider[i].width)
    before, after = first_order(lever, given_lines).u, first_order(lever, wider).u
    assert after >= before * (1 - 1e-15)


@few
@given(lines, indices, st.floats(1.5, 5.0))
def test_a_wider_input_never_narrows_the_drawn_interval(
    given_lines: list[Line], i: int, factor: float
) -> None:
    wider = list(given_lines)
    wider[i] = replace(wider[i], width=factor * wider[i].width)
    before, after = (monte_carlo(even, each, seed=7, draws=DRAWS) for each in (given_lines, wider))
    assert after.high - after.low > before.high - before.low - 2 * before.tolerance


@quick
@given(lines, factors)
def test_another_unit_of_the_result_scales_everything_but_the_degrees_of_freedom(
    given_lines: list[Line], factor: float
) -> None:
    def scaled(maths: Any, *v: Any) -> Any:
        return factor * lever(maths, *v)

    before, after = first_order(lever, given_lines), first_order(scaled, given_lines)
    assert after.value == pytest.approx(factor * before.value, rel=1e-12)
    assert after.u == pytest.approx(factor * before.u, rel=1e-12)
    assert after.contributions == pytest.approx([factor * c for c in before.contributions], rel=1e-12)
    assert after.dof == pytest.approx(before.dof, rel=1e-12)
    assert after.expanded() == pytest.approx(factor * before.expanded(), rel=1e-12)
    curved, scaled_curve = second_order(lever, before), second_order(scaled, after)
    assert scaled_curve.shift == pytest.approx(factor * curved.shift, rel=1e-6, abs=1e-9 * after.u)
    assert scaled_curve.u == pytest.approx(factor * curved.u, rel=1e-9)


@few
@given(lines, factors)
def test_another_unit_of_the_result_scales_the_drawn_interval(given_lines: list[Line], factor: float) -> None:
    def scaled(maths: Any, *v: Any) -> Any:
        return factor * lever(maths, *v)

    before = monte_carlo(lever, given_lines, seed=8, draws=DRAWS)
    after = monte_carlo(scaled, given_lines, seed=8, draws=DRAWS)
    for got, want in (
        (after.mean, before.mean),
        (after.u, before.u),
        (after.low, before.low),
        (after.high, before.high),
        (after.tolerance, before.tolerance),
    ):
        assert got == pytest.approx(factor * want, rel=1e-9)


@quick
@given(st.floats(1.0, 500.0), st.floats(1.0, 500.0), st.floats(0.1, 0.999))
def test_fewer_degrees_of_freedom_never_lower_the_factor(
    one: float, other: float, probability: float
) -> None:
    fewer, more = sorted((one, other))
    factor = coverage_factor(fewer, probability)
    assert factor >= coverage_factor(more, probability) * (1 - 1e-12)
    assert factor >= coverage_factor(math.inf, probability) * (1 - 1e-12)


@pytest.mark.parametrize("name", REFERENCES)
def test_a_rigs_model_is_one_formula_in_three_arithmetics(name: str) -> None:
    model, model_lines = torque_model(name)
    generator = np.random.default_rng(3)
    places = [line.value + line.width * generator.uniform(-1, 1, 50) for line in model_lines]
    by_numpy, by_series = model(np, *places), model(array_maths, *places)
    by_float = [model(math, *(float(place[i]) for place in places)) for i in range(50)]
    by_complex = [model(cmath, *(complex(place[i]) for place in places)) for i in range(50)]
    assert by_numpy == pytest.approx(by_float, rel=1e-14)
    assert by_series == pytest.approx(by_float, rel=1e-14)
    assert [z.real for z in by_complex] == pytest.approx(by_float, rel=1e-14)
    assert all(z.imag == 0.0 for z in by_complex)
    assert len(set(by_float)) == 50


@pytest.mark.parametrize("name", REFERENCES)
def test_sensitivities_of_a_rig_are_its_differences(name: str) -> None:
    model, model_lines = torque_model(name)
    values = [line.value for line in model_lines]
    for i, (line, slope) in enumerate(
        zip(model_lines, first_order(model, model_lines).sensitivities, strict=True)
    ):
        h = 1e-3 * line.width
        if h == 0.0:
            assert slope == 0.0
            continue
        above, below = (model(math, *values[:i], values[i] + s, *values[i + 1 :]) for s in (h, -h))
        noise = 1e-14 * abs(above) / h
        assert slope == pytest.approx((above - below) / (2 * h), rel=1e-6, abs=noise)


@pytest.mark.parametrize("name", REFERENCES)
def test_a_rigs_torque_is_in_step_with_the_linear_law(name: str) -> None:
    """Draws, and the linear law with curvature, tell the same mean and u of the torque."""
    model, model_lines = torque_model(name)
    exact = [replace(line, dof=math.inf) for line in model_lines]
    first = first_order(model, exact)
    curved = second_order(model, first, cross=True)
    drawn = monte_carlo(model, exact, seed=9, draws=200_000)
    assert drawn.mean == pytest.approx(first.value + curved.shift, abs=5 * drawn.u / math.sqrt(200_000))
    assert drawn.u == pytest.approx(curved.u, rel=0.01)


@few
@given(lines, st.integers(0, 2**32))
def test_the_same_seed_gives_the_same_digits(given_lines: list[Line], seed: int) -> None:
    once = monte_carlo(lever, given_lines, seed=seed, draws=DRAWS)
    assert once == monte_carlo(lever, given_lines, seed=seed, draws=DRAWS)
    assert once != monte_carlo(lever, given_lines, seed=seed + 1, draws=DRAWS)


@few
@given(lines)
def test_a_block_does_not_depend_on_how_many_follow(given_lines: list[Line]) -> None:
    short = sample(lever, given_lines, seed=4, draws=20_000)
    long = sample(lever, given_lines, seed=4, draws=40_000)
    assert np.array_equal(short[:BLOCK], long[:BLOCK])
    assert not np.array_equal(long[:7_000], long[BLOCK : BLOCK + 7_000])
