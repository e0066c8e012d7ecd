"""Whether a threshold that drifts with the pulls is noticed, and what the estimates are worth then."""

from dataclasses import dataclass

from steelyard.readings.threshold import Answer, estimate_threshold, least_fitting, steadiness
from steelyard.simulation.click_tools import ClickTool
from steelyard.simulation.threshold_ways import COVERING, guided_level

DRIFT_PERCENT = -0.05  # from pull to pull
LENGTHS = (20, 40)  # trials
STEP_PERCENT = 0.5


@dataclass(frozen=True, slots=True)
class Drifted:
    """What is said after so many trials. held_mean: the estimate holds the mean over the run.

    held_now: the estimate that allows for a drift holds the mean of the last trial. is_odd: one of the
    answers is asked about.
    """

    is_drifting: bool
    is_changed: bool
    held_mean: bool
    held_now: bool
    is_odd: bool


def drifted(tool: ClickTool) -> tuple[Drifted, ...]:
    """Guided trials of one tool, looked at after each of the lengths."""
    answers: list[Answer] = []
    seen: list[Drifted] = []
    at = estimate_threshold(answers)
    for trial in range(LENGTHS[-1]):
        answers.append(tool.answer(trial, guided_level(answers, at, step=STEP_PERCENT)))
        at = estimate_threshold(answers)
        if trial + 1 in LENGTHS:
            seen.append(_seen(tool, answers))
    return tuple(seen)


def _seen(tool: ClickTool, answers: list[Answer]) -> Drifted:
    at, steady, n = estimate_threshold(answers), steadiness(answers), len(answers)
    least = least_fitting(answers)
    if steady is None or least is None:
        raise ValueError(f"{n} trials are too few")
    return Drifted(
        is_drifting=steady.is_drifting,
        is_changed=steady.is_changed,
        held_mean=at.low_percent <= tool.mean_over(n) <= at.high_percent,
        held_now=abs(steady.now_percent - tool.mean_at(n - 1)) <= COVERING * steady.now_u_percent,
        is_odd=least.is_odd and not steady.is_changed and not steady.is_drifting,
    )
