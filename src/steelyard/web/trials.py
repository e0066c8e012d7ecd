"""Yes/no trials at the vice, read from two metres: what to hang, did it click, what all answers say."""

from dataclasses import dataclass, replace

from fastapi import APIRouter, Response

from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Body,
    CheckView,
    Glance,
    Step,
    Trials,
    Way,
    answer_trial,
    check_view,
    is_set_up,
    is_turning,
    points_at_a_glance,
    struck_by_turning,
    trials_at,
    unread_points,
)
from steelyard.errors import Conflict, InputRefused, NotFound, SteelyardError, StoreTrouble
from steelyard.telling import marked_text
from steelyard.web.adjust_words import lock_moved
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.web.point_page import point_address, point_context, point_here, point_sent, reworded
from steelyard.web.trial_words import trial_words
from steelyard.words import say

router = APIRouter(prefix="/bench")
ON_PAGE = {
    "want-sure": "want-load-near-target",
    "want-scale-name": "want-scale-of-shop",
    "want-known-load": "want-weight-within",
}
"""What is wanted, in the words of the page where the form of a check names its own fields."""
FIELDS = ("load", "set", "at")


@dataclass(frozen=True)
class Stepped:
    """What the page was asked to step. way: one of `Way`, else as at the last trial. at: another mark as
    typed, empty for the kit's own; None: as at the last trial.
    """

    way: str = ""
    at: str | None = None


@router.get("/{check}/as-found/trials")
def trials_found(
    ask: Asked, check: str, point: int | None = None, way: str = "", at: str | None = None
) -> Response:
    """Yes/no trials as found."""
    return trials_page(ask, check, AS_FOUND, point, Form(), stepped=Stepped(way, at))


@router.get("/{check}/as-left/trials")
def trials_left(
    ask: Asked, check: str, point: int | None = None, way: str = "", at: str | None = None
) -> Response:
    """Yes/no trials as left."""
    return trials_page(ask, check, AS_LEFT, point, Form(), stepped=Stepped(way, at))


@router.post("/{check}/as-found/trials")
def answer_found(ask: Asked, check: str, typed: TypedForm) -> Response:
    """One answer as found."""
    return _answer(ask, check, AS_FOUND, typed)


@router.post("/{check}/as-left/trials")
def answer_left(ask: Asked, check: str, typed: TypedForm) -> Response:
    """One answer as left."""
    return _answer(ask, check, AS_LEFT, typed)


def _answer(ask: Ask, check: str, phase: str, typed: Typed) -> Response:
    point, way = point_sent(typed), typed["way"]
    try:
        answer_trial(ask.acting(typed), check, phase, point, _sent(ask, check, point, typed), seen=typed.seen)
    except (InputRefused, Conflict, StoreTrouble) as refused:
        form = Form.refused(typed, _on_page(refused))
        is_odd = isinstance(refused, InputRefused) and refused.wanted == "want-sure"
        status = refused.http_status
        return trials_page(ask, check, phase, point, form, stepped=Stepped(way), status=status, is_odd=is_odd)
    return see(trials_address(check, phase, point, way=way))


def _sent(ask: Ask, check: str, point: int, typed: Typed) -> dict[str, str]:
    """The answer without a setting that is the target itself: then the load is what is stepped."""
    values = dict(typed.values)
    body = check_view(ask.workshop.ledger, check).body
    points = body["setup"]["points"] if body["setup"] is not None else []
    is_target = 0 <= point < len(points) and values.get("set", "").strip() == str(points[point]["target"])
    if is_target and typed["way"] != Way.SETTING:
        del values["set"]
    return values


def _on_page(refused: SteelyardError) -> SteelyardError:
    """What is refused in the words of the page."""
    is_load = isinstance(refused, InputRefused) and refused.field == "load"
    return reworded(refused, {**ON_PAGE, "want-unit": "want-weight-of-shop"} if is_load else ON_PAGE)


