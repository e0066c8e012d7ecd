"""A check in JSON: what a program sends at each step, and what it gets back."""

import math
from dataclasses import asdict
from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field

from steelyard.desk import CheckView, Hanging, Running
from steelyard.web.api_sent import FindingAnswer, Sent, SentKnowing, Text, TextsSent, finding_answer

Phase = Literal["as-found", "as-left"]


class CheckTyped(Sent):
    """A check to begin. tool: its id. why: due, new, dropped, overloaded, repaired, doubt,
    customer, training.
    """

    tool: Text
    why: Text = ""
    title: Text = ""
    note: Text = ""


class LookTyped(SentKnowing):
    """What the eye found. damaged: yes or no; goes_on: `yes` where it is checked all the same."""

    damaged: Text = ""
    goes_on: Text = ""
    look_note: Text = ""


class KitTyped(SentKnowing):
    """With which rig (its id), at which points. plan: full, quick or own; targets, pulls: of an own plan."""

    rig: Text = ""
    plan: Text = ""
    targets: Text = ""
    pulls: Text = ""


class SetUpTyped(TextsSent):
    """The kit as it stands.

    By the names that `offers` lists for this check. `is_ready`: `yes` once everything stands and the cautions
    were read.
    """

    is_ready: Text = ""


class ExerciseTyped(SentKnowing):
    """Pulls before the first reading; 0 where there were none on purpose."""

    exercise_pulls: Text = ""


class VerdictTyped(SentKnowing):
    """Judge a phase. incomplete: `yes` where planned pulls are missing on purpose."""

    phase: Phase = "as-found"
    incomplete: Text = ""


class TurnTyped(SentKnowing):
    """How far the adjuster was turned, such as `1/4`. way: in, out or other."""

    turns: Text = ""
    way: Text = ""
    turn_note: Text = ""


class WaiveTyped(SentKnowing):
    """Why the tool is left as it was found."""

    waive_reason: Text = ""


class CloseTyped(SentKnowing):
    """The day of the next check, empty for none; quarantine, release: `yes` where wanted."""

    next_due: Text = ""
    quarantine: Text = ""
    release: Text = ""
    close_note: Text = ""


class PullTyped(SentKnowing):
    """One pull: `line` for a reading, `no_click` and `click` or `bucket` for a load.

    never_clicked, sure, sent_twice: `yes` where so. Whether a device sent one line twice is for the sender to
    say, who knows when the lines came: here five equal readings sent in one go are five pulls.
    """

    line: Text = ""
    no_click: Text = ""
    click: Text = ""
    bucket: Text = ""
    never_clicked: Text = ""
    sure: Text = ""
    sent_twice: Text = ""


class StrikeTyped(SentKnowing):
    """Why a pull is struck out, in a few words."""

    reason: Text = ""


class CheckAnswer(BaseModel):
    """A check: each step as it was taken, with the number of its entry; what was not done is null or empty.

    now: the step to go on with. steps: the state of each. last: number of the last entry, for `seen`.
    closed: with the number of the record, once it is sealed.
    """

    id: str
    first: int
    last: int
    now: str
    steps: dict[str, str]
    tool: str
    tool_number: str
    why: str
    note: str | None
    title: str | None
    day: str
    opened: dict[str, Any]
    look: dict[str, Any] | None
    choice: dict[str, Any] | None
    setup: dict[str, Any] | None
    exercise: list[dict[str, Any]]
    pulls: list[dict[str, Any]]
    verdicts: dict[str, dict[str, Any]]
    turns: list[dict[str, Any]]
    locked: dict[str, Any] | None = None
    waived: dict[str, Any] | None
    attachments: list[dict[str, Any]]
    closed: dict[str, Any] | None
    corrections: list[dict[str, Any]]


class CheckListed(BaseModel):
    """A check in hand. opened: when and by whom."""

    id: str
    last: int
    tool: str
    tool_number: str
    title: str | None
    why: str
    day: str
    opened: dict[str, Any]


class KitOffered(BaseModel):
    """A rig that fits the tool; what it can decide stands at /api/rigs/{rig}/ability."""

    rig: str
    name: str
    sort: str


