"""How far a simulation is, on standard error."""

import sys
from typing import TYPE_CHECKING

from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk.simulate import Progress


def progress_line() -> "Progress":
    """Says on standard error how far it is: one line renewed on a terminal, elsewhere a line every tenth."""
    is_terminal = sys.stderr.isatty()
    parts, start, end = (1000, "\r", "") if is_terminal else (10, "", "\n")

    def said(part: int, whole: int) -> None:
        if part * parts // whole != (part - 1) * parts // whole:
            sentence = say("program-progress", part=part, whole=whole)
            last = "\n" if is_terminal and part == whole else end
            print(start + sentence, end=last, file=sys.stderr, flush=True)

    return said