def trials_address(check: str, phase: str, point: int, *, way: str = "") -> str:
    """Where the trials of a point stand."""
    stepped = f"&way={way}" if way in list(Way) else ""
    return f"/bench/{check}/{phase}/trials?point={max(point, 0)}{stepped}"


def ready_view(ask: Ask, check: str, phase: str) -> CheckView:
    """A check whose points may be looked at, or a closed one. Raises NotFound before its kit is set up."""
    view = check_view(ask.workshop.ledger, check)
    is_open = view.body["closed"] is None
    if is_open and (not is_set_up(view.body) or phase not in (AS_FOUND, AS_LEFT)):
        raise NotFound(say(f"step-{Step.SET_UP}"))
    return view


def trials_page(
    ask: Ask,
    check: str,
    phase: str,
    point: int | None,
    form: Form,
    *,
    stepped: Stepped = Stepped(),
    status: int = 200,
    is_odd: bool = False,
) -> Response:
    """The page of a point. is_odd: what was sent is far from the target, so it is asked whether it hung."""
    view = ready_view(ask, check, phase)
    if view.body["closed"] is not None:
        return see(f"/book/{view.body['closed']['record']}")
    glance = points_at_a_glance(view.body, phase)
    here = point_here(view.body, phase, point, glance)
    trials, trouble = _trials(view.body, phase, here, stepped)
    if trouble is not None:
        form, status = replace(form, troubles={**form.troubles, "mark": trouble}), 422
    number, mark = view.tool["tool"]["number"], ask.settings.decimal_mark
    return page(
        ask,
        "bench/trials.html",
        say("trials-title", step=say(f"step-{phase}"), number=number),
        status=status,
        **point_context(view, phase, here, glance, mark=mark),
        trials=trials,
        words=trial_words(trials, view.body, mark),
        arm=view.body["setup"]["form"]["kit"].get("arm"),
        lock_moved=lock_moved(view.body, ask.settings.decimal_mark) if phase == AS_LEFT else "",
        onward=onward(view.body, phase, here, glance),
        by_turning=struck_by_turning(),
        form=form if form.values else replace(form, values=_offered(trials, stepped.at, mark)),
        is_other=any(form.trouble(name) for name in FIELDS),
        asks_sure=is_odd or bool(form.value("sure")),
    )


def _trials(body: Body, phase: str, point: int, stepped: Stepped) -> tuple[Trials, str | None]:
    """The point, and why the mark that was asked for cannot be used; then it is the one of the last trial."""
    way = Way(stepped.way) if stepped.way in list(Way) else None
    try:
        return trials_at(body, phase, point, way=way, at=stepped.at), None
    except InputRefused as refused:
        if refused.field != "at" or not stepped.at:
            raise
        trouble = Form.refused(Typed({"at": stepped.at}), refused).trouble("at")
        return trials_at(body, phase, point, way=way), trouble


def _offered(trials: Trials, at: str | None, mark: str) -> dict[str, str]:
    """What stands in the fields: the next trial, its load in the reader's decimal mark."""
    following = trials.next
    offered = {
        "load": "",
        "set": trials.point.target.typed,
        "at": trials.at or "",
        "mark": at or trials.at or "",
    }
    if following is not None:
        offered |= {"load": marked_text(following.load, mark), "set": following.set_typed}
    return offered


def onward(body: Body, phase: str, here: int, glance: tuple[Glance, ...]) -> tuple[str, str]:
    """The way on from a point that is done: words and address, of the next point or of the verdict."""
    others = (*glance[here + 1 :], *glance[:here])
    between = phase == AS_LEFT and is_turning(body)
    unread = unread_points(body) if between else ()
    rest = [one for one in others if (one.number in unread if between else not one.is_done)]
    if not rest and between:
        return say("left-to-adjuster"), f"/bench/{body['id']}/adjust"
    if not rest:
        return say("trials-to-verdict"), f"/bench/{body['id']}/verdict"
    following = rest[0]
    direction = say(f"direction-{following.direction}")
    words = say("trials-onward", target=following.target, direction=direction)
    return words, point_address(body, phase, following.number)
