"""Ways of finding the threshold of one made-up tool from clicks, each as a shop might go about it."""

import math
from dataclasses import dataclass
from enum import StrEnum

from steelyard.errors import InputRefused
from steelyard.readings.threshold import (
    Answer,
    Threshold,
    dixon_mood,
    estimate_threshold,
    likeliest_threshold,
    most_telling,
)
from steelyard.simulation.click_tools import TRIPS, ClickTool

TRIALS, MOST_TRIALS = 10, 20
SURE_PERCENT = 0.5  # standard uncertainty of the threshold that counts as sure
LOWEST_PERCENT = -12.0  # where a rising staircase begins
REACH_PERCENT = 15.0  # settings that can be made, to either side
NEAR = 3.0  # standard uncertainties about the estimate inside which the next trial is sought
COVERING = 1.959963984540054  # of a normal distribution at 95 %


class Method(StrEnum):
    """GUIDED: the trial that tells most next. UP_DOWN: one step down after a click, else up.

    Both by the posterior. DIXON_MOOD, PROBIT: the same up-and-down run by the older sums. RISING: from far
    below until the first click, the middle of the last step.
    """

    GUIDED = "guided"
    UP_DOWN = "up-down"
    DIXON_MOOD = "dixon-mood"
    PROBIT = "probit"
    RISING = "rising"

    @property
    def is_posterior(self) -> bool:
        """Estimated by the posterior."""
        return self in (Method.GUIDED, Method.UP_DOWN)


@dataclass(frozen=True, slots=True)
class ThresholdWay:
    """A method with the step between levels. [%]"""

    method: Method
    step_percent: float


@dataclass(frozen=True, slots=True)
class Found:
    """What came of one tool. error: estimate less truth, [%]; None where the way gives no estimate.

    held: its 95 % interval holds the truth. trials: that were made for it. sure_after: trials until u is
    at most 0.5 %; None where not within 20. sd_after: the same of the posterior's standard deviation, which
    the large scatters that are still possible widen.
    """

    error: float | None
    held: bool
    trials: int
    sure_after: int | None = None
    sd_after: int | None = None


def found(way: ThresholdWay, tool: ClickTool) -> Found:
    """Try a tool, estimate its threshold, compare with the truth."""
    match way.method:
        case Method.GUIDED | Method.UP_DOWN:
            return _by_posterior(way, tool)
        case Method.DIXON_MOOD:
            return _by_sums(way, tool)
        case Method.PROBIT:
            return _by_likelihood(way, tool)
        case Method.RISING:
            return _rising(way, tool)


def _by_posterior(way: ThresholdWay, tool: ClickTool) -> Found:
    answers: list[Answer] = []
    at = counted = estimate_threshold(answers)
    sure, narrow, level = None, None, 0.0
    for trial in range(MOST_TRIALS):
        if way.method is Method.GUIDED:
            level = guided_level(answers, at, step=way.step_percent)
        answers.append(tool.answer(trial, level))
        level = _next_level(level, answers[-1], way.step_percent)
        at = estimate_threshold(answers)
        done = trial + 1
        sure = done if sure is None and at.u_percent <= SURE_PERCENT else sure
        narrow = done if narrow is None and at.sd_percent <= SURE_PERCENT else narrow
        if done == TRIALS:
            counted = at
        if done >= TRIALS and sure is not None and narrow is not None:
            break
    held = counted.low_percent <= tool.threshold <= counted.high_percent
    return Found(counted.percent - tool.threshold, held, TRIALS, sure, narrow)


def guided_level(answers: list[Answer], at: Threshold, *, step: float) -> float:
    """The level that tells most next, of those that can be set near the estimate. [%]"""
    near = max(NEAR * at.sd_percent, 2 * step)
    first, last = (math.floor(REACH_PERCENT / step) * sign for sign in (-1, 1))
    levels = [step * i for i in range(first, last + 1)]
    tried = [x for x in levels if abs(x - at.percent) <= near] or levels
    return tried[most_telling(answers, tried, estimate_percent=at.percent)]


def _next_level(level: float, answer: Answer, step: float) -> float:
    """One step down after a click, one up after none. [%]"""
    return level - step if math.isinf(answer.low_percent) else level + step


def _up_and_down(tool: ClickTool, step: float) -> list[Answer]:
    level, answers = 0.0, []
    for trial in range(TRIALS):
        answers.append(tool.answer(trial, level))
        level = _next_level(level, answers[-1], step)
    return answers


def _by_sums(way: ThresholdWay, tool: ClickTool) -> Found:
    answers = _up_and_down(tool, way.step_percent)
    responded = [math.isinf(a.low_percent) for a in answers]
    levels = [a.high_percent if y else a.low_percent for a, y in zip(answers, responded, strict=True)]
    try:
        sums = dixon_mood(levels, responded, step=way.step_percent)
    except InputRefused:
        return Found(None, False, TRIALS)
    return _found(sums.mean - tool.threshold, sums.s / math.sqrt(sums.counted))


def _by_likelihood(way: ThresholdWay, tool: ClickTool) -> Found:
    try:
        likeliest = likeliest_threshold(_up_and_down(tool, way.step_percent))
    except InputRefused:
        return Found(None, False, TRIALS)
    return _found(likeliest.mean - tool.threshold, likeliest.mean_error)


def _found(error: float, u: float) -> Found:
    return Found(error, abs(error) <= COVERING * u, TRIALS)


def _rising(way: ThresholdWay, tool: ClickTool) -> Found:
    for trial in range(TRIPS):
        level = LOWEST_PERCENT + way.step_percent * trial
        if math.isinf(tool.answer(trial, level).low_percent):
            error = level - way.step_percent / 2 - tool.threshold
            return Found(error, abs(error) <= way.step_percent / 2, trial + 1)
    return Found(None, False, TRIPS)
