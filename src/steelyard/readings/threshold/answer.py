"""What one trial of a setting tool tells: between which torques it tripped."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Answer:
    """One trip, seen through a trial: it lay above `low_percent` and not above `high_percent`.

    Both are deviations of the torque that was led to the tool from what it was set to, T/X − 1. [%]
    A click under a load has no lower end, a load without a click no upper one; a load raised in steps, or a
    bucket filled until the click, has both.
    """

    low_percent: float
    high_percent: float

    def __post_init__(self) -> None:
        if not self.low_percent < self.high_percent:
            raise ValueError(f"an answer needs room between its ends: {self}")

    @property
    def nearest_percent(self) -> float:
        """The smallest deviation of this trip that the answer allows. [%]"""
        return min(max(0.0, self.low_percent), self.high_percent)


def clicked(level_percent: float) -> Answer:
    """It clicked under this torque. [%]"""
    return Answer(-math.inf, level_percent)


def not_clicked(level_percent: float) -> Answer:
    """It did not click under this torque. [%]"""
    return Answer(level_percent, math.inf)


def bracket(answers: "tuple[Answer, ...] | list[Answer]") -> tuple[float, float]:
    """The highest level known to be too low, and the lowest known to be enough. [%]

    Returns (−inf, …) where no answer has a lower end, (…, inf) where none has an upper one. Where the trips
    scatter, or contradict each other, the first may lie above the second.
    """
    lows = [a.low_percent for a in answers if math.isfinite(a.low_percent)]
    highs = [a.high_percent for a in answers if math.isfinite(a.high_percent)]
    return max(lows, default=-math.inf), min(highs, default=math.inf)
