"""The bench: checks in hand, and one page for each step of a check but the pulls."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Response

from steelyard.charts import rig_drawing
from steelyard.desk import (
    PLANS,
    REASONS,
    Acting,
    CheckView,
    Step,
    ToolKind,
    ability,
    attach_photograph,
    check_view,
    checks_in_hand,
    choose_kit,
    close_check,
    correct_turn,
    exercise,
    exercise_after_lock,
    fitting_rigs,
    guide,
    is_read_again,
    lock_adjuster,
    look_over,
    offered_due,
    open_check,
    set_up,
    setup_fields,
    tool_body,
    tools,
    turn_adjuster,
    usual_exercise,
    verdict_at_close,
    waive_adjusting,
)
from steelyard.errors import Conflict, InputRefused, NotFound, StoreTrouble
from steelyard.web.adjust_words import (
    doubts_said,
    lock_moved,
    now_words,
    outlook_words,
    point_rows,
    question_ways,
    turn_rows,
    where_notes,
)
from steelyard.web.asked import LARGEST_PHOTOGRAPH, Ask, Asked, Typed, TypedForm
from steelyard.web.kit_words import KitChoice, kit_choice, not_reckoned
from steelyard.web.load_words import load_hints
from steelyard.web.pages import Form, page, see
from steelyard.web.rack_words import range_words
from steelyard.web.step_words import step_list
from steelyard.words import cautions, say

router = APIRouter(prefix="/bench")
OTHER_PAGES = (Step.AS_FOUND, Step.AS_LEFT, Step.VERDICT)
RECKONED_AT_ONCE = 4  # kits; each takes some tenths of a second
SAID_WAY = "was-"  # before the way that a turn was really made


@dataclass(frozen=True)
class StepPage:
    """One step: its template, what it shows on top, and what its form does.

    deed: takes who acts, the check's name, what was typed, and the last entry the page knew.
    onward: where it leads then, below the check; empty for the step that comes now.
    """

    template: str
    shows: Callable[[Ask, CheckView, Form], Mapping[str, Any]]
    deed: Callable[[Acting, str, Typed], object]
    onward: Callable[[Typed], str] = lambda _: ""


def nothing_more(_ask: Ask, _view: CheckView, _form: Form) -> Mapping[str, Any]:
    """The check itself is all the page needs."""
    return {}


def kit_choices(ask: Ask, view: CheckView, form: Form) -> Mapping[str, Any]:
    """The rigs that fit, and what each can decide of this tool."""
    ledger = ask.workshop.ledger
    today = ask.workshop.clock.now().date()
    kits = [
        kit_choice(
            rig,
            ability(ledger, str(rig["id"]), str(view.tool["id"]), today=today),
            ask.settings.decimal_mark,
        )
        if i < RECKONED_AT_ONCE
        else not_reckoned(rig)
        for i, rig in enumerate(fitting_rigs(ledger, view.tool))
    ]
    said = view.body["choice"]
    values = form.values or ({"rig": said["rig"], "plan": said["plan"]} if said else _first(kits))
    return {"kits": kits, "plans": PLANS, "form": Form(values, form.troubles)}


def _first(kits: Sequence[KitChoice]) -> dict[str, str]:
    """The only kit there is, ready to be taken, and the full plan."""
    return {"plan": PLANS[0], **({"rig": kits[0].id} if len(kits) == 1 else {})}


def set_up_fields(ask: Ask, view: CheckView, form: Form) -> Mapping[str, Any]:
    """The fields of the rig that was chosen, filled with what is usual or was said before."""
    if view.body["choice"] is None:
        raise NotFound(say("step-kit"))
    fields = setup_fields(ask.workshop.ledger, view.body)
    values = form.values or fields.values
    return {
        "fields": fields,
        "form": Form(values, form.troubles),
        "drawing": rig_drawing(fields.sort),
        "cautions": cautions(signals=not fields.is_indicating) if fields.hangs else (),
        "to_hang": load_hints(fields, ask.settings.decimal_mark),
    }


def exercise_usual(_ask: Ask, view: CheckView, _form: Form) -> Mapping[str, Any]:
    """How many pulls are usual; after the lock of an adjuster fewer, counted anew."""
    body = view.body
    locked = body["locked"]["number"] if body.get("locked") else 0
    done = sum(row["pulls"] for row in body["exercise"] if row["number"] > locked)
    kind = ToolKind(view.tool["tool"]["kind"])
    return {
        "usual": exercise_after_lock(kind) if locked else usual_exercise(kind),
        "done": done,
        "is_locked": bool(locked),
    }


def close_offers(ask: Ask, view: CheckView, form: Form) -> Mapping[str, Any]:
    """The next date as offered for the verdict; a tool that was set aside goes back where it is in."""
    verdict = verdict_at_close(view.body)
    due = offered_due(view.tool, ask.workshop.clock.now().date(), verdict=verdict)
    offered = due.isoformat() if due is not None else ""
    values = form.values or {"next_due": offered, "release": "yes" if verdict == "in" else ""}
    return {"form": Form(values, form.troubles), "offered": offered, "verdict": verdict}


def guidance(ask: Ask, view: CheckView, form: Form) -> Mapping[str, Any]:
    """What to do at the adjuster now, with everything that speaks for it."""
    body, mark = view.body, ask.settings.decimal_mark
    seen = guide(ask.workshop.ledger, body)
    now = now_words(body, seen, mark)
    values = form.values or {"turns": now.turns, "way": now.way}
    return {
        "form": Form(values, form.troubles),
        "now": now,
        "doubts": doubts_said(seen, mark) if seen is not None else [],
        "question": seen.question if seen is not None else None,
        "question_ways": question_ways(seen),
        "said_way": SAID_WAY,
        "outlook": outlook_words(body, seen, mark) if seen is not None else None,
        "points": point_rows(seen, mark) if seen is not None else [],
        "turned": turn_rows(body["turns"], seen, mark),
        "shift": lock_moved(body, mark),
        "where": where_notes(body) if body["setup"] is not None else [],
        "is_read": is_read_again(body),
    }


def adjust(acting: Acting, check: str, typed: Typed) -> None:
    """Log a turn, say how one was really made, lock it, or let it be."""
    said = typed["deed"].removeprefix(SAID_WAY)
    if said != typed["deed"]:
        correct_turn(acting, check, turn_sent(typed), {"way": said}, seen=typed.seen)
    elif typed["deed"] == "waive":
        waive_adjusting(acting, check, typed.values, seen=typed.seen)
    elif typed["deed"] == "lock":
        lock_adjuster(acting, check, typed.values, seen=typed.seen)
    else:
        turn_adjuster(acting, check, typed.values, seen=typed.seen)


def after_adjusting(typed: Typed) -> str:
    """On to the exercise after the lock, back to the next turn from one that was put right."""
    if typed["deed"].startswith(SAID_WAY):
        return f"/{Step.ADJUST}"
    return f"/{Step.EXERCISE}" if typed["deed"] == "lock" else ""


def turn_sent(typed: Typed) -> int:
    """The place of a turn in the log, as a form sent it; 0 where it is none."""
    text = typed["turn"]
    return int(text) if text.isascii() and text.isdigit() and len(text) < 5 else 0


PAGES: Mapping[Step, StepPage] = {
    Step.WHY: StepPage("bench/why.html", nothing_more, lambda *_: None),
    Step.LOOK: StepPage(
        "bench/look.html",
        nothing_more,
        lambda who, check, typed: look_over(who, check, typed.values, seen=typed.seen),
    ),
    Step.KIT: StepPage(
        "bench/kit.html",
        kit_choices,
        lambda who, check, typed: choose_kit(who, check, typed.values, seen=typed.seen),
    ),
    Step.SET_UP: StepPage(
        "bench/set_up.html",
        set_up_fields,
        lambda who, check, typed: set_up(who, check, typed.values, seen=typed.seen),
    ),
    Step.EXERCISE: StepPage(
        "bench/exercise.html",
        exercise_usual,
        lambda who, check, typed: exercise(who, check, typed.values, seen=typed.seen),
    ),
    Step.ADJUST: StepPage(
        "bench/adjust.html",
        guidance,
        adjust,
        after_adjusting,
    ),
    Step.CLOSE: StepPage(
        "bench/close.html",
        close_offers,
        lambda who, check, typed: close_check(who, check, typed.values, seen=typed.seen),
    ),
}


@router.get("")
def in_hand(ask: Asked) -> Response:
    """All checks in hand."""
    found = checks_in_hand(ask.workshop.ledger)
    return page(
        ask, "bench/list.html", say("bench-title"), place="bench", checks=[item.body for item in found]
    )


@router.get("/new")
def new(ask: Asked, tool: str = "", words: str = "") -> Response:
    """Which tool, and why today."""
    return _new(ask, tool, words, Form())


@router.post("/new")
def begin(ask: Asked, typed: TypedForm) -> Response:
    """Open a check."""
    try:
        check = open_check(ask.acting(typed), typed["tool"], typed.values)
    except InputRefused as refused:
        return _new(ask, typed["tool"], "", Form.refused(typed, refused), status=422)
    return see(f"/bench/{check}")


def _new(ask: Ask, tool: str, words: str, form: Form, *, status: int = 200) -> Response:
    ledger = ask.workshop.ledger
    if not tool:
        found = tools(ledger, words, "", None, today=ask.workshop.clock.now().date())
        title = say("bench-which-tool")
        return page(ask, "bench/which.html", title, place="bench", status=status, found=found, words=words)
    body = tool_body(ledger, tool)
    title = say("bench-why-title", number=body["tool"]["number"])
    values = form if form.values else Form({"tool": tool})
    lowest, highest = str(body["tool"]["lowest"]), str(body["tool"]["highest"])
    return page(
        ask,
        "bench/new.html",
        title,
        place="bench",
        status=status,
        tool=body,
        range=range_words(lowest, highest),
        form=values,
        reasons=REASONS,
    )


@router.get("/{check}")
def go_on(ask: Asked, check: str) -> Response:
    """On with the step that comes now."""
    view = check_view(ask.workshop.ledger, check)
    if view.body["closed"] is not None:
        return see(f"/book/{view.body['closed']['record']}")
    return see(f"/bench/{check}/{view.now}")


@router.get("/{check}/{step}")
def show(ask: Asked, check: str, step: Step) -> Response:
    """One step of a check."""
    return _step(ask, check, step, Form())


@router.post("/{check}/photo")
def photo(ask: Asked, check: str, typed: TypedForm) -> Response:
    """Keep a photograph, scaled down and without its position data."""
    try:
        upload = typed.files.get("photo")
        if upload is None:
            raise InputRefused("photo", None, "want-photograph")
        content, media_type = ask.workshop.darkroom.develop(upload.file.read(LARGEST_PHOTOGRAPH + 1))
        attach_photograph(ask.acting(typed), check, content, media_type, typed.values)
    except InputRefused as refused:
        return _step(ask, check, Step.LOOK, Form.refused(typed, refused), status=refused.http_status)
    return see(f"/bench/{check}/{Step.LOOK}", notice="notice-photograph-kept")


@router.post("/{check}/{step}")
def take(ask: Asked, check: str, step: Step, typed: TypedForm) -> Response:
    """What a step's form does; then on."""
    if step not in PAGES:
        raise NotFound(f"{check}/{step}")
    sealed = check_view(ask.workshop.ledger, check).body["closed"]
    if sealed is not None and step is Step.CLOSE:
        return see(f"/book/{sealed['record']}")
    try:
        PAGES[step].deed(ask.acting(typed), check, typed)
    except (InputRefused, Conflict, StoreTrouble) as refused:
        return _step(ask, check, step, Form.refused(typed, refused), status=refused.http_status)
    return see(f"/bench/{check}{PAGES[step].onward(typed)}")


def _step(ask: Ask, check: str, step: Step, form: Form, *, status: int = 200) -> Response:
    view = check_view(ask.workshop.ledger, check)
    if view.body["closed"] is not None and step is not Step.CLOSE:
        return see(f"/book/{view.body['closed']['record']}")
    if step in OTHER_PAGES:
        raise NotFound(f"{check}/{step}")
    shown = PAGES[step]
    context = {"form": form, **shown.shows(ask, view, form)}
    return page(
        ask,
        shown.template,
        say("bench-step-title", step=say(f"step-{step}"), number=view.tool["tool"]["number"]),
        place="bench",
        status=status,
        view=view,
        check=view.body,
        tool=view.tool,
        steps=step_list(view, step),
        **context,
    )
