"""What a kit says the torque was: a model of the raw reading and of everything not known about the kit."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from steelyard.quantities import Line


@dataclass(frozen=True)
class Reference:
    """Torque at the drive that a tool should be compared with.

    model: `model(maths, raw, *values)`, with raw the load [kg] or the indication [N m]; returns torque. [N m]
    lines: the inputs after raw, in order.
    """

    model: Callable[..., Any]
    lines: tuple[Line, ...]

    def torque_newton_metre(self, raw: float) -> float:
        """The best estimate for one raw reading. [N m]"""
        return float(self.model(math, raw, *(line.value for line in self.lines)))
