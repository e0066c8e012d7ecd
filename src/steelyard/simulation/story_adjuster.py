"""A tool of the story whose adjuster is turned as advised; what it does is known here, and nowhere else."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from steelyard.simulation.story_shape import Adjusts

if TYPE_CHECKING:
    import numpy as np

SEED = 7


def _dice() -> "np.random.Generator":
    import numpy as np

    return np.random.Generator(np.random.SFC64(SEED))


@dataclass
class HiddenTool:
    """A click wrench that shifts every point alike.

    off_newton_metre: of its trips against what was set. gain_newton_metre: that a turn "in" adds.
    lock_newton_metre: that the lock nut adds. scatter_percent: of single trips.
    """

    off_newton_metre: float
    gain_newton_metre: float
    lock_newton_metre: float
    scatter_percent: float
    dice: "np.random.Generator" = field(default_factory=_dice)

    def clicks(self, set_newton_metre: float, level_percent: float) -> bool:
        """Whether one trial clicks. level_percent: torque that hangs, against what was set. [%]"""
        trip = 100 * self.off_newton_metre / set_newton_metre + float(
            self.dice.normal(0, self.scatter_percent)
        )
        return trip <= level_percent

    def turn(self, turns: float) -> None:
        """Turn the adjuster, "in" positive. [turn]"""
        self.off_newton_metre += turns * self.gain_newton_metre

    def lock(self) -> None:
        """Tighten the lock nut."""
        self.off_newton_metre += self.lock_newton_metre


def hidden_tool(deed: Adjusts) -> HiddenTool:
    """The tool of a deed, as it is before the first turn."""
    return HiddenTool(
        deed.off_newton_metre, deed.gain_newton_metre, deed.lock_newton_metre, deed.scatter_percent
    )
