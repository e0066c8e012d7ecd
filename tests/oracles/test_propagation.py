"""Uncertainty against libraries by other hands: GTC, uncertainties, soerp, SciPy."""

import math
import random
from collections.abc import Callable, Sequence
from types import SimpleNamespace
from typing import Any

import GTC
import pytest
import soerp
import uncertainties
from scipy import stats
from soerp import umath as soerp_maths
from uncertainties import umath

from rig_models import BEAM, MASS, OWN, PIVOT, torque_model
from steelyard.evaluation import coverage_factor, first_order, second_order
from steelyard.quantities import Line, Shape

GTC_MATHS = SimpleNamespace(cos=GTC.cos, sin=GTC.sin)

FAMILY: dict[str, Callable[..., Any]] = {
    "weighted sum": lambda _m, a, b, c, d: 3 * a - 2 * b + c / 7 + d,
    "product": lambda _m, a, b, c, d: a * b * c * d,
    "quotient": lambda _m, a, b, c, d: (a + b) / (c * d + 5),
    "lever": lambda m, a, b, c, d: a * (b * m.cos(c) - d * m.sin(c)),
    "deviation": lambda _m, a, b, c, d: (1 + a / 50) * 60 / (b * c + d + 9) - 1,
    "repeated input": lambda m, a, b, c, d: a * a * b + m.cos(a) * c * d - a / (b + 4),
}
FOURTH_TO_EIGHTH = {  # standardised moments μ4, μ6, μ8 of each shape
    Shape.NORMAL: (3.0, 15.0, 105.0),
    Shape.RECTANGULAR: (9 / 5, 27 / 7, 9.0),
    Shape.TRIANGULAR: (12 / 5, 54 / 7, 144 / 5),
    Shape.ARCSINE: (3 / 2, 5 / 2, 35 / 8),
}
SEEDS = range(6)


def random_lines(seed: int) -> list[Line]:
    """Four lines with values of 0.5 to 3, widths up to 0.2, any shape, any degrees of freedom."""
    chance = random.Random(seed)
    return [
        Line(
            f"x{i}",
            chance.uniform(0.5, 3.0),
            chance.choice([0.0, 0.01, 0.2]) if i == 3 else chance.uniform(0.01, 0.2),
            chance.choice(list(FOURTH_TO_EIGHTH)),
            dof=chance.choice([math.inf, 2, 4, 9, 33.5]),
        )
        for i in range(4)
    ]


def by_gtc(model: Callable[..., Any], lines: Sequence[Line]) -> Any:
    return model(GTC_MATHS, *(GTC.ureal(x.value, x.u, x.dof) if x.width else x.value for x in lines))


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", FAMILY)
def test_value_u_and_degrees_of_freedom_are_those_of_gtc(name: str, seed: int) -> None:
    lines = random_lines(seed)
    ours, theirs = first_order(FAMILY[name], lines), by_gtc(FAMILY[name], lines)
    assert ours.value == pytest.approx(theirs.x, rel=1e-12)
    assert ours.u == pytest.approx(theirs.u, rel=1e-12)
    assert ours.dof == pytest.approx(theirs.df, rel=1e-10)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", FAMILY)
def test_u_is_that_of_uncertainties(name: str, seed: int) -> None:
    lines = random_lines(seed)
    theirs = FAMILY[name](umath, *(uncertainties.ufloat(x.value, x.u) if x.width else x.value for x in lines))
    assert first_order(FAMILY[name], lines).u == pytest.approx(theirs.std_dev, rel=1e-9)


@pytest.mark.parametrize("r", [-0.9, 0.3])
@pytest.mark.parametrize("name", FAMILY)
def test_tied_lines_have_the_u_of_uncertainties(name: str, r: float) -> None:
    values, u = [1.1, 2.3, 0.7, 1.9], [0.02, 0.05, 0.01, 0.03]
    ties = [[1, r, 0, 0], [r, 1, 0, 0], [0, 0, 1, 0.5], [0, 0, 0.5, 1]]
    lines = [Line(f"x{i}", x, w, Shape.NORMAL, dof=4) for i, (x, w) in enumerate(zip(values, u, strict=True))]
    theirs = FAMILY[name](
        umath,
        *uncertainties.correlated_values_norm(list(zip(values, u, strict=True)), ties),
    )
    assert first_order(FAMILY[name], lines, correlation=ties).u == pytest.approx(theirs.std_dev, rel=1e-7)


