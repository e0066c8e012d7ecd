"""The bench for a program, as JSON: every step of a check, by the same fields as its pages."""

from dataclasses import asdict
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from fastapi import Body as Sent
from fastapi.responses import JSONResponse

from steelyard.desk import (
    Acting,
    Running,
    Step,
    check_view,
    checks_in_hand,
    choose_kit,
    close_check,
    exercise,
    judge_phase,
    look_over,
    open_check,
    points_at_a_glance,
    read_pull,
    running_point,
    set_up,
    strike_out,
    take_back,
    turn_adjuster,
    waive_adjusting,
)
from steelyard.errors import NotFound
from steelyard.web.asked import Ask, Asked, Typed
from steelyard.words import say

router = APIRouter(prefix="/api/checks")
Texts = Annotated[dict[str, str], Sent()]
Phase = Literal["as-found", "as-left"]
Deed = Literal["look", "kit", "set-up", "exercise", "verdict", "adjust", "waive", "close"]


@router.get("")
def get_checks(ask: Asked) -> JSONResponse:
    """The checks in hand, the latest first."""
    return JSONResponse([dict(listed.body) for listed in checks_in_hand(ask.workshop.ledger)])


@router.post("")
def post_check(ask: Asked, texts: Texts) -> JSONResponse:
    """Begin a check: `tool`, `why`, and perhaps `title` and `note`."""
    return JSONResponse(_check(ask, open_check(_acting(ask, texts), texts.get("tool", ""), texts)), 201)


@router.get("/{check}")
def get_check(ask: Asked, check: str) -> JSONResponse:
    """A check with all its steps, pulls and verdicts; `now` is the step to go on with."""
    return JSONResponse(_check(ask, check))


@router.post("/{check}/{deed}")
def post_deed(ask: Asked, check: str, deed: Deed, texts: Texts) -> JSONResponse:
    """One step, with the fields of its page as texts.

    `look`: damaged, goes_on, look_note. `kit`: rig, plan, targets, pulls. `set-up`: arm, droop, drop,
    axis, zeroed, mode …, is_ready. `exercise`: exercise_pulls. `verdict`: phase, incomplete. `adjust`:
    turns, way, turn_note.
    `waive`: waive_reason. `close`: next_due, quarantine, release, close_note. `submission` makes a repeat
    harmless; `seen` is the `last` that was known of the check.
    """
    acting, seen = _acting(ask, texts), Typed(texts).seen
    match deed:
        case "look":
            look_over(acting, check, texts, seen=seen)
        case "kit":
            choose_kit(acting, check, texts, seen=seen)
        case "set-up":
            set_up(acting, check, texts, seen=seen)
        case "exercise":
            exercise(acting, check, texts, seen=seen)
        case "verdict":
            judge_phase(acting, check, texts.get("phase", "as-found"), texts)
        case "adjust":
            turn_adjuster(acting, check, texts)
        case "waive":
            waive_adjusting(acting, check, texts)
        case "close":
            close_check(acting, check, texts, seen=seen)
    return JSONResponse(_check(ask, check))


@router.get("/{check}/{phase}/{point}")
def get_point(ask: Asked, check: str, phase: Phase, point: int) -> JSONResponse:
    """A point as it stands: its pulls and approximate figures. point: its place in the plan, from 0."""
    return JSONResponse(_point(ask, check, phase, point))


@router.post("/{check}/{phase}/{point}")
def post_pull(ask: Asked, check: str, phase: Phase, point: int, texts: Texts) -> JSONResponse:
    """One pull: `line`, or `no_click` and `click`, or `bucket`.

    `never_clicked`, `sure` and `sent_twice` as `yes`.
    """
    entry = read_pull(_acting(ask, texts), check, phase, point, texts, seen=Typed(texts).seen)
    return JSONResponse({"pull": entry.number, **_point(ask, check, phase, point)}, 201)


@router.post("/{check}/pulls/{pull}/strike")
def post_strike(ask: Asked, check: str, pull: int, texts: Texts) -> JSONResponse:
    """Strike a pull out: `reason`. pull: the number of its entry."""
    strike_out(_acting(ask, texts), check, pull, texts)
    return get_check(ask, check)


@router.post("/{check}/pulls/{pull}/take-back")
def post_take_back(ask: Asked, check: str, pull: int, texts: Texts) -> JSONResponse:
    """Count a struck-out pull again."""
    take_back(_acting(ask, texts), check, pull)
    return get_check(ask, check)


def _acting(ask: Ask, texts: dict[str, str]) -> Acting:
    return ask.acting(Typed(texts))


def _check(ask: Ask, check: str) -> dict[str, Any]:
    view = check_view(ask.workshop.ledger, check)
    steps = {standing.step.value: standing.state.value for standing in view.steps}
    return {**view.body, "steps": steps, "now": view.now.value}


def _point(ask: Ask, check: str, phase: str, point: int) -> dict[str, Any]:
    body = check_view(ask.workshop.ledger, check).body
    if not 0 <= point < len(points_at_a_glance(body, phase)):
        raise NotFound(say(f"step-{Step.SET_UP}") if body["setup"] is None else f"{phase} {point}")
    return _running(running_point(body, phase, point))


def _running(running: Running) -> dict[str, Any]:
    """A point in JSON types, its doubts as codes, facts and sentences."""
    content = {key: value for key, value in vars(running).items() if key not in ("point", "pulls", "doubts")}
    return {
        "target": running.point.target.typed,
        "direction": running.point.direction,
        **content,
        "counted": running.counted,
        "pulls": [asdict(pull) for pull in running.pulls],
        "doubts": [
            {
                "code": doubt.code,
                "severity": doubt.severity.value,
                "facts": dict(doubt.facts),
                "sentence": say(doubt.code, **doubt.facts),
            }
            for doubt in running.doubts
        ],
    }
