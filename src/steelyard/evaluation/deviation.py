"""The deviation of a tool at a point, as a model of readings, tool and kit, in each way of counting it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from steelyard.rigs import Reference
from steelyard.tools import Measure


def deviation(measure: Measure, shown: Any, true: Any, *, full_scale: Any) -> Any:
    """How far a tool is off, X shown or set, T true; a ratio. Source: see `tools.Measure`."""
    return _DEVIATION[measure](shown, true, full_scale)


_DEVIATION: dict[Measure, Callable[[Any, Any, Any], Any]] = {
    Measure.ISO: lambda x, t, _: (x - t) / t,
    Measure.APPLIED: lambda x, t, _: (t - x) / x,
    Measure.FULL_SCALE_ISO: lambda x, t, full: (x - t) / full,
    Measure.FULL_SCALE_APPLIED: lambda x, t, full: (t - x) / full,
}


@dataclass(frozen=True, slots=True)
class Centre:
    """Where the readings of a point lie: by the kit, by the tool, and their mean deviation.

    raw: load [kg] or indication [N m]; shown, torque, full_scale: [N m]; mean: mean of the deviations. [1]
    """

    raw: float
    shown: float
    torque: float
    mean: float
    full_scale: float


def deviation_model(
    measure: Measure, reference: Reference, centre: Centre, *, own: int
) -> Callable[..., Any]:
    """The deviation as `model(maths, spread, *tool, *kit)`.

    spread: error of the mean of the readings, added to the mean deviation. [1]
    tool: `own` errors of setting or reading and the like, as ratios of what is shown. [1]
    kit: the inputs of `reference`.
    The mean of the deviations stands fixed; what may be wrong with tool and kit moves it. For readings that
    differ by a few percent this equals the mean of the models of each pull within 0.1 % of the kit's part.
    Source: own derivation, docs/explanation/uncertainty.md.
    """
    torque, raw, mean = reference.model, centre.raw, centre.mean
    shown, true, full = centre.shown, centre.torque, centre.full_scale
    end = 1 + own

    def iso(maths: Any, *v: Any) -> Any:
        return (1 + mean + v[0]) * (1 + sum(v[1:end])) * true / torque(maths, raw, *v[end:]) - 1

    def applied(maths: Any, *v: Any) -> Any:
        return (1 + mean + v[0]) * torque(maths, raw, *v[end:]) / (true * (1 + sum(v[1:end]))) - 1

    def over_full_scale(maths: Any, *v: Any) -> Any:
        return mean + v[0] + (shown * sum(v[1:end]) - torque(maths, raw, *v[end:]) + true) / full

    def under_full_scale(maths: Any, *v: Any) -> Any:
        return mean + v[0] - (shown * sum(v[1:end]) - torque(maths, raw, *v[end:]) + true) / full

    return {
        Measure.ISO: iso,
        Measure.APPLIED: applied,
        Measure.FULL_SCALE_ISO: over_full_scale,
        Measure.FULL_SCALE_APPLIED: under_full_scale,
    }[measure]
