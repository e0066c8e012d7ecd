"""The key under a chart: symbol and word, as many to a line as fit."""

from collections.abc import Callable, Sequence

from steelyard.charts.svg import text
from steelyard.charts.wording import room

ROW, SYMBOL, BETWEEN, BASE = 24.0, 24.0, 14.0, 5.0

Symbol = Callable[[float, float], str]
"""Draws a symbol about a middle."""


def legend(
    entries: Sequence[tuple[Symbol, str]], *, left: float, right: float, top: float
) -> tuple[str, float]:
    """The key and where it ends. top: of its first line."""
    drawn: list[str] = []
    x, y = left, top + ROW / 2
    for symbol, word in entries:
        width = SYMBOL + room(word)
        if x > left and x + width > right:
            x, y = left, y + ROW
        drawn += [symbol(x + SYMBOL / 2 - 4, y), text(word, x + SYMBOL, y + BASE)]
        x += width + BETWEEN
    return "".join(drawn), y + ROW / 2
