"""What a weighing gives, and how the rigs keep it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.figures import Known, figure, known
from steelyard.desk.ports import Body
from steelyard.desk.typed_scale import KILOGRAM, mass_of
from steelyard.errors import InputRefused
from steelyard.evaluation import coverage_factor
from steelyard.findings import Finding
from steelyard.quantities import UNITS, Dimension, Line, Unit, one_way
from steelyard.records import Fields, Place, read_scales
from steelyard.rigs import Knowing, Load, Scale, weighed_directly
from steelyard.surroundings import plausible_gravity

CHECKED_AT_KILOGRAM = 10.0
PERCENT = UNITS[Dimension.RATIO]["%"]


@dataclass(frozen=True)
class WeighedMass:
    """One mass.

    name: in a combination, or of the mass that is weighed anew; empty for a new one. known: [kg], 95 of 100.
    stands: as the rigs keep it, a rectangle of the same u. rig: the mass that is weighed anew, None for a new
    one.
    """

    name: str
    known: Known
    stands: str
    rig: Body | None = None

    @property
    def said(self) -> str:
        """Mass and ± as printed."""
        return figure(self.known, KILOGRAM[0])

    @property
    def percent(self) -> float:
        """The ± as a part of the mass. [%]"""
        return 100 * (self.known.within or 0.0) / self.known.value


@dataclass(frozen=True)
class CheckedScale:
    """A scale that was checked with water.

    gain: (shown − right)/right. [1]; stands: as the rigs keep it.
    before, after: ± of a load of 10 kg. [kg]; before None where the class of the scale does not reach.
    """

    gain: Known
    stands: str
    before_kilogram: float | None
    after_kilogram: float

    @property
    def said(self) -> str:
        """By how much it shows too much or too little, with ±, as printed."""
        return figure(Known(abs(self.gain.value), self.gain.within), PERCENT)

    @property
    def said_before(self) -> str:
        """± of 10 kg before the check, as printed; empty where it was none."""
        return _kilogram(self.before_kilogram) if self.before_kilogram is not None else ""

    @property
    def said_after(self) -> str:
        """The same after it."""
        return _kilogram(self.after_kilogram)

    @property
    def side(self) -> str:
        """`high`, `low`, or `right` where the ± reaches zero."""
        if abs(self.gain.value) <= (self.gain.within or 0.0):
            return "right"
        return "high" if self.gain.value > 0 else "low"


@dataclass(frozen=True)
class Weighing:
    """What a weighing gives.

    way: of WEIGH_WAYS. scale: body of the rig. typed: as kept, each with its unit. spread_kilogram: s of one
    placement or row; None where there is none. spare: rows beyond those needed.
    """

    way: str
    scale: Body
    typed: Mapping[str, str]
    masses: tuple[WeighedMass, ...] = ()
    checked: CheckedScale | None = None
    spread_kilogram: float | None = None
    spare: int = 0
    doubts: tuple[Finding, ...] = ()


def scale_of(body: Body) -> Scale:
    """A scale as a check reads it."""
    (scale,) = read_scales(Fields({"scale": [body["table"]]}, place="kit")).values()
    return scale


def true_mass(load: Load, place: Place) -> Known:
    """The mass of a load with its ±. [kg] A reading of a force-type scale takes gravity there and here."""
    if load.knowing is Knowing.MASS:
        return mass_of(load)

    def model(_maths: Any, raw: Any, here_m_s2: Any, there_m_s2: Any, *errors: Any) -> Any:
        return (raw + sum(errors)) * there_m_s2 / here_m_s2

    return known(model, (Line("load", load.kilogram), place.gravity, plausible_gravity(), *load.lines))


def as_kept(this: Known, unit: Unit) -> str:
    """Value and ± as the rigs take them: a rectangle with the u of the figure, its numbers reading one way.

    Source: half-width √3·u of a rectangle, JCGM 100:2008 4.3.7; u the half of 95 % divided by 1.96, so that
        few degrees of freedom widen it.
    """
    return one_way(figure(Known(this.value, _half(this)), unit), ".")


def _half(this: Known) -> float:
    return math.sqrt(3) * (this.within or 0.0) / coverage_factor(math.inf)


def gain_line(gain: Known, name: str) -> Line:
    """A gain as the rigs keep it, of the scale of that name."""
    return Line("scale-gain", gain.value, _half(gain), detail=name)


def knows_kilogram(scale: Scale, place: Place) -> float | None:
    """± of 10 kg alone on a scale. [kg] None where its class does not reach."""
    try:
        return true_mass(weighed_directly(scale, CHECKED_AT_KILOGRAM), place).within
    except InputRefused:
        return None


def _kilogram(this: float) -> str:
    return figure(Known(this), KILOGRAM[0], digits=2)
