"""The best that two adjusters can do together: one that adds an amount, one that adds a percentage."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ChebyshevLine:
    """intercept + slope·x, and the worst |y − line| / limit that it leaves. [1]"""

    intercept: float
    slope: float
    worst: float


def chebyshev_line(
    places: Sequence[float], values: Sequence[float], *, limits: Sequence[float]
) -> ChebyshevLine:
    """Minimise max |y_j − a − b·x_j| / limit_j over intercept a and slope b.

    places, values: x and y, two or more different places. limits: of each value, in its unit, > 0.
    With targets as places and deviations as values, worst is what a tool could reach at best whose one
    adjuster moves all points by the same amount and whose other by the same percentage; they would have to
    move them by −a and −b.
    Source: linear programme, minimise E subject to |y_j − a − b·x_j| ≤ limit_j·E; `scipy.optimize.linprog`.
    """
    import numpy as np
    from scipy.optimize import linprog

    x, y, limit = (np.asarray(each, dtype=float) for each in (places, values, limits))
    line = np.column_stack([np.ones_like(x), x])
    best = linprog(
        [0.0, 0.0, 1.0],
        A_ub=np.vstack([np.column_stack([line, -limit]), np.column_stack([-line, -limit])]),
        b_ub=np.concatenate([y, -y]),
        bounds=[(None, None), (None, None), (0, None)],
        method="highs",
    )
    intercept, slope, worst = map(float, np.asarray(best.x))
    return ChebyshevLine(intercept, slope, worst)
