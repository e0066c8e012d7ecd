"""Yes/no trials and poured runs for a program: what to try next, one answer, one run, the water."""

from typing import Annotated, Any

from fastapi import APIRouter, Query
from pydantic import BaseModel

from steelyard.desk import (
    Step,
    Trials,
    Way,
    answer_trial,
    check_view,
    end_run,
    is_set_up,
    points_at_a_glance,
    running_point,
    say_water,
    trials_at,
    trials_content,
)
from steelyard.errors import NotFound
from steelyard.web.api_check import CheckAnswer, Phase, PullKept, check_answer, point_answer
from steelyard.web.api_sent import Asked, FindingAnswer, SentKnowing, Text, finding_answer
from steelyard.web.asked import Ask
from steelyard.words import say

router = APIRouter(prefix="/api/checks", tags=["bench"])
PointAsked = Annotated[int, Query(description="Its place in the plan, from 0.")]
AtAsked = Annotated[
    Text | None,
    Query(description="Another mark, such as `380 mm`; empty: the kit's own; left out: the last."),
]


class TrialTyped(SentKnowing):
    """One answer. load: what hung. clicked: yes or no. set: what the tool was set to, left out: the target.

    at: the mark, left out: the kit's own. sure: `yes` for a load far from what the target asks for.
    """

    phase: Phase = "as-found"
    point: int = 0
    load: Text = ""
    clicked: Text = ""
    set: Text = ""
    at: Text = ""
    sure: Text = ""


class RunTyped(SentKnowing):
    """One run of pouring. shows: what the scale shows, bucket and all; scale: its name; beside: weights that
    hung with it. ended: clicked, or never where the bucket was full. sure: `yes` where far from the target.
    """

    phase: Phase = "as-found"
    point: int = 0
    shows: Text = ""
    scale: Text = ""
    beside: Text = ""
    ended: Text = ""
    sure: Text = ""


class WaterTyped(SentKnowing):
    """How much water may run in after the click, at most, such as `20 g`."""

    dribble: Text = ""


class ThresholdAnswer(BaseModel):
    """What the answers say of the tool alone, T/X − 1. sides: none, only-clicks, only-no-clicks, separated,
    mixed; of one side alone there is a bound in `bracket_percent` and no estimate.
    """

    answers: int
    sides: str
    percent: float
    low_percent: float
    high_percent: float
    scatter_percent: float
    scatter_low_percent: float
    scatter_high_percent: float
    bracket_percent: list[float | None]


class NextTrial(BaseModel):
    """The most telling trial. way: load, setting or poured. level: T/X − 1. at: null: the kit's own mark."""

    way: str
    load: str
    kilogram: float
    set: str
    set_newton_metre: float
    at: str | None
    level_percent: float


class TrialsAnswer(BaseModel):
    """A point by its yes/no answers. bolts_get, low, high: with the kit's ±, null without an estimate.

    enough: verdict, kit or fine, null where more would tell. next: null where no load near can be made.
    last: number of the last entry, for `seen`.
    """

    target: str
    direction: str
    last: int
    threshold: ThresholdAnswer | None
    bolts_get_percent: float | None
    low_percent: float | None
    high_percent: float | None
    expanded_percent: float | None
    limit_percent: float | None
    verdict_now: str | None
    enough: str | None
    drift_percent_per_trial: float | None
    ways: list[Way]
    next: NextTrial | None
    doubts: list[FindingAnswer]


class TrialKept(TrialsAnswer):
    """The point after an answer. pull: number of its entry, by which it is struck out."""

    pull: int


@router.get("/{check}/trials")
def get_trials(
    ask: Asked,
    check: str,
    phase: Phase = "as-found",
    point: PointAsked = 0,
    way: Way | None = None,
    at: AtAsked = None,
) -> TrialsAnswer:
    """A point by its yes/no answers, with the next trial; `way` and `at` ask for one of another sort."""
    return TrialsAnswer(**_trials(ask, check, phase, point, way=way, at=at))


@router.post("/{check}/trials", status_code=201)
def post_trial(ask: Asked, check: str, body: TrialTyped) -> TrialKept:
    """Keep one answer."""
    typed = body.typed()
    entry = answer_trial(ask.acting(typed), check, body.phase, body.point, typed.values, seen=typed.seen)
    return TrialKept(pull=entry.number, **_trials(ask, check, body.phase, body.point))


@router.post("/{check}/runs", status_code=201)
def post_run(ask: Asked, check: str, body: RunTyped) -> PullKept:
    """Keep one run of pouring until it clicks, or until the bucket is full."""
    typed = body.typed()
    entry = end_run(ask.acting(typed), check, body.phase, body.point, typed.values, seen=typed.seen)
    point = running_point(check_view(ask.workshop.ledger, check).body, body.phase, body.point)
    return PullKept(pull=entry.number, **point_answer(point))


@router.post("/{check}/water")
def post_water(ask: Asked, check: str, body: WaterTyped) -> CheckAnswer:
    """Say how much water may run in after the click; it counts for all runs of the check."""
    typed = body.typed()
    say_water(ask.acting(typed), check, typed.values, seen=typed.seen)
    return check_answer(check_view(ask.workshop.ledger, check))


def _trials(
    ask: Ask, check: str, phase: str, point: int, *, way: Way | None = None, at: str | None = None
) -> dict[str, Any]:
    """Raises NotFound where there is no such point, or none yet."""
    body = check_view(ask.workshop.ledger, check).body
    if not is_set_up(body):
        raise NotFound(say(f"step-{Step.SET_UP}"))
    if not 0 <= point < len(points_at_a_glance(body, phase)):
        raise NotFound(f"{phase} {point}")
    trials: Trials = trials_at(body, phase, point, way=way, at=at)
    doubts = [finding_answer(doubt) for doubt in trials.doubts]
    return {**trials_content(trials), "last": body["last"], "doubts": doubts}
