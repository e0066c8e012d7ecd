"""How uncertainty passes through a model: sensitivities by complex step, degrees of freedom, curvature.

A model is one plain function `model(maths, *values)` that takes its cos and sin from `maths`, so that the
same text is evaluated with floats (`math`), complex numbers (`cmath`) and arrays (`numpy`). Nothing in it may
compare, branch on or take the absolute value of an input.
"""

import cmath
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.quantities import Line

Model = Callable[..., Any]
STEP = 1e-30  # far below every rounding, so the derivative is exact to machine precision
CURVE_STEP = 1e-3  # of one standard uncertainty, for the second derivative


@dataclass(frozen=True, slots=True)
class FirstOrder:
    """What the linear law of propagation says. Source: JCGM 100:2008 5.1, 5.2, G.4.

    value: the model at the best estimates.
    lines: the inputs, in the order of the model's parameters.
    sensitivities: ∂model/∂input of each line; 0.0 where a line has no width.
    u: combined standard uncertainty.
    dof: effective degrees of freedom, inf where all lines are known exactly; not truncated.
    """

    value: float
    lines: tuple[Line, ...]
    sensitivities: tuple[float, ...]
    u: float
    dof: float

    @property
    def contributions(self) -> tuple[float, ...]:
        """|∂model/∂input|·u of each line, in the model's unit."""
        return tuple(abs(c * line.u) for c, line in zip(self.sensitivities, self.lines, strict=True))

    def expanded(self, probability: float = 0.95) -> float:
        """Half-width of the interval by Student's t, with the degrees of freedom truncated (G.6.4)."""
        return (
            coverage_factor(math.floor(self.dof) if math.isfinite(self.dof) else self.dof, probability)
            * self.u
        )


def coverage_factor(dof: float, probability: float = 0.95) -> float:
    """Two-sided factor k of Student's t.

    dof: degrees of freedom, > 0 or inf. probability: of the interval, between 0 and 1.
    Source: JCGM 100:2008 G.3; the quantile itself is SciPy's.
    """
    from scipy.special import ndtri, stdtrit

    level = (1 + probability) / 2
    return float(ndtri(level)) if math.isinf(dof) else float(stdtrit(dof, level))


def first_order(
    model: Model, lines: Sequence[Line], *, correlation: Sequence[Sequence[float]] | None = None
) -> FirstOrder:
    """Value, sensitivities, combined standard uncertainty and effective degrees of freedom.

    model: `model(maths, *values)`, see the module.
    lines: one per parameter of the model, in order.
    correlation: matrix (n, n) of correlation coefficients; None means all independent. Lines tied to each
        other count in the Welch–Satterthwaite formula as one term and must have the same dof.
    Raises ValueError when tied lines differ in dof.
    Source: JCGM 100:2008 5.1.2, 5.2.2, G.4.1 (G-2b). Left out: curvature, see `second_order`.
    """
    values: list[Any] = [line.value for line in lines]
    value = model(math, *values)
    sensitivities = []
    squares = 0.0
    shares = 0.0
    for i, line in enumerate(lines):
        u = line.u
        if u == 0.0:
            sensitivities.append(0.0)
            continue
        kept = values[i]
        values[i] = complex(kept, STEP)
        c = model(cmath, *values).imag / STEP
        values[i] = kept
        sensitivities.append(c)
        square = (c * u) ** 2
        squares += square
        shares += square * square / line.dof
    if correlation is not None:
        signed = [c * line.u for c, line in zip(sensitivities, lines, strict=True)]
        squares, shares = _tied(signed, lines, correlation)
    dof = squares * squares / shares if shares else math.inf
    return FirstOrder(value, tuple(lines), tuple(sensitivities), math.sqrt(squares), dof)


def _tied(
    signed: Sequence[float], lines: Sequence[Line], correlation: Sequence[Sequence[float]]
) -> tuple[float, float]:
    """Variance, and the sum of variance²/dof, over groups of lines that are correlated with each other."""
    squares = shares = 0.0
    for group in _groups(correlation):
        if len({lines[i].dof for i in group}) > 1:
            raise ValueError("correlated lines must have the same degrees of freedom")
        variance = math.fsum(correlation[i][j] * signed[i] * signed[j] for i in group for j in group)
        squares += variance
        shares += variance * variance / lines[group[0]].dof
    return squares, shares


