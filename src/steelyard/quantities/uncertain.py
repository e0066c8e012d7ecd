"""One uncertain input of a measurement: a value, and how what is known about it is distributed."""

import math
from dataclasses import dataclass
from enum import StrEnum


class Shape(StrEnum):
    """How the possible values lie around the stated one. Source: JCGM 100:2008 4.3, JCGM 101:2008 6.4."""

    NORMAL = "normal"
    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"
    ARCSINE = "arcsine"
    TABULATED = "tabulated"


DIVISOR = {
    Shape.NORMAL: 1.0,
    Shape.RECTANGULAR: math.sqrt(3),
    Shape.TRIANGULAR: math.sqrt(6),
    Shape.ARCSINE: math.sqrt(2),
    Shape.TABULATED: 1.0,
}
KURTOSIS = {Shape.NORMAL: 3.0, Shape.RECTANGULAR: 1.8, Shape.TRIANGULAR: 2.4, Shape.ARCSINE: 1.5}


@dataclass(frozen=True, slots=True)
class Line:
    """One input of a model, and so one line of its budget.

    name: stable key of the line, a catalogue code behind the prefix `line-`.
    value: the best estimate, in `unit`.
    width: the standard uncertainty of a normal or of tabulated places, the half-width of the other shapes.
        [unit] ≥ 0
    shape: distribution; a normal with finite `dof` is drawn as a scaled t (JCGM 101:2008 6.4.9).
    dof: degrees of freedom behind `width`. > 0
    shared: one and the same error serves every point of the check (an arm, a scale), so that differences
        between points do not contain it; False where each point has its own (readings, resolution).
    unit: symbol of value and width.
    detail: which one of several of that name ("M-5" of several masses); name and detail are the identity.
    places: of a tabulated shape: quantiles at evenly spaced probabilities, rising, mean 0 and standard
        deviation 1, two or more; the value lies at `value + width·place`.
    """

    name: str
    value: float
    width: float = 0.0
    shape: Shape = Shape.RECTANGULAR
    dof: float = math.inf
    shared: bool = True
    unit: str = ""
    detail: str = ""
    places: tuple[float, ...] = ()

    @property
    def u(self) -> float:
        """Standard uncertainty. [unit]"""
        return self.width / DIVISOR[self.shape]

    @property
    def kurtosis(self) -> float:
        """Fourth central moment over the squared variance, as the second-order terms need it."""
        if self.shape is Shape.TABULATED:
            return math.fsum(place**4 for place in self.places) / len(self.places)
        return KURTOSIS[self.shape]
