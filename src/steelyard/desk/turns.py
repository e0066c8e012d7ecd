"""How far an adjuster was turned, as a person writes it, and as a person should turn it."""

from fractions import Fraction

from steelyard.records import MOST_TURNS, TURN_DEGREES, read_turns
from steelyard.words import say

__all__ = ["MOST_TURNS", "degrees", "read_turns", "said_turns", "struck_by_turning"]


def struck_by_turning() -> tuple[str, ...]:
    """Why a turn, or the lock, strikes out what was read before it."""
    return say("turned-since"), say("locked-since")


def said_turns(turns: float) -> str:
    """A size of turn in fractions that a hand knows: `5/8`, `1 1/4`; none of a sense. turns: ≥ 0, in 1/24."""
    part = Fraction(round(turns * 24), 24)
    whole, rest = divmod(part, 1)
    words = [f"{whole}"] if whole or not rest else []
    return " ".join([*words, f"{rest.numerator}/{rest.denominator}"] if rest else words)


def degrees(turns: float) -> int:
    """The same in whole degrees."""
    return round(abs(turns) * TURN_DEGREES)
