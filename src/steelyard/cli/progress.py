"""How far a long task is, on standard error."""

import sys
import time
from collections.abc import Callable

from steelyard.words import say

FIRST_AFTER_SECONDS = 1.0
EVERY_SECONDS, EVERY_SECONDS_IN_A_FILE = 0.2, 5.0


def said_steps() -> Callable[[int, int], bool]:
    """Told of steps done, of how many: says so now and then, on a terminal in one line; stops nothing."""
    is_terminal = sys.stderr.isatty()
    every = EVERY_SECONDS if is_terminal else EVERY_SECONDS_IN_A_FILE
    start, end = ("\r", "") if is_terminal else ("", "\n")
    begun = time.monotonic()
    last: float | None = None

    def said(done: int, of: int) -> bool:
        nonlocal last
        now = time.monotonic()
        is_due = now - begun >= FIRST_AFTER_SECONDS if last is None else now - last >= every
        if is_due or (last is not None and done == of):
            line = start + say("program-progress", part=done, whole=of)
            print(line, end="\n" if done == of else end, file=sys.stderr, flush=True)
            last = now
        return True

    return said
