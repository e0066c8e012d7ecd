"""Evidence for 0003-engine.md: cos at level, agreement with other hands, and cost."""

import cmath
import math
import time
import timeit
import warnings
from collections.abc import Callable
from typing import Any

import GTC
import uncertainties
import uncertainties.umath

from steelyard.evaluation.monte_carlo import monte_carlo
from steelyard.evaluation.propagation import first_order, second_order
from steelyard.quantities import Line, Shape

warnings.simplefilter("ignore")  # from the other libraries at import
DROOP = math.radians(3)
READINGS_DOF = 4
ROUND = 60


def deviation(m: Any, *v: Any) -> Any:
    """(X − T)/T of a click tool under a hung weight: thirteen inputs. [1]"""
    arm, mass, first, last, gain, droop, drop, rest, gravity, air, dense, shown, mark = v
    force = (mass + first - last) * (1 + gain) * (1 - air / dense)
    torque = gravity * (force * (arm * m.cos(droop) - drop * m.sin(droop)) + rest * arm)
    return (shown + mark) / torque - 1


LINES = (
    Line("arm", 0.450, 0.001),
    Line("mass", 15.05, 0.02, Shape.NORMAL, dof=9),
    Line("first", 0.0, 0.025),
    Line("last", 0.0, 0.025),
    Line("gain", 0.0, 0.002),
    Line("droop", 0.0, DROOP),
    Line("drop", 0.0, 0.005),
    Line("rest", 0.63, 0.01),
    Line("gravity", 9.8144, 0.0005, Shape.NORMAL),
    Line("air", 1.2, 0.06),
    Line("dense", 7200.0, 400.0),
    Line("shown", 70.62, 0.1655, Shape.NORMAL, dof=READINGS_DOF),
    Line("mark", 0.0, 0.25),
)


def level(m: Any, droop: Any) -> Any:
    """cos alone."""
    return m.cos(droop)


def flat_cosine() -> None:
    """An arm level within ±3°, rectangular: what each hand says of cos. Exact: sin a/a − 1, in per cent."""
    line = Line("droop", 0.0, DROOP)
    first = first_order(level, [line])
    second = second_order(level, first)
    drawn = monte_carlo(level, [line], seed=1, draws=200_000)
    exact = math.sin(DROOP) / DROOP - 1
    spread = math.sqrt((1 + math.sin(2 * DROOP) / (2 * DROOP)) / 2 - (1 + exact) ** 2)
    gum = abs(-(line.u**2)) * math.sqrt(1 / 2)
    print("cos of 0 ± 3°, %      shift       u")
    print(f"exact            {100 * exact:9.5f} {100 * spread:8.5f}")
    print(f"Monte Carlo      {100 * (drawn.mean - 1):9.5f} {100 * drawn.u:8.5f}")
    print(f"second order     {100 * second.shift:9.5f} {100 * second.u:8.5f}")
    print(f"the same, κ = 3  {100 * second.shift:9.5f} {100 * gum:8.5f}")
    print(f"first order      {0.0:9.5f} {100 * first.u:8.5f}")
    print(f"GTC                      - {100 * GTC.cos(GTC.ureal(0.0, line.u)).u:8.5f}")
    other = uncertainties.umath.cos(uncertainties.ufloat(0.0, line.u))
    print(f"uncertainties            - {100 * other.std_dev:8.5f}")


def by_gtc() -> Any:
    """The same budget by GTC, from fresh inputs to u and degrees of freedom."""
    y = deviation(GTC, *(GTC.ureal(line.value, line.u, line.dof) for line in LINES))
    return y.x, y.u, y.df


def by_uncertainties() -> Any:
    """The same by uncertainties, with the parts."""
    y = deviation(uncertainties.umath, *(uncertainties.ufloat(line.value, line.u) for line in LINES))
    return y.n, y.s, y.error_components()


def agreement_and_cost() -> None:
    """How far u and the degrees of freedom are from GTC's, and cost in model evaluations."""
    ours, theirs = first_order(deviation, LINES), by_gtc()
    print(f"u / u of GTC − 1: {ours.u / theirs[1] - 1:.0e}; dof likewise: {ours.dof / theirs[2] - 1:.0e}")
    values = [line.value for line in LINES]
    calls: dict[str, Callable[[], Any]] = {
        "one complex evaluation": lambda: deviation(cmath, *values),
        "first order": lambda: first_order(deviation, LINES),
        "first and second order": lambda: second_order(deviation, first_order(deviation, LINES)),
        "uncertainties": by_uncertainties,
        "GTC": by_gtc,
    }
    calls["one evaluation"] = lambda: deviation(math, *values)
    best = dict.fromkeys(calls, math.inf)
    for _ in range(40):  # interleaved, so that a busy machine slows all alike
        for name, call in calls.items():
            best[name] = min(best[name], timeit.timeit(call, timer=time.process_time, number=ROUND))
    for name, seconds in best.items():
        print(f"{name}: {seconds / best['one evaluation']:.1f} × one evaluation of the model")


if __name__ == "__main__":
    flat_cosine()
    agreement_and_cost()
