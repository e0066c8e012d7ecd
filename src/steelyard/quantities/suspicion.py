"""Whether a torque looks as if it was read in the wrong unit."""

import math
from collections.abc import Iterator

from steelyard.quantities.table import UNITS
from steelyard.quantities.unit import Dimension, Unit

NEAR = 0.06
# Units that stand on one scale, one display or one certificate, and so are mixed up. From memory, high.
MIXED_UP = (
    ("N·m", "lbf·ft"),
    ("lbf·ft", "lbf·in"),
    ("N·m", "lbf·in"),
    ("N·m", "kgf·m"),
    ("N·m", "kgf·cm"),
    ("N·m", "cN·m"),
    ("N·m", "dN·m"),
    ("N·m", "mN·m"),
    ("lbf·ft", "kgf·m"),
    ("lbf·in", "ozf·in"),
)


def pairs() -> Iterator[tuple[Unit, Unit]]:
    """Every mix-up in both directions: the unit the number is in, the unit it was taken for."""
    torque = UNITS[Dimension.TORQUE]
    for one, other in MIXED_UP:
        yield torque[one], torque[other]
        yield torque[other], torque[one]


def wrong_unit_suspicion(
    shown_newton_metre: float, *, target_newton_metre: float
) -> tuple[Unit, Unit] | None:
    """Which two units may have been mixed up, where a torque is far from its target by just their ratio.

    shown_newton_metre: as it was taken. [N m]
    target_newton_metre: what it should have been about. [N m]
    Returns (unit the number is probably in, unit it was taken for), the nearest of the ratios within 6 %;
        None where none is near. Within 15 % of the target none ever is: a bad tool is likelier there.
    Of use for a question to the person alone; nothing is ever converted because of it.
    Source: own rule. Left out: which units the tool can show, and what the other points say.
    """
    if target_newton_metre == 0 or not shown_newton_metre / target_newton_metre > 0:
        return None
    ratio = shown_newton_metre / target_newton_metre

    def distance(pair: tuple[Unit, Unit]) -> float:
        real, taken = pair
        return abs(math.log(ratio * float(real.factor / taken.factor)))

    nearest = min(pairs(), key=distance)
    real, taken = nearest
    return nearest if abs(ratio * float(real.factor / taken.factor) - 1) <= NEAR else None
