"""How a ratio is measured: both sides in turn in one process, the least time of each."""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Bar:
    """One ratio: `work` against `floor`, each run `work_times`, `floor_times` per round.

    bound: the ratio must not be above it; None where it only stands for comparison. clock: wall time, or the
    processor's where one side works on several cores.
    """

    name: str
    work: Callable[[], object]
    floor: Callable[[], object]
    bound: float | None = None
    work_times: int = 1
    floor_times: int = 1
    rounds: int = 7
    clock: Callable[[], float] = time.perf_counter


def best_of_three(bar: Bar) -> float:
    """The lowest of three ratios; the first that is within the bound ends it."""
    lowest = math.inf
    for _ in range(3):
        lowest = min(lowest, ratio(bar))
        if bar.bound is None or lowest <= bar.bound:
            break
    return lowest


def ratio(bar: Bar) -> float:
    """Least time of the work over least time of the floor, measured in turn."""
    work = floor = math.inf
    for _ in range(bar.rounds):
        floor = min(floor, seconds(bar.floor, bar.floor_times, bar.clock))
        work = min(work, seconds(bar.work, bar.work_times, bar.clock))
    return work / floor


def seconds(deed: Callable[[], object], times: int, clock: Callable[[], float]) -> float:
    """Of one run, out of several in a row."""
    began = clock()
    for _ in range(times):
        deed()
    return (clock() - began) / times
