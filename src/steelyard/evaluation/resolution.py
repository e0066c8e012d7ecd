"""How the step of a tool's own scale enters: set once, set for each pull, or read at each pull."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.quantities import Line, Shape


@dataclass(frozen=True, slots=True)
class ScaleStep:
    """The step of a tool's scale in the budget of a point.

    lines: that count in full. each_time_ratio: a step that is met afresh at every pull; then the larger of it
    and the spread of the pulls counts, not both, because the spread already holds it. [1]
    """

    lines: tuple[Line, ...] = ()
    each_time_ratio: float = 0.0


def step_of_setting(step_newton_metre: float, target_newton_metre: float, *, each_time: bool) -> ScaleStep:
    """A setting tool's scale. Source: JCGM 100:2008 F.2.2.1 (half a step, rectangular), from memory."""
    ratio = step_newton_metre / target_newton_metre
    if each_time:
        return ScaleStep(each_time_ratio=ratio)
    return ScaleStep((Line("setting", 0.0, ratio / 2, Shape.RECTANGULAR, shared=False),))


def step_of_reading(step_newton_metre: float, shown_newton_metre: Sequence[float]) -> ScaleStep:
    """What is read off the tool, shape (n,).

    Readings that are all the same may all be off by the same part of a step, so it counts in full; readings
    that differ were rounded to different sides, and their spread holds it.
    Source: own derivation, docs/explanation/uncertainty.md; coverage: `steelyard simulate coverage`.
    """
    ratio = step_newton_metre * len(shown_newton_metre) / math.fsum(shown_newton_metre)
    if len(set(shown_newton_metre)) > 1:
        return ScaleStep(each_time_ratio=ratio)
    return ScaleStep((Line("reading", 0.0, ratio / 2, Shape.RECTANGULAR, shared=False),))
