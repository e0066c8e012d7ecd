"""The bench for a program: every step of a check, by the same fields as its pages."""

from typing import Annotated

from fastapi import APIRouter, Body, Path

from steelyard.desk import (
    PLANS,
    STRIKE_REASONS,
    CheckView,
    Running,
    Step,
    ToolKind,
    attach_photograph,
    check_view,
    checks_in_hand,
    choose_kit,
    close_check,
    exercise,
    fitting_rigs,
    is_set_up,
    judge_phase,
    look_over,
    offered_due,
    open_check,
    points_at_a_glance,
    read_pull,
    running_point,
    set_up,
    setup_fields,
    strike_out,
    take_back,
    turn_adjuster,
    usual_exercise,
    verdict_at_close,
    waive_adjusting,
)
from steelyard.errors import NotFound
from steelyard.web.api_check import (
    CheckAnswer,
    CheckListed,
    CheckTyped,
    CloseTyped,
    ExerciseTyped,
    KitOffered,
    KitTyped,
    LookTyped,
    Offers,
    Phase,
    PointAnswer,
    PullKept,
    PullTyped,
    SetUpOffered,
    SetUpTyped,
    StrikeTyped,
    TurnTyped,
    VerdictTyped,
    WaiveTyped,
    check_answer,
    point_answer,
)
from steelyard.web.api_sent import PHOTOGRAPH, Asked, SentKnowing, Text, Token
from steelyard.web.asked import Ask, Typed
from steelyard.words import say

router = APIRouter(prefix="/api/checks", tags=["bench"])
PullNumber = Annotated[int, Path(description="The number of its entry.")]
PointNumber = Annotated[int, Path(description="Its place in the plan, from 0.")]


@router.get("")
def get_checks(ask: Asked) -> list[CheckListed]:
    """The checks in hand, the latest first."""
    found = checks_in_hand(ask.workshop.ledger)
    return [CheckListed(**{name: one.body[name] for name in CheckListed.model_fields}) for one in found]


@router.post("", status_code=201)
def post_check(ask: Asked, body: CheckTyped) -> CheckAnswer:
    """Begin a check."""
    typed = body.typed()
    return _check(ask, open_check(ask.acting(typed), typed["tool"], typed.values))


@router.get("/{check}")
def get_check(ask: Asked, check: str) -> CheckAnswer:
    """A check with all its steps, pulls and verdicts."""
    return _check(ask, check)


@router.get("/{check}/offers")
def get_offers(ask: Asked, check: str) -> Offers:
    """What its pages offer: rigs that fit, the fields of the set-up, the usual exercise, the next day."""
    view = check_view(ask.workshop.ledger, check)
    due = offered_due(view.tool, ask.workshop.clock.now().date(), verdict=verdict_at_close(view.body))
    rigs = fitting_rigs(ask.workshop.ledger, view.tool)
    return Offers(
        kits=[KitOffered(rig=rig["id"], name=rig["table"]["name"], sort=rig["sort"]) for rig in rigs],
        plans=list(PLANS),
        set_up=_set_up(ask, view),
        exercise_pulls=usual_exercise(ToolKind(view.tool["tool"]["kind"])),
        strike_reasons=list(STRIKE_REASONS),
        next_due=due.isoformat() if due is not None else None,
    )


