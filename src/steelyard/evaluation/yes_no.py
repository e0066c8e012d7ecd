"""A point known from yes/no answers: its centre and its spread line, in place of the mean of readings."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.evaluation.deviation import Centre, deviation
from steelyard.quantities import Line, Shape
from steelyard.readings.threshold import Answer, Threshold
from steelyard.rigs import Reference
from steelyard.tools import Measure

PLACES = 401  # quantiles by which a posterior is drawn


@dataclass(frozen=True)
class Answered:
    """The centre of a point and the line of what its answers leave open."""

    centre: Centre
    line: Line


def answered(
    threshold: Threshold,
    measure: Measure,
    reference: Reference,
    *,
    target_newton_metre: float,
    raw: float,
    full_scale_newton_metre: float,
) -> Answered:
    """Where the tool trips in the mean, as a deviation in a measure.

    threshold: of answers counted from the setting. raw: any load of the trials. [kg]
    The line `answers` is the posterior of the threshold, carried into the measure by its quantiles.
    Source: own derivation, docs/explanation/yes-no.md. Left out: errors that differ from load to load of the
        trials; they are part of the scatter. What all loads have in common comes from the reference.
    """
    import numpy as np

    x, full = target_newton_metre, full_scale_newton_metre
    torque = x * (1 + threshold.percent / 100)

    def at(percent: float) -> float:
        return float(deviation(measure, x, x * (1 + percent / 100), full_scale=full))

    spread = sorted(map(at, threshold.quantiles((np.arange(PLACES) + 0.5) / PLACES).tolist()))
    mean = math.fsum(spread) / PLACES
    u = math.sqrt(math.fsum((d - mean) ** 2 for d in spread) / PLACES)
    places = tuple((d - mean) / u for d in spread)
    centre = Centre(raw_at(reference, torque, raw), x, torque, mean, full)
    return Answered(centre, Line("answers", 0.0, u, Shape.TABULATED, shared=False, places=places))


def raw_at(reference: Reference, torque_newton_metre: float, raw: float) -> float:
    """The load that makes a torque. [kg] raw: any load. The torque of a hung load is linear in the load."""
    one, two = raw, raw * 1.01
    t_one, t_two = reference.torque_newton_metre(one), reference.torque_newton_metre(two)
    return one + (torque_newton_metre - t_one) / (t_two - t_one) * (two - one)


def proven_percent(
    answers: Sequence[Answer], measure: Measure, *, target_newton_metre: float, full_scale_newton_metre: float
) -> tuple[float, ...]:
    """The least deviation that each answer proves of its own trip, in a measure, shape (n,). [%]"""
    x, full = target_newton_metre, full_scale_newton_metre
    return tuple(
        100 * float(deviation(measure, x, x * (1 + answer.nearest_percent / 100), full_scale=full))
        for answer in answers
    )
