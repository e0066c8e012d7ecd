"""How far an adjuster was turned, as a person writes it."""

import re
from fractions import Fraction

from steelyard.errors import InputRefused

MOST_TURNS = 50
MIXED = re.compile(r"(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)")
DECIMAL = re.compile(r"\d+(?:[.,]\d+)?")
DEGREES = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:°|deg|degrees?)")
VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
TURN_DEGREES = 360


def read_turns(text: str, *, field: str) -> float:
    """Turns in `1/4`, `1 1/2`, `½`, `0.25`, `0,25`, `90°`; the word `turn` may follow. [turn] > 0

    Raises InputRefused with the field.
    """
    bare = text.strip().lower()
    for sign, written in VULGAR.items():
        bare = bare.replace(sign, f" {written}").strip()
    bare = re.sub(r"\s*(?:of a )?turns?$", "", bare)
    turns = _turns(bare)
    if turns is None or not 0 < turns <= MOST_TURNS:
        raise InputRefused(field, text, "want-turns", most=MOST_TURNS)
    return float(turns)


def _turns(bare: str) -> Fraction | None:
    mixed, degrees = MIXED.fullmatch(bare), DEGREES.fullmatch(bare)
    if mixed is not None:
        whole, over, under = mixed.groups()
        return Fraction(int(whole or 0)) + Fraction(int(over), int(under)) if int(under) else None
    if degrees is not None:
        return Fraction(degrees[1].replace(",", ".")) / TURN_DEGREES
    return Fraction(bare.replace(",", ".")) if DECIMAL.fullmatch(bare) else None