def by_soerp(model: Callable[..., Any], lines: Sequence[Line]) -> Any:
    inputs = []
    for line in lines:
        four, six, eight = FOURTH_TO_EIGHTH[line.shape]
        inputs.append(
            soerp.uv([line.value, line.u**2, 0, four, 0, six, 0, eight]) if line.width else line.value
        )
    return model(soerp_maths, *inputs)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", FAMILY)
def test_second_order_mean_and_u_are_those_of_soerp(name: str, seed: int) -> None:
    lines = random_lines(seed)
    first = first_order(FAMILY[name], lines)
    ours, theirs = second_order(FAMILY[name], first, cross=True), by_soerp(FAMILY[name], lines)
    assert first.value + ours.shift == pytest.approx(theirs.mean, rel=1e-7)
    assert ours.u == pytest.approx(theirs.std, rel=1e-7)


@pytest.mark.parametrize("probability", [0.5, 0.6827, 0.95, 0.9973])
@pytest.mark.parametrize("dof", [1, 1.5, 4, 29, 1e6, math.inf])
def test_the_factor_is_the_quantile_of_scipy(dof: float, probability: float) -> None:
    level = (1 + probability) / 2
    theirs = stats.norm.ppf(level) if math.isinf(dof) else stats.t.ppf(level, dof)
    assert coverage_factor(dof, probability) == pytest.approx(theirs, rel=1e-9)


def gtc_force(x: dict[str, Any]) -> Any:
    """Weight of a conventional mass in air, worked out from its true mass. [N]"""
    kilogram = MASS.kilogram + x["scale"] + x["placements"]
    true_mass = kilogram * (1 - 1.2 / 8000) / (1 - 1.2 / x["load-density"])
    return true_mass * (1 - x["air-density"] / x["load-density"]) * x["gravity"]


def gtc_plain(x: dict[str, Any]) -> Any:
    lever = x["arm"] * GTC.cos(x["droop"]) - x["drop"] * GTC.sin(x["droop"])
    return gtc_force(x) * lever + x["own-mass"] * x["own-arm"] * x["gravity"] * GTC.cos(x["droop"])


def gtc_pivoted(x: dict[str, Any]) -> Any:
    """Moments about the pivot, part by part; then what the drive gets when pulled at the grip mark."""
    p, cosine = x["pivot"], GTC.cos(x["droop"])
    outer = x["outer"] * x["tool-mass"]
    inner = x["tool-mass"] - outer
    outer_place = (x["own-mass"] * x["own-arm"] - inner * x["head"] * p) / outer
    about = gtc_force(x) * ((x["arm"] - p) * cosine - x["drop"] * GTC.sin(x["droop"]))
    about += outer * x["gravity"] * (outer_place - p) * cosine
    return about / (1 - p / x["mark"])


def gtc_beam(x: dict[str, Any]) -> Any:
    return gtc_plain(x) * (3 - x["scale-place"] / x["arm"]) / (3 - x["scale-place"] / x["mark"])


@pytest.mark.parametrize(
    ("name", "theirs"), [("plain", gtc_plain), ("pivoted", gtc_pivoted), ("beam", gtc_beam)]
)
def test_a_hung_weight_has_the_torque_u_and_dof_of_gtc(name: str, theirs: Callable[..., Any]) -> None:
    """The same set-up, its formula written anew."""
    model, lines = torque_model(name)
    ours = first_order(model, lines)
    inputs = {x.name: GTC.ureal(x.value, x.u, x.dof) if x.width else x.value for x in lines}
    result = theirs(inputs)
    assert ours.value == pytest.approx(result.x, rel=1e-12)
    assert ours.u == pytest.approx(result.u, rel=1e-10)
    assert ours.dof == pytest.approx(result.df, rel=1e-9)


def test_the_set_ups_compared_differ_from_each_other() -> None:
    """So that a formula of one cannot pass for another's."""
    assert BEAM.mark.value == PIVOT.mark.value and OWN.kilogram.value > 0
    torques = {first_order(*torque_model(name)).value for name in ("plain", "pivoted", "beam")}
    assert len({round(torque, 3) for torque in torques}) == 3
