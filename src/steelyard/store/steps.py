"""Telling how far a long task has come, and stopping it."""

from collections.abc import Callable

OnStep = Callable[[int, int], bool]
"""Told how many steps are done, of how many; False stops."""
EVERY = 1000


class Stopped(Exception):
    """Whoever asked wants no more of it; never leaves this room."""


class Steps:
    """Counts, and tells now and then. of: how many there will be."""

    def __init__(self, on_step: OnStep | None, of: int) -> None:
        self._on_step, self._of, self._done = on_step, of, 0
        self._tell()

    def __call__(self) -> None:
        """One more step is done. Raises Stopped."""
        self._done += 1
        if self._done % EVERY == 0 or self._done == self._of:
            self._tell()

    def _tell(self) -> None:
        if self._on_step is not None and not self._on_step(self._done, self._of):
            raise Stopped
