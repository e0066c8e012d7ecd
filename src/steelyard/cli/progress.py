"""How far a long task is, on standard error; and stopping it between two steps."""

import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from steelyard.words import say

FIRST_AFTER_SECONDS = 1.0
EVERY_SECONDS, EVERY_SECONDS_IN_A_FILE = 0.2, 5.0


@contextmanager
def stoppable_steps() -> Iterator[Callable[[int, int], bool]]:
    """The same with Ctrl-C answering False at the next step; a second Ctrl-C is the usual one."""
    is_over = threading.Event()

    def stop(*_: object) -> None:
        is_over.set()
        signal.signal(signal.SIGINT, before)

    said = said_steps()
    before = signal.signal(signal.SIGINT, stop)
    try:
        yield lambda done, of: said(done, of) and not is_over.is_set()
    finally:
        signal.signal(signal.SIGINT, before)


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
