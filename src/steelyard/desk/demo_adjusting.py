"""The part of the story in which a tool is asked by yes or no and its adjuster is turned as advised."""

from collections.abc import Callable

from steelyard.adjustment import Sort
from steelyard.desk.acting import Acting
from steelyard.desk.adjusting import lock_adjuster, turn_adjuster
from steelyard.desk.bench import check_body, exercise
from steelyard.desk.bench_verdict import judge_phase
from steelyard.desk.guide import guide
from steelyard.desk.trial_answers import answer_trial
from steelyard.desk.trials import trials_at
from steelyard.desk.turns import said_turns
from steelyard.records import AS_FOUND, AS_LEFT
from steelyard.simulation import Adjusts, HiddenTool, hidden_tool

MOST_TURNS = 6
AFTER_LOCK = "3"
WHOLE = {"incomplete": "yes"}

Act = Callable[[], Acting]
"""Somebody at the next moment of the story."""


def play_adjusting(act: Act, check: str, deed: Adjusts) -> str:
    """From the first trial as found to the verdict as left, following what is advised; the verdict.

    act: who does it, a moment later at each call. check: set up and exercised.
    """
    tool = hidden_tool(deed)
    _ask(act, check, AS_FOUND, tool, most=deed.most_trials)
    judge_phase(act(), check, AS_FOUND, WHOLE)
    for _ in range(MOST_TURNS):
        acting = act()
        said = guide(acting.ledger, check_body(acting.ledger, check))
        if said is None or said.advice is None or said.advice.sort is Sort.STAY:
            break
        turn_adjuster(acting, check, {"turns": said_turns(abs(said.advice.turns)), "way": said.way})
        tool.turn(said.advice.turns)
        _ask(act, check, AS_LEFT, tool, most=deed.most_between)
    lock_adjuster(act(), check, {"lock_note": deed.lock_note})
    tool.lock()
    exercise(act(), check, {"exercise_pulls": AFTER_LOCK})
    _ask(act, check, AS_LEFT, tool, most=deed.most_trials)
    return judge_phase(act(), check, AS_LEFT, WHOLE)


def _ask(act: Act, check: str, phase: str, tool: HiddenTool, *, most: int) -> None:
    """Every point by what the bench says to hang, until it says enough."""
    acting = act()
    count = len(check_body(acting.ledger, check)["setup"]["points"])
    for point in range(count):
        for _ in range(most):
            acting = act()
            trials = trials_at(check_body(acting.ledger, check), phase, point)
            if trials.enough is not None or trials.next is None:
                break
            clicked = tool.clicks(trials.point.target.base, trials.next.level_percent)
            answer = {"load": trials.next.load, "clicked": "yes" if clicked else "no"}
            answer_trial(acting, check, phase, point, answer)