@router.post("/{check}/look")
def post_look(ask: Asked, check: str, body: LookTyped) -> CheckAnswer:
    """Say what the eye found; with damage the check stops there unless it is to go on."""
    typed = body.typed()
    look_over(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/photographs", status_code=201, openapi_extra=PHOTOGRAPH)
def post_photograph(
    ask: Asked,
    check: str,
    content: Annotated[bytes, Body(media_type="image/jpeg")],
    photo_note: Text = "",
    submission: Token | None = None,
) -> CheckAnswer:
    """Keep a photograph: the body is the picture; it is scaled down and its position data removed."""
    typed = Typed({"submission": submission} if submission else {})
    kept, media_type = ask.workshop.darkroom.develop(content)
    attach_photograph(ask.acting(typed), check, kept, media_type, {"photo_note": photo_note})
    return _check(ask, check)


@router.post("/{check}/kit")
def post_kit(ask: Asked, check: str, body: KitTyped) -> CheckAnswer:
    """Choose the rig and the plan."""
    typed = body.typed()
    choose_kit(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/set-up")
def post_set_up(ask: Asked, check: str, body: SetUpTyped) -> CheckAnswer:
    """Say how the kit stands; later sent again it mends what was measured wrongly, for all pulls."""
    typed = body.typed()
    set_up(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/exercise")
def post_exercise(ask: Asked, check: str, body: ExerciseTyped) -> CheckAnswer:
    """Say how often the tool was pulled before the first reading."""
    typed = body.typed()
    exercise(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/verdict")
def post_verdict(ask: Asked, check: str, body: VerdictTyped) -> CheckAnswer:
    """Judge a phase; its digits are kept."""
    typed = body.typed()
    judge_phase(ask.acting(typed), check, body.phase, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/adjust")
def post_turn(ask: Asked, check: str, body: TurnTyped) -> CheckAnswer:
    """Log a turn of the adjuster; refused before as found is judged."""
    typed = body.typed()
    turn_adjuster(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/waive")
def post_waive(ask: Asked, check: str, body: WaiveTyped) -> CheckAnswer:
    """Leave the tool as it was found."""
    typed = body.typed()
    waive_adjusting(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/close")
def post_close(ask: Asked, check: str, body: CloseTyped) -> CheckAnswer:
    """Seal it; `closed` names the record. A check that is sealed already answers 409 and names it too."""
    typed = body.typed()
    close_check(ask.acting(typed), check, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.get("/{check}/{phase}/{point}")
def get_point(ask: Asked, check: str, phase: Phase, point: PointNumber) -> PointAnswer:
    """A point as it stands: its pulls and approximate figures."""
    return PointAnswer(**point_answer(_running(ask, check, phase, point)))


@router.post("/{check}/{phase}/{point}", status_code=201)
def post_pull(ask: Asked, check: str, phase: Phase, point: PointNumber, body: PullTyped) -> PullKept:
    """Take one pull."""
    typed = body.typed()
    entry = read_pull(ask.acting(typed), check, phase, point, typed.values, seen=typed.seen)
    return PullKept(pull=entry.number, **point_answer(_running(ask, check, phase, point)))


@router.post("/{check}/pulls/{pull}/strike")
def post_strike(ask: Asked, check: str, pull: PullNumber, body: StrikeTyped) -> CheckAnswer:
    """Strike a pull out; it stays visible and does not count."""
    typed = body.typed()
    strike_out(ask.acting(typed), check, pull, typed.values, seen=typed.seen)
    return _check(ask, check)


@router.post("/{check}/pulls/{pull}/take-back")
def post_take_back(ask: Asked, check: str, pull: PullNumber, body: SentKnowing) -> CheckAnswer:
    """Count a struck-out pull again."""
    take_back(ask.acting(body.typed()), check, pull, seen=body.seen)
    return _check(ask, check)


def _check(ask: Ask, check: str) -> CheckAnswer:
    return check_answer(check_view(ask.workshop.ledger, check))


def _set_up(ask: Ask, view: CheckView) -> SetUpOffered | None:
    if view.body["choice"] is None or view.body["choice"]["rig"] is None:
        return None
    fields = setup_fields(ask.workshop.ledger, view.body)
    return SetUpOffered(
        sort=fields.sort,
        names=list(dict.fromkeys((*fields.names, *fields.values))),
        values=dict(fields.values),
        masses=list(fields.masses),
        scales=list(fields.scales),
        hang_kilogram=[hangs.target_kilogram for hangs in fields.planned],
    )


def _running(ask: Ask, check: str, phase: str, point: int) -> Running:
    """Raises NotFound where there is no such point, or none yet."""
    body = check_view(ask.workshop.ledger, check).body
    if not is_set_up(body):
        raise NotFound(say(f"step-{Step.SET_UP}"))
    if not 0 <= point < len(points_at_a_glance(body, phase)):
        raise NotFound(f"{phase} {point}")
    return running_point(body, phase, point)