def _groups(correlation: Sequence[Sequence[float]]) -> list[list[int]]:
    """Indices that hang together through non-zero coefficients."""
    left = set(range(len(correlation)))
    groups = []
    while left:
        reached: set[int] = set()
        waiting = {min(left)}
        while waiting:
            i = waiting.pop()
            reached.add(i)
            waiting |= {j for j in left if correlation[i][j] != 0.0} - reached
        left -= reached
        groups.append(sorted(reached))
    return groups


def covariance(
    a: FirstOrder, b: FirstOrder, *, correlation: Sequence[Sequence[float]] | None = None
) -> float:
    """Covariance of two results through the lines they have in common.

    Lines are the same where name and detail are. With `correlation` both results must have the same lines, in
    the same order as the matrix. Source: JCGM 100:2008 F.1.2.3, H.2.3.
    """
    if correlation is not None:
        left = [c * line.u for c, line in zip(a.sensitivities, a.lines, strict=True)]
        right = [c * line.u for c, line in zip(b.sensitivities, b.lines, strict=True)]
        return math.fsum(
            r * left[i] * right[j] for i, row in enumerate(correlation) for j, r in enumerate(row)
        )
    other = {
        (line.name, line.detail): c * line.u
        for c, line in zip(b.sensitivities, b.lines, strict=True)
        if line.shared
    }
    return math.fsum(
        c * line.u * other.get((line.name, line.detail), 0.0)
        for c, line in zip(a.sensitivities, a.lines, strict=True)
        if line.shared
    )


@dataclass(frozen=True, slots=True)
class SecondOrder:
    """What curvature adds: shift of the expected value, and the standard uncertainty with it."""

    shift: float
    u: float


def second_order(model: Model, first: FirstOrder, *, cross: bool = False) -> SecondOrder:
    """Shift ½Σf_ii·u_i² and variance with the curvature terms, each line by its own kurtosis.

    model, first: the model and its `first_order` result.
    cross: also the mixed terms Σ(f_ij·u_i·u_j)²; n² more evaluations.
    Returns the shift and u = √(Σ(f_i u_i)² + ¼Σf_ii² u_i⁴ (κ_i − 1) [+ Σ_{i<j}(f_ij u_i u_j)²]).
    Source: Taylor series of JCGM 100:2008 5.1.2 NOTE, with κ instead of 3: own derivation,
    docs/explanation/uncertainty.md. Left out: third derivatives, skewness, correlation.
    """
    values: list[Any] = [line.value for line in first.lines]
    moving = [(i, u) for i, u in enumerate([line.u for line in first.lines]) if u > 0.0]
    shift = 0.0
    variance = first.u**2
    for i, u in moving:
        curved = _curve(model, values, i, u) * u * u
        shift += curved / 2
        variance += curved * curved * (first.lines[i].kurtosis - 1) / 4
    if cross:
        pairs = [(a, b) for place, a in enumerate(moving) for b in moving[place + 1 :]]
        for (i, u_i), (j, u_j) in pairs:
            variance += (_twist(model, values, i, j=j, u_j=u_j) * u_i * u_j) ** 2
    return SecondOrder(shift, math.sqrt(variance))


def _curve(model: Model, values: list[Any], i: int, u: float) -> float:
    """∂²model/∂x_i²: difference of two slopes by complex step, a small part of u to either side."""
    kept, h = values[i], CURVE_STEP * u
    values[i] = complex(kept + h, STEP)
    above = model(cmath, *values).imag
    values[i] = complex(kept - h, STEP)
    below = model(cmath, *values).imag
    values[i] = kept
    return float(above - below) / (2 * h * STEP)


def _twist(model: Model, values: list[Any], i: int, *, j: int, u_j: float) -> float:
    """∂²model/∂x_i∂x_j: slopes in x_i by complex step, their difference in x_j."""
    kept_i, kept_j, h = values[i], values[j], CURVE_STEP * u_j
    values[i] = complex(kept_i, STEP)
    values[j] = kept_j + h
    above = model(cmath, *values).imag
    values[j] = kept_j - h
    below = model(cmath, *values).imag
    values[i], values[j] = kept_i, kept_j
    return float(above - below) / (2 * h * STEP)
