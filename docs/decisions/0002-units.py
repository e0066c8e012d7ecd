"""Evidence for 0002-units.md: pint as oracle, the traps, and the cost of either way."""

import math
import subprocess
import sys
import time
import timeit
import warnings
from fractions import Fraction

import pint

from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, read_quantity

SPELLED_FOR_PINT = {
    "N·m": "N*m",
    "lbf·ft": "lbf*ft",
    "lbf·in": "lbf*inch",
    "kgf·m": "kgf*m",
    "kgf·cm": "kgf*cm",
    "cN·m": "cN*m",
    "dN·m": "dN*m",
    "mN·m": "mN*m",
    "kN·m": "kN*m",
    "ozf·in": "ozf*inch",
    "gf·cm": "gf*cm",
}
TYPED = (
    "12.5 Nm",
    "12,5 N*m",
    "20 ftlb",
    "20 ft lb",
    "20 ft-lb",
    "1,000 N*m",
    "5 mkg",
    "12.5 nm",
    "12.5 MNm",
)
IMPORTS = ("pass", "import steelyard.quantities", "import pint; pint.UnitRegistry()")


def same_factors() -> None:
    """How many of our torque factors pint gives as the same exact fraction."""
    registry = pint.UnitRegistry(non_int_type=Fraction)
    units = UNITS[Dimension.TORQUE]
    same = sum(
        registry.Quantity(Fraction(1), SPELLED_FOR_PINT[symbol]).to("N*m").magnitude == unit.factor
        for symbol, unit in units.items()
    )
    print(f"torque units with the same exact fraction in pint: {same} of {len(units)}")


def pint_reads(registry: pint.UnitRegistry, text: str) -> str:
    """What pint makes of a typed text, or the name of its error."""
    try:
        return str(registry.Quantity(text))
    except pint.errors.PintError as error:
        return type(error).__name__


def we_read(text: str) -> str:
    """What we make of it."""
    try:
        quantity = read_quantity(text, Dimension.TORQUE, field="torque")
    except InputRefused:
        return "refused, with what is wanted"
    return f"{quantity.number} {quantity.unit.symbol}"


def traps() -> None:
    """The same typed texts, read by both."""
    registry = pint.UnitRegistry()
    print(f"{'typed':12} | {'pint':34} | here")
    for text in TYPED:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            print(f"{text:12} | {pint_reads(registry, text):34} | {we_read(text)}")


def cost() -> None:
    """Ratios of a conversion, of a reading and of the start-up, interleaved, the best of each."""
    registry = pint.UnitRegistry()
    newton_metre = UNITS[Dimension.TORQUE]["N·m"]
    ours, theirs = read_quantity("80 lbf·ft", Dimension.TORQUE, field="t"), registry.Quantity(80.0, "lbf*ft")
    calls = {
        "our converting": lambda: ours.to(newton_metre),
        "pint converting": lambda: theirs.to("N*m"),
        "our reading": lambda: read_quantity("80 lbf·ft", Dimension.TORQUE, field="t"),
        "pint reading": lambda: registry.Quantity("80 lbf*ft"),
    }
    best = {name: math.inf for name in (*calls, *IMPORTS)}
    for _ in range(20):
        for name, call in calls.items():
            best[name] = min(best[name], timeit.timeit(call, timer=time.process_time, number=100))
    for _ in range(7):
        for code in IMPORTS:
            best[code] = min(best[code], started(code))
    for verb in ("converting", "reading"):
        print(f"pint {verb} / our {verb}: {best[f'pint {verb}'] / best[f'our {verb}']:.1f}")
    bare, mine, pints = (best[code] for code in IMPORTS)
    print(f"start-up in bare Pythons: our units {mine / bare:.1f}, pint with its table {pints / bare:.1f}")


def started(code: str) -> float:
    """Wall time of one interpreter that runs `code`. [s]"""
    return timeit.timeit(lambda: subprocess.run([sys.executable, "-c", code], check=True), number=1)


if __name__ == "__main__":
    same_factors()
    traps()
    cost()
