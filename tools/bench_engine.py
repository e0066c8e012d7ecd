"""The uncertainty engine against one evaluation of the model, bare draws and other libraries."""

import math
from types import SimpleNamespace

import GTC
import numpy as np
from bench_point import realistic_point
from bench_ratio import Bar
from uncertainties import ufloat, umath

from steelyard.evaluation import first_order, first_order_many, monte_carlo, second_order
from steelyard.evaluation.monte_carlo import BLOCK, sample
from steelyard.quantities import Shape

MODEL, LINES = realistic_point()
VALUES = [line.value for line in LINES]
MOVING = [line for line in LINES if line.width > 0]
DRAWS = 1_000_000
SEED = 20
POINTS = 10_000
GTC_MATHS = SimpleNamespace(cos=GTC.cos, sin=GTC.sin)


def budget() -> list[Bar]:
    """One point, first order, and with the second-order shift."""

    def once() -> None:
        MODEL(math, *VALUES)

    def shifted() -> None:
        second_order(MODEL, first_order(MODEL, LINES))

    count = f"{len(MOVING)} inputs"
    return [
        Bar(f"first-order budget, {count} : one evaluation", ours, once, 35, 100, 2000),
        Bar(f"with second-order shift, {count} : one evaluation", shifted, once, 70, 50, 2000),
    ]


def ours() -> None:
    """The first-order budget."""
    first_order(MODEL, LINES)


def draws() -> list[Bar]:
    """A million draws through the model against the same draws alone."""

    def through() -> None:
        sample(MODEL, LINES, seed=SEED, draws=DRAWS)

    def summed() -> None:
        monte_carlo(MODEL, LINES, seed=SEED, draws=DRAWS)

    return [
        Bar("Monte Carlo, 1e6 draws and the model : the bare draws", through, bare_draws, 1.35),
        Bar("Monte Carlo with mean, u, two quantiles : the bare draws", summed, bare_draws, 1.55),
        Bar("Monte Carlo, 1e6 draws and the model : deviates not scaled", through, bare_deviates),
    ]


def bare_draws(*, scaled: bool = True) -> None:
    """The draws alone, written as plainly as NumPy allows; of the same inputs, block by block."""
    room = np.empty((len(MOVING), BLOCK))
    for start in range(0, DRAWS, BLOCK):
        generator = np.random.Generator(np.random.SFC64(start))
        for row, line in zip(room[:, : min(BLOCK, DRAWS - start)], MOVING, strict=True):
            if line.shape is Shape.NORMAL:
                row[:] = generator.standard_t(line.dof, row.size)
                low, span = line.value, line.width
            else:
                generator.random(out=row)
                low, span = line.value - line.width, 2 * line.width
            if scaled:
                row *= span
                row += low


def bare_deviates() -> None:
    """The draws before they are given their width and place."""
    bare_draws(scaled=False)


def fleet() -> list[Bar]:
    """Many points in arrays against one at a time, per point."""
    values = np.tile(VALUES, (POINTS, 1))
    widths_u = np.tile([line.u for line in LINES], (POINTS, 1))

    def many() -> None:
        first_order_many(MODEL, values, widths_u)

    def one_by_one() -> None:
        for _ in range(POINTS):
            ours()

    return [Bar(f"{POINTS} points in arrays : one at a time", many, one_by_one, rounds=3)]


def others() -> list[Bar]:
    """The same budget by libraries for general use."""
    return [
        Bar("GTC, value, u and dof : our first-order budget", by_gtc, ours, None, 20, 100),
        Bar("uncertainties, value and u : our first-order budget", by_uncertainties, ours, None, 20, 100),
    ]


def by_gtc() -> tuple[float, float]:
    """u and effective degrees of freedom."""
    inputs = [GTC.ureal(line.value, line.u, line.dof) if line.width else line.value for line in LINES]
    result = MODEL(GTC_MATHS, *inputs)
    return result.u, result.df


def by_uncertainties() -> float:
    """u."""
    inputs = [ufloat(line.value, line.u) if line.width else line.value for line in LINES]
    return float(MODEL(umath, *inputs).std_dev)
