"""Everything that hangs on the handle, a mass or the reading of a scale, with what is not known of it."""

from dataclasses import dataclass
from enum import StrEnum

from steelyard.quantities import Line


class Knowing(StrEnum):
    """Two kinds of knowing that are never mixed.

    MASS: a marked weight, a balance, a scale adjusted or checked on site: local gravity turns it into force.
    FORCE: the reading of a force-type scale adjusted elsewhere: the gravity of that place does.
    """

    MASS = "mass"
    FORCE = "force"


@dataclass(frozen=True, slots=True)
class Load:
    """What hangs.

    kilogram: conventional mass, or reading of a force-type scale. [kg] > 0
    lines: errors that add to it. [kg]
    knowing: which of the two it is.
    """

    kilogram: float
    lines: tuple[Line, ...] = ()
    knowing: Knowing = Knowing.MASS
