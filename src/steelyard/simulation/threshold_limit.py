"""Tools that stand on their limit, tried until the answers call them in: how often that happens by chance."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from steelyard.evaluation import FEWEST_FOR_IN, IN_TAIL, TAIL
from steelyard.readings.threshold import Answer, Threshold, estimate_threshold
from steelyard.simulation.click_tools import click_tool
from steelyard.simulation.threshold_ways import MOST_TRIALS, guided_level

STOOD_ON_PERCENT = 4.0  # to either side
STEP_PERCENT = 0.5


@dataclass(frozen=True, slots=True)
class LimitCell:
    """Counts over tools on their limit, the kit free of error. tools: how many.

    called_in: by the rule for answers, after any of them; by_interval: had the 95 % interval been enough, and
    two answers: what the rule guards against.
    """

    scatter: float
    tools: int
    called_in: int
    by_interval: int


def limit_cell(scatter: float, *, tools: int, seed: int, step: Callable[[], None]) -> LimitCell:
    """Guided trials, looked at after each one, of tools on the upper and on the lower limit in turn.

    step: called after each tool.
    """
    called_in = by_interval = 0
    for number in range(tools):
        sooner, later = _called(scatter, number, seed=seed)
        by_interval += sooner
        called_in += later
        step()
    return LimitCell(scatter, tools, called_in, by_interval)


def _called(scatter: float, number: int, *, seed: int) -> tuple[bool, bool]:
    """Whether one tool is ever called in: by its interval alone, and by the rule."""
    limit = STOOD_ON_PERCENT if number % 2 else -STOOD_ON_PERCENT
    tool = replace(click_tool(seed, number, scatter=scatter), threshold=limit)
    answers: list[Answer] = []
    at = estimate_threshold(answers)
    sooner = False
    for trial in range(MOST_TRIALS):
        answers.append(tool.answer(trial, guided_level(answers, at, step=STEP_PERCENT)))
        at = estimate_threshold(answers)
        sooner = sooner or _is_inside(at, TAIL)
        if len(answers) >= FEWEST_FOR_IN and _is_inside(at, IN_TAIL):
            return sooner, True
    return sooner, False


def _is_inside(at: Threshold, tail: float) -> bool:
    ends = at.quantile(tail), at.quantile(1 - tail)
    return at.is_two_sided and ends[0] >= -STOOD_ON_PERCENT and ends[1] <= STOOD_ON_PERCENT
