"""Evidence for 0005-monte-carlo-judges.md: how many draws, what settles, what it costs."""

import math
import time
import timeit
from collections.abc import Callable
from typing import Any

import numpy as np
from scipy import stats

from steelyard.evaluation.monte_carlo import BLOCK, DRAWS, draw_into, monte_carlo, sample, summary
from steelyard.evaluation.propagation import first_order
from steelyard.quantities import Line, Shape

KINDS = (np.random.SFC64, np.random.PCG64, np.random.Philox)


def deviation(m: Any, *v: Any) -> Any:
    """(X − T)/T of a click tool under a hung weight. [1]"""
    arm, mass, gain, droop, rest, gravity, shown, mark = v
    return (shown + mark) / (gravity * (mass * (1 + gain) * arm * m.cos(droop) + rest * arm)) - 1


def lines(dof: int) -> tuple[Line, ...]:
    """A kit, and readings with `dof` degrees of freedom."""
    return (
        Line("arm", 0.450, 0.001),
        Line("mass", 15.05, 0.02, Shape.NORMAL, dof=9),
        Line("gain", 0.0, 0.002),
        Line("droop", 0.0, math.radians(3)),
        Line("rest", 0.63, 0.01),
        Line("gravity", 9.8144, 0.0005, Shape.NORMAL),
        Line("shown", 70.62, 0.1655, Shape.NORMAL, dof=dof),
        Line("mark", 0.0, 0.25),
    )


def draws_needed() -> None:
    """Spread of each end point over seeds as a multiple of U/√N, and the N that two digits of U ask for."""
    runs = [monte_carlo(deviation, lines(4), seed=seed, draws=50_000) for seed in range(60)]
    expanded = sum(run.high - run.low for run in runs) / 2 / len(runs)
    for name in ("mean", "u", "low", "high"):
        spread = float(np.std([getattr(run, name) for run in runs], ddof=1)) / expanded * math.sqrt(50_000)
        needed(f"{name}, readings with dof 4", spread)
    for dof in (4, 2):
        end = stats.t.ppf(0.975, dof)
        needed(f"end point of a bare t({dof}), exact", math.sqrt(0.025 * 0.975) / stats.t.pdf(end, dof) / end)


def needed(name: str, spread: float) -> None:
    """Print the N at which two standard errors are half a unit of the second digit of U."""
    least, most = ((2 * spread * digits / 0.5) ** 2 for digits in (10, 99))
    print(f"{name}: spread {spread:.2f} U/√N, so N = {least:,.0f} where U = 10, {most:,.0f} where U = 99")


def two_seeds() -> None:
    """Whether two full runs agree within the tolerance they state."""
    one, other = (monte_carlo(deviation, lines(4), seed=seed) for seed in (1, 2))
    apart = max(abs(one.low - other.low), abs(one.high - other.high))
    print(f"two seeds, N = {DRAWS:,}: end points {apart / one.tolerance:.2f} of the stated tolerance apart")
    print(f"the tolerance is {one.tolerance / (one.high - one.low) * 2:.5f} of U")
    linear = first_order(deviation, lines(4))
    half = max(one.high - linear.value, linear.value - one.low)
    print(f"by the draws / by first order: U {half / linear.expanded():.3f}, u {one.u / linear.u:.3f}")


def few_pulls() -> None:
    """Three pulls leave t(2), which has no variance: its u keeps growing with luck, its end points do not."""
    line = [Line("shown", 0.0, 1.0, Shape.NORMAL, dof=2)]
    runs = [summary(sample(lambda _m, x: x, line, seed=seed, draws=100_000), seed=seed) for seed in range(30)]
    for name in ("u", "high"):
        values = [getattr(run, name) for run in runs]
        print(f"t(2), {name}: largest / smallest over 30 seeds = {max(values) / min(values):.2f}")


def cost() -> None:
    """Draws, model and summary, in bare draws of the same inputs; other generators beside it."""
    inputs, draws = lines(4), 500_000
    room = np.empty(BLOCK)

    def bare() -> None:
        generator = np.random.Generator(np.random.SFC64(1))
        for _ in range(draws // BLOCK):
            for line in inputs:
                draw_into(room, line, generator)

    values = sample(deviation, inputs, seed=1, draws=draws)
    calls: dict[str, Callable[[], Any]] = {
        "bare": bare,
        "drawn": lambda: sample(deviation, inputs, seed=1, draws=draws),
        "summed": lambda: summary(values, seed=1),
        **{
            kind.__name__: lambda kind=kind: np.random.Generator(kind(1)).standard_normal(draws)
            for kind in KINDS
        },
    }
    took = dict.fromkeys(calls, math.inf)
    for _ in range(7):  # interleaved, so that a busy machine slows all alike
        for name, call in calls.items():
            took[name] = min(took[name], timeit.timeit(call, timer=time.process_time, number=1))
    once = took["bare"] * draws / (draws // BLOCK * BLOCK)
    together = (took["drawn"] + took["summed"]) / once
    print(f"draws and model: {took['drawn'] / once:.2f} × bare draws; with the summary {together:.2f} ×")
    for kind in KINDS:
        print(f"normal draws by {kind.__name__}: {took[kind.__name__] / took['SFC64']:.2f} × SFC64")


if __name__ == "__main__":
    draws_needed()
    two_seeds()
    few_pulls()
    cost()
