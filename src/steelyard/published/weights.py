"""How far weights may lie from the value marked on them."""

from decimal import Decimal
from math import isclose, isfinite

from steelyard.errors import InputRefused
from steelyard.published.source import Source

WEIGHT_SOURCE = Source("OIML R 111-1", "2004", "table 1, as quoted in weight suppliers' sheets", seen=True)
DISC_SOURCE = Source("Technical rules of powerlifting", "", "discs, read in translation", seen=True)
CASTING_SOURCE = Source("no standard found", "", "sellers say 2–4 % and 1–7 %; our own choice", seen=False)

CLASSES = ("M1", "M2", "M3")
# Nominal in gram: maximum permissible error of M1, M2, M3 in milligram. OIML R 111-1:2004, table 1.
LIMITS_MILLIGRAM: dict[int, tuple[str, str, str]] = {
    1: ("1.0", "3.0", "10"),
    2: ("1.2", "4.0", "12"),
    5: ("1.6", "5.0", "16"),
    10: ("2.0", "6.0", "20"),
    20: ("2.5", "8.0", "25"),
    50: ("3.0", "10", "30"),
    100: ("5.0", "16", "50"),
    200: ("10", "30", "100"),
    500: ("25", "80", "250"),
    1_000: ("50", "160", "500"),
    2_000: ("100", "300", "1000"),
    5_000: ("250", "800", "2500"),
    10_000: ("500", "1600", "5000"),
    20_000: ("1000", "3000", "10000"),
    50_000: ("2500", "8000", "25000"),
}
HALF_CLASSES_MILLIGRAM: dict[str, dict[int, str]] = {"M1-2": {50_000: "5000"}, "M2-3": {50_000: "16000"}}

DISC_RATIO, DISC_KILOGRAM = 0.0025, 0.010
CASTING_RATIO = 0.05


def table_of(weight_class: str) -> dict[int, str]:
    """Nominal [g] against limit [mg] of one class."""
    if weight_class in CLASSES:
        column = CLASSES.index(weight_class)
        return {gram: row[column] for gram, row in LIMITS_MILLIGRAM.items()}
    if weight_class in HALF_CLASSES_MILLIGRAM:
        return HALF_CLASSES_MILLIGRAM[weight_class]
    raise InputRefused("weight class", weight_class, "want-one-of", names=", ".join(weight_classes()))


def weight_classes() -> tuple[str, ...]:
    """The classes whose limits are known here, finest first."""
    return ("M1", "M1-2", "M2", "M2-3", "M3")


def weight_limit_kilogram(weight_class: str, *, nominal_kilogram: float) -> float:
    """Maximum permissible error of a classed weight, to either side.

    weight_class: as marked: M1, M1-2, M2, M2-3 or M3.
    nominal_kilogram: the marked value. [kg] 1, 2 or 5 times a power of ten from 0.001 to 50; M1-2, M2-3: 50
    Returns the limit. [kg]
    Raises InputRefused for another class, or a nominal value the class does not have.
    Source: OIML R 111-1:2004, table 1, on verification (`WEIGHT_SOURCE`).
    Left out: wear since then; a weight in use may be out by as much again under some laws
        (from memory).
    """
    table = table_of(weight_class)
    for gram, milligram in table.items():
        if isclose(gram / 1000, nominal_kilogram, rel_tol=1e-9):
            return float(Decimal(milligram) / 1_000_000)
    names = ", ".join(f"{gram / 1000:g}" for gram in table) + " kg"
    raise InputRefused("weight, nominal value", nominal_kilogram, "want-one-of", names=names)


def disc_limit_kilogram(nominal_kilogram: float) -> float:
    """How far a disc made to the rules of powerlifting may lie from its mark, to either side.

    nominal_kilogram: the marked value. [kg] > 0
    Returns the larger of 0.25 % and 10 g. [kg]
    Raises InputRefused for zero, less, nan and inf.
    Source: `DISC_SOURCE`; its "0.25 % or 10 g" is taken as whichever is larger.
    Left out: discs of other sports and of no sport: weigh them.
    """
    return max(DISC_RATIO * positive(nominal_kilogram), DISC_KILOGRAM)


def casting_limit_kilogram(nominal_kilogram: float) -> float:
    """How far a gym plate or a casting that was never weighed may lie from its mark, to either side.

    nominal_kilogram: the marked value. [kg] > 0
    Returns 5 %. [kg]
    Raises InputRefused for zero, less, nan and inf.
    Source: `CASTING_SOURCE`. Left out: plates beyond it exist: weigh them.
    """
    return CASTING_RATIO * positive(nominal_kilogram)


def positive(nominal_kilogram: float) -> float:
    """The nominal value, refused unless it is an ordinary number above zero. [kg]"""
    if not (isfinite(nominal_kilogram) and nominal_kilogram > 0):
        raise InputRefused(
            "weight, nominal value", nominal_kilogram, "want-positive", what="mass", example="20 kg"
        )
    return nominal_kilogram
