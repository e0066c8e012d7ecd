"""How far the indication of a scale may lie from the load on it."""

from decimal import Decimal
from math import isfinite

from steelyard.errors import InputRefused
from steelyard.published.source import Source

LEGAL_SCALE_SOURCE = Source(
    "OIML R 76-1 / directive on non-automatic weighing instruments",
    "2006 / 2014",
    "limits on verification and in service, as quoted in French decree 91-330, annex I, tables 1 and 3",
    seen=True,
)
HOUSEHOLD_SCALE_SOURCE = Source("no standard", "", "usual statement of makers, from a review site", seen=True)

# Upper end of each band in intervals e, and its limit when verified in e; the end belongs to the band.
BANDS: dict[str, tuple[tuple[int, Decimal], ...]] = {
    "III": ((500, Decimal("0.5")), (2_000, Decimal("1.0")), (10_000, Decimal("1.5"))),
    "IIII": ((50, Decimal("0.5")), (200, Decimal("1.0")), (1_000, Decimal("1.5"))),
}
IN_SERVICE = 2
HOUSEHOLD_RATIO = Decimal("0.001")


def exact(kilogram: float) -> Decimal:
    """The number as it prints, so that 50 / 0.1 is 500 and not a hair beside it."""
    return Decimal(str(float(kilogram)))


def exact_load(load_kilogram: float) -> Decimal:
    """A load as it prints, refused unless it is an ordinary number of zero or more. [kg]"""
    if not (isfinite(load_kilogram) and load_kilogram >= 0):
        raise InputRefused("load", load_kilogram, "want-not-negative", what="load", example="20 kg")
    return exact(load_kilogram)


def exact_step(field: str, step_kilogram: float) -> Decimal:
    """A scale step as it prints, refused unless it is an ordinary number above zero. [kg]"""
    if not (isfinite(step_kilogram) and step_kilogram > 0):
        raise InputRefused(field, step_kilogram, "want-positive", what="step", example="0.1 kg")
    return exact(step_kilogram)


def scale_limit_kilogram(
    scale_class: str, *, interval_kilogram: float, load_kilogram: float, in_service: bool
) -> float:
    """Maximum permissible error of one indication of a verified scale, to either side.

    scale_class: as marked in the oval: III (shop, workshop) or IIII (coarse).
    interval_kilogram: verification interval e. [kg] > 0
    load_kilogram: on the scale. [kg] 0 … 10 000 e (III), 1 000 e (IIII)
    in_service: True for a scale in use (twice the limit), False for one just verified.
    Returns the limit. [kg] At a step, such as 500 e, the smaller limit holds.
    Raises InputRefused outside these limits.
    Source: `LEGAL_SCALE_SOURCE`.
    Left out: the smallest load of the class (20 e, 10 e), and scales of several ranges or intervals.
    """
    if scale_class not in BANDS:
        raise InputRefused("scale class", scale_class, "want-one-of", names=", ".join(BANDS))
    interval = exact_step("scale interval", interval_kilogram)
    load = exact_load(load_kilogram)
    for steps, share in BANDS[scale_class]:
        if load <= steps * interval:
            return float(share * interval * (IN_SERVICE if in_service else 1))
    most = BANDS[scale_class][-1][0]
    raise InputRefused(
        "load",
        load_kilogram,
        "want-load-in-class",
        most=f"{most * interval:f}",
        steps=most,
        scale_class=scale_class,
    )


def household_limit_kilogram(load_kilogram: float, step_kilogram: float) -> float:
    """What makers of bathroom, kitchen and luggage scales usually promise, to either side.

    load_kilogram: on the scale. [kg] ≥ 0; step_kilogram: of its display. [kg] > 0
    Returns 0.1 % of the load and one step. [kg]
    Raises InputRefused outside these limits.
    Source: `HOUSEHOLD_SCALE_SOURCE`; no law or standard stands behind it.
    Left out: where the scale was adjusted (gravity), corners, creep, warming up.
    """
    step = exact_step("scale step", step_kilogram)
    return float(HOUSEHOLD_RATIO * exact_load(load_kilogram) + step)