class SetUpOffered(BaseModel):
    """The fields of the kit that was chosen, and what stands in them.

    load_0, load_1 …: the load at each point, asked where the tool shows the torque of a known load;
    hang_kilogram: what must hang in all at each of them, empty where no load is asked.
    """

    sort: str
    names: list[str]
    values: dict[str, str]
    masses: list[str]
    scales: list[str]
    hang_kilogram: list[float | None]


class Offers(BaseModel):
    """What the pages of a check offer. exercise_pulls: how many are usual. set_up: once a kit was chosen."""

    kits: list[KitOffered]
    plans: list[str]
    set_up: SetUpOffered | None
    exercise_pulls: int
    strike_reasons: list[str]
    next_due: str | None


class PullAnswer(BaseModel):
    """A pull and what the kit makes of it. number: of its entry. struck_out: why it does not count.

    loads: what hung, as typed. kilogram: in all, between the two where there are two; half of what lies
    between them to either side; null where nothing hung. clicked: the answer of a yes/no trial, null where it
    is none; set, at_mark: what the tool was set to and where the load hung, as typed, null where as planned.
    """

    number: int
    typed: str
    torque_newton_metre: float
    shown_newton_metre: float
    iso_percent: float | None
    struck_out: str | None
    never_clicked: bool
    at: str
    loads: list[str]
    kilogram: float | None
    half_step_kilogram: float
    clicked: bool | None
    set: str | None
    at_mark: str | None


class HangingAnswer(BaseModel):
    """What hangs at a point. target: in all, so that the kit says the target; null where nobody can say.

    always: what is counted by itself at every pull. load: as said at the set-up, where the tool shows a
    torque. begin: own masses to begin a pull with, safely below the click.
    """

    target_kilogram: float | None
    always: str
    always_kilogram: float
    load: str
    load_kilogram: float | None
    begin: str
    begin_kilogram: float | None


class PointAnswer(BaseModel):
    """A point as it stands, its figures approximate until the verdict.

    held: what the pulls are held against. low, high: between them a pull is inside the limit; null: no end.
    counted: pulls that count; from two on there is a deviation. bolts_get: of what was asked.
    hanging: null where nothing hangs.
    """

    target: str
    direction: str
    planned: int
    counted: int
    limit_percent: float | None
    held_newton_metre: float
    low_newton_metre: float | None
    high_newton_metre: float | None
    mean_newton_metre: float | None
    deviation_percent: float | None
    low_percent: float | None
    high_percent: float | None
    expanded_percent: float | None
    bolts_get_percent: float | None
    pulls: list[PullAnswer]
    hanging: HangingAnswer | None
    doubts: list[FindingAnswer]


class PullKept(PointAnswer):
    """The point after a pull. pull: number of its entry, by which it is struck out."""

    pull: Annotated[int, Field(ge=1)]


def check_answer(view: CheckView) -> CheckAnswer:
    """A check as a program is told of it."""
    kept = {name: view.body[name] for name in CheckAnswer.model_fields if name in view.body}
    steps = {standing.step.value: standing.state.value for standing in view.steps}
    return CheckAnswer(**{**kept, "steps": steps, "now": view.now.value})


def point_answer(running: Running) -> dict[str, Any]:
    """The fields of a `PointAnswer`; what has no end, or is no number, is null."""
    figures = {name: value for name, value in vars(running).items() if name in PointAnswer.model_fields}
    return {
        **{name: _number(value) for name, value in figures.items()},
        "target": running.point.target.typed,
        "direction": running.point.direction,
        "counted": running.counted,
        "pulls": [PullAnswer(**asdict(pull)) for pull in running.pulls],
        "hanging": _hanging(running.hanging),
        "doubts": [finding_answer(doubt) for doubt in running.doubts],
    }


def _hanging(hangs: Hanging | None) -> HangingAnswer | None:
    if hangs is None:
        return None
    return HangingAnswer(**{name: getattr(hangs, name) for name in HangingAnswer.model_fields})


def _number(value: Any) -> Any:
    return None if isinstance(value, float) and not math.isfinite(value) else value
