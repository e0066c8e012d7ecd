"""What an erring kit reads of a tool whose true deviation is known."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from steelyard.evaluation import PointCase, ScaleStep, step_of_reading, step_of_setting
from steelyard.quantities import Line, Shape
from steelyard.rigs import Reference
from steelyard.simulation.made_up import MadeUp
from steelyard.tools import Measure

if TYPE_CHECKING:
    import numpy as np

REALLY_ROUNDED = {"scale-rounding", "resolution"}  # done by rounding what is read
PULL_BY_PULL = {"dribble"}  # drawn afresh for each pull


def measured(
    made: MadeUp,
    generator: "np.random.Generator",
    *,
    deviation_ratio: float,
    pulls: int,
    limit_percent: Decimal,
) -> PointCase:
    """The case a person would write down.

    deviation_ratio: true ISO deviation of the tool, its mean over endless pulls. [1]
    pulls: ≥ 2. limit_percent: of the ISO deviation, to either side.
    The kit's true inputs are drawn from its lines; a pull's true torque follows from the deviation, and what
    is read is what makes the model with the true inputs give that torque, then rounded where it is rounded.
    The evaluation sees nominal values and widths alone.
    Source: own derivation, docs/explanation/uncertainty.md. Left out: drift from pull to pull.
    """
    deviations = deviation_ratio + made.scatter_ratio * generator.standard_normal(pulls)
    kit = _erring(made, generator)
    if made.is_known_load:
        true = kit.torque_newton_metre(made.raw)
        shown = tuple(_rounded(true * (1 + float(d)), made.shown_step) for d in deviations)
        raws, halves = (made.raw,) * pulls, (0.0,) * pulls
    else:
        shown = (made.target_newton_metre,) * pulls
        torques = [
            x / (1 + float(d)) for x, d in zip(_really_set(made, generator, pulls), deviations, strict=True)
        ]
        read = _reader(made, generator)
        raws, halves = zip(*(read(kit.raw_of(torque)) for torque in torques), strict=True)
    step = _scale_step(made, shown)
    return PointCase(
        target_newton_metre=made.target_newton_metre,
        direction="cw",
        raws=raws,
        shown=shown,
        half_steps=halves,
        reference=made.reference_at(max(raws)),
        tool_lines=step.lines,
        setting_step_ratio=step.each_time_ratio,
        full_scale_newton_metre=made.full_scale_newton_metre,
        measure=Measure.ISO,
        limit_percent=limit_percent,
        is_load_known=made.is_known_load,
    )


@dataclass(frozen=True)
class ErringKit:
    """A kit with what its inputs really are."""

    reference: Reference
    true_values: tuple[float, ...]

    def torque_newton_metre(self, raw: float) -> float:
        """The true torque behind an unrounded raw reading. [N m]"""
        return float(self.reference.model(math, raw, *self.true_values))

    def raw_of(self, torque_newton_metre: float) -> float:
        """The raw reading behind a true torque; every kit is a straight line in its raw reading."""
        nothing = self.torque_newton_metre(0.0)
        return (torque_newton_metre - nothing) / (self.torque_newton_metre(1.0) - nothing)


def _erring(made: MadeUp, generator: "np.random.Generator") -> ErringKit:
    reference = made.reference_at(made.raw)
    left = REALLY_ROUNDED | PULL_BY_PULL
    return ErringKit(
        reference,
        tuple(line.value if line.name in left else true_value(line, generator) for line in reference.lines),
    )


def true_value(line: Line, generator: "np.random.Generator") -> float:
    """What an input really is, drawn about its stated value; a normal with its sigma, whatever the dof."""
    if line.width == 0.0:
        return line.value
    standard: dict[Shape, Callable[[], float]] = {
        Shape.NORMAL: generator.standard_normal,
        Shape.RECTANGULAR: lambda: generator.uniform(-1.0, 1.0),
        Shape.TRIANGULAR: lambda: generator.uniform(-0.5, 0.5) + generator.uniform(-0.5, 0.5),
        Shape.ARCSINE: lambda: math.sin(generator.uniform(-math.pi, math.pi)),
    }
    return line.value + line.width * float(standard[line.shape]())


def _really_set(made: MadeUp, generator: "np.random.Generator", pulls: int) -> list[float]:
    """Where the tool's scale really stands at each pull. [N m]"""
    once = made.setting_step * float(generator.uniform(-0.5, 0.5))
    each = made.setting_each_step * generator.uniform(-0.5, 0.5, pulls)
    return [made.target_newton_metre + once + float(error) for error in each]


def _reader(made: MadeUp, generator: "np.random.Generator") -> Callable[[float], tuple[float, float]]:
    """From a true raw to what is written down, with half the step of the load."""
    zero = made.raw_step * float(generator.uniform(-0.5, 0.5)) if made.rounds_zero else 0.0

    start = made.load_step * float(generator.random())  # the same masses in the same order at every pull

    def read(raw: float) -> tuple[float, float]:
        if made.load_step:
            without = start + math.floor((raw - start) / made.load_step) * made.load_step
            return without + made.load_step / 2, made.load_step / 2
        ran = made.dribble * float(generator.uniform(-0.5, 0.5))
        return _rounded(raw + zero + ran, made.raw_step), 0.0

    return read


def _rounded(value: float, step: float) -> float:
    return round(value / step) * step if step else value


def _scale_step(made: MadeUp, shown: tuple[float, ...]) -> ScaleStep:
    """As the desk makes it of a tool's step."""
    if made.shown_step:
        return step_of_reading(made.shown_step, shown)
    if made.setting_step or made.setting_each_step:
        step = made.setting_step or made.setting_each_step
        return step_of_setting(step, made.target_newton_metre, each_time=not made.setting_step)
    return ScaleStep()
