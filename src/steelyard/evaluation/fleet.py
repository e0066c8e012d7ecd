"""The first-order law for many points of one model at once, in arrays."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.evaluation.propagation import STEP, Model

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class FirstOrderMany:
    """What the linear law says of each point.

    value, u: of the model, shape (points,). sensitivities: ∂model/∂input, shape (points, inputs); 0.0 in the
        column of an input that has no width at any point.
    """

    value: "NDArray[np.float64]"
    u: "NDArray[np.float64]"
    sensitivities: "NDArray[np.float64]"


def first_order_many(
    model: Model, values: "NDArray[np.float64]", widths_u: "NDArray[np.float64]"
) -> FirstOrderMany:
    """Value, combined standard uncertainty and sensitivities of one model at many points.

    model: `model(maths, *values)`, see propagation.py.
    values, widths_u: best estimates and standard uncertainties of the inputs, shape (points, inputs), each
        input in its own unit; widths_u ≥ 0.
    Raises ValueError when the two shapes differ.
    Source: JCGM 100:2008 5.1.2. Left out: degrees of freedom, correlation, curvature.
    """
    import numpy as np

    if values.shape != widths_u.shape:
        raise ValueError(f"values {values.shape} and widths {widths_u.shape} must have the same shape")
    columns = list(np.ascontiguousarray(values.T))
    value = np.broadcast_to(np.asarray(model(np, *columns), dtype=float), values.shape[:1]).copy()
    sensitivities = np.zeros(values.shape)
    for i in np.flatnonzero(widths_u.any(axis=0)):
        kept = columns[i]
        columns[i] = kept + 1j * STEP
        sensitivities[:, i] = np.imag(model(np, *columns)) / STEP
        columns[i] = kept
    return FirstOrderMany(value, np.sqrt(((sensitivities * widths_u) ** 2).sum(axis=1)), sensitivities)
