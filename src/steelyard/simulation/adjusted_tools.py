"""Tools with an adjuster that are made up: how far off, what a turn does, how they are read."""

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from steelyard.adjustment import best_shift

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

TARGETS_NEWTON_METRE = (20.0, 60.0, 100.0)
OFFSET_NEWTON_METRE, SLOPE_RATIO, POINT_RATIO = 2.0, 0.005, 0.003  # standard deviations of what is off
GAIN_NEWTON_METRE, GAIN_SPREAD = 4.0, 0.5  # per turn: median, and standard deviation of the logarithm
REPEATABILITY_RATIO = (0.003, 0.01)  # log-uniform between
SLACK_TURN = (0.0, 0.06)  # lost where the sense is reversed, uniform between
TURN_TURN, TURN_RATIO = 0.02, 0.03  # how well a turn is made: standard deviations
READINGS = 3  # at each point
MENDABLE_RATIO = 0.006  # best possible worst deviation of the tools that are kept


@dataclass
class AdjustedTool:
    """One tool as it stands. deviations: true, of each point. [N m] gain: per turn, signed. [N m]

    repeatability: standard deviation of one reading. [1] slack: lost where the sense is reversed. [turn]
    """

    deviations: "Table"
    gain: float
    repeatability: float
    slack: float
    generator: "np.random.Generator"
    last_sense: float = field(default=0.0)

    @property
    def worst_ratio(self) -> float:
        """True worst |d|/target. [1]"""
        return float(max(abs(self.deviations) / TARGETS_NEWTON_METRE))

    def read(self) -> "Table":
        """Deviations as read, shape (readings, points). [N m]"""
        import numpy as np

        targets = np.array(TARGETS_NEWTON_METRE)
        noise = self.generator.standard_normal((READINGS, targets.size))
        read: Table = self.deviations + self.repeatability * (targets + self.deviations) * noise
        return read

    def turn(self, turns: float) -> None:
        """Turn the adjuster, no better than a hand does."""
        if not turns:
            return
        by_hand = self.generator.standard_normal(2)
        done = turns + TURN_TURN * float(by_hand[0]) + TURN_RATIO * turns * float(by_hand[1])
        sense = math.copysign(1.0, turns)
        if self.last_sense and sense != self.last_sense:
            done = math.copysign(max(abs(done) - self.slack, 0.0), done)
        self.last_sense = sense
        self.deviations = self.deviations + self.gain * done


def made_up_tool(generator: "np.random.Generator", *, positive: float, gain_factor: float) -> AdjustedTool:
    """A tool that an equal shift of all points can bring to 0.6 %.

    positive: probability that a positive turn raises the torque. gain_factor: times the usual gain.
    """
    import numpy as np

    targets = np.array(TARGETS_NEWTON_METRE)
    while True:
        off = SLOPE_RATIO * generator.standard_normal() + POINT_RATIO * generator.standard_normal(
            targets.size
        )
        deviations = OFFSET_NEWTON_METRE * generator.standard_normal() + targets * off
        best = best_shift(
            list(map(float, deviations)), list(TARGETS_NEWTON_METRE), effects=[1.0] * targets.size
        )
        if best.worst <= MENDABLE_RATIO:
            break
    low, high = map(math.log, REPEATABILITY_RATIO)
    gain = gain_factor * GAIN_NEWTON_METRE * math.exp(GAIN_SPREAD * float(generator.standard_normal()))
    return AdjustedTool(
        deviations=deviations,
        gain=gain if generator.random() < positive else -gain,
        repeatability=math.exp(float(generator.uniform(low, high))),
        slack=float(generator.uniform(*SLACK_TURN)),
        generator=generator,
    )
