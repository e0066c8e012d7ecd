"""The pull page, read from two metres, and the verdict that follows it."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Response

from steelyard.charts import Chart, Pull, pull_dots
from steelyard.charts import Wanted as Held
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Body,
    Running,
    Step,
    asked_at,
    check_view,
    goes_by_trials,
    is_read_again,
    is_set_up,
    judge_phase,
    next_point,
    next_unread,
    points_at_a_glance,
    read_pull,
    running_point,
    strike_out,
    struck_by_turning,
    take_back,
    torque_in,
    wanted_pulls,
)
from steelyard.errors import Conflict, InputRefused, NotFound, SteelyardError, StoreTrouble
from steelyard.telling import judged_phases, marked
from steelyard.web.adjust_words import lock_moved
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.load_words import load_words
from steelyard.web.pages import Form, page, see
from steelyard.web.point_page import point_context, point_here, point_sent, reworded
from steelyard.web.pouring import pour_page
from steelyard.web.step_words import step_list
from steelyard.web.trials import trials_address, trials_page
from steelyard.words import say

router = APIRouter(prefix="/bench")
ON_PAGE = {
    "want-click-load": "want-load-at-click",
    "want-scale-name": "want-scale-of-shop",
    "want-known-load": "want-weight-within",
}
"""What is wanted, in the words of the page where the form of a check names its own fields."""
LOAD_FIELDS = ("no_click", "click")
LOADS = (*LOAD_FIELDS, "bucket")


@router.get("/{check}/as-found")
def as_found(ask: Asked, check: str, point: int | None = None) -> Response:
    """Pulls as found."""
    return _begin(ask, check, AS_FOUND, point)


@router.get("/{check}/as-left")
def as_left(ask: Asked, check: str, point: int | None = None) -> Response:
    """Pulls as left."""
    return _begin(ask, check, AS_LEFT, point)


@router.post("/{check}/as-found")
def take_found(ask: Asked, check: str, typed: TypedForm) -> Response:
    """One pull as found."""
    return _take(ask, check, AS_FOUND, typed)


@router.post("/{check}/as-left")
def take_left(ask: Asked, check: str, typed: TypedForm) -> Response:
    """One pull as left."""
    return _take(ask, check, AS_LEFT, typed)


@router.post("/{check}/pulls/{pull}/strike")
def strike(ask: Asked, check: str, pull: int, typed: TypedForm) -> Response:
    """Strike a pull out, with a reason; it stays visible."""
    return _after(ask, check, typed, lambda: strike_out(ask.acting(typed), check, pull, typed.values))


@router.post("/{check}/pulls/{pull}/take-back")
def count_again(ask: Asked, check: str, pull: int, typed: TypedForm) -> Response:
    """Count a struck-out pull again."""
    return _after(ask, check, typed, lambda: take_back(ask.acting(typed), check, pull))


@router.get("/{check}/verdict")
def verdict(ask: Asked, check: str) -> Response:
    """What the pulls say, or the question for it."""
    return _verdict(ask, check, Form())


@router.post("/{check}/verdict")
def judge(ask: Asked, check: str, typed: TypedForm) -> Response:
    """Judge a phase; its digits are kept."""
    try:
        judge_phase(ask.acting(typed), check, typed["phase"] or AS_FOUND, typed.values, seen=typed.seen)
    except (InputRefused, Conflict, StoreTrouble) as refused:
        return _verdict(ask, check, Form.refused(typed, refused), status=refused.http_status)
    return see(f"/bench/{check}/{Step.VERDICT}")


def _begin(ask: Ask, check: str, phase: str, point: int | None) -> Response:
    """The page of a point; where none is named and the next one goes by yes/no answers, the page of these."""
    if point is None:
        body = check_view(ask.workshop.ledger, check).body
        if body["closed"] is None and is_set_up(body):
            following = next_point(body, phase)
            if goes_by_trials(body, phase, following):
                return see(trials_address(check, phase, following))
    return _pulling(ask, check, phase, point, Form())


def _take(ask: Ask, check: str, phase: str, typed: Typed) -> Response:
    point = point_sent(typed)
    try:
        read_pull(ask.acting(typed), check, phase, point, typed.values, seen=typed.seen)
    except (InputRefused, Conflict, StoreTrouble) as refused:
        form = Form.refused(typed, _on_page(refused))
        is_odd = isinstance(refused, InputRefused) and refused.wanted == "want-sure"
        return _pulling(ask, check, phase, point, form, status=refused.http_status, is_odd=is_odd)
    return see(_where(ask, check, phase, point))


def _on_page(refused: SteelyardError) -> SteelyardError:
    """What is refused in the words of the page: a tick, its own fields, the shop's own weights."""
    field = refused.field if isinstance(refused, InputRefused) else ""
    words = {**ON_PAGE, "want-sure": "want-near-target" if field == "line" else "want-load-near-target"}
    if field in LOAD_FIELDS:
        words["want-unit"] = "want-weight-of-shop"
    return reworded(refused, words)


def _where(ask: Ask, check: str, phase: str, point: int) -> str:
    """The same point until it has its pulls, then the next one."""
    body = check_view(ask.workshop.ledger, check).body
    glance = points_at_a_glance(body, phase)[point]
    is_short = next_unread(body, phase) is not None
    wanted = wanted_pulls(body, phase, glance.planned) if is_short else glance.planned
    onward = point if glance.counted < wanted else next_point(body, phase)
    return f"/bench/{check}/{phase}?point={onward}"


def _after(ask: Ask, check: str, typed: Typed, deed: Callable[[], None]) -> Response:
    """What follows a deed, on the page it was asked on."""
    phase, point, back = typed["phase"] or AS_FOUND, point_sent(typed), typed["back"]
    try:
        deed()
    except (InputRefused, Conflict, StoreTrouble) as refused:
        form, status = Form.refused(Typed(), refused), refused.http_status
        if back == "trials":
            return trials_page(ask, check, phase, point, form, status=status)
        if back == "pour":
            return pour_page(ask, check, phase, point, form, status=status)
        return _pulling(ask, check, phase, point, Form.refused(typed, refused), status=status)
    place = f"/{back}" if back in ("trials", "pour") else ""
    return see(f"/bench/{check}/{phase}{place}?point={max(point, 0)}")


def _pulling(
    ask: Ask,
    check: str,
    phase: str,
    point: int | None,
    form: Form,
    *,
    status: int = 200,
    is_odd: bool = False,
) -> Response:
    """The page. is_odd: what was sent is far from the target, so it is asked whether it was read so."""
    view = check_view(ask.workshop.ledger, check)
    if view.body["closed"] is not None:
        return see(f"/book/{view.body['closed']['record']}")
    if not is_set_up(view.body) or phase not in (AS_FOUND, AS_LEFT):
        raise NotFound(say(f"step-{Step.SET_UP}"))
    glance = points_at_a_glance(view.body, phase)
    here = point_here(view.body, phase, point, glance)
    running = _without_trials(running_point(view.body, phase, here))
    number, mark = view.tool["tool"]["number"], ask.settings.decimal_mark
    form = form if form.values or form.troubles else Form(_offered(running))
    return page(
        ask,
        "bench/pulls.html",
        say("bench-step-title", step=say(f"step-{phase}"), number=number),
        status=status,
        **point_context(view, phase, here, glance, mark=mark),
        never=sum(pull.never_clicked and pull.struck_out is None for pull in running.pulls),
        running=running,
        asked=asked_at(view.body, here),
        dots=_dots(running, mark),
        state=_state(running),
        target_bare=f"{running.point.target.number:f}".replace(".", mark),
        figure=lambda torque: _figure(torque, running, mark),
        number=lambda value: marked(value, mark),
        **load_words(running, {name: form.value(name) for name in LOADS}, mark),
        form=form,
        asks_sure=is_odd or bool(form.value("sure")),
        is_complete=all(one.is_done for one in glance),
        **_of_the_adjuster(view.body, phase, mark),
    )


def _of_the_adjuster(body: Body, phase: str, decimal_mark: str) -> dict[str, Any]:
    """What the turns and the lock of the adjuster add to the page."""
    is_left = phase == AS_LEFT
    return {
        "lock_moved": lock_moved(body, decimal_mark) if is_left else "",
        "by_turning": struck_by_turning(),
        "to_adjuster": is_left and is_read_again(body),
    }


def _without_trials(running: Running) -> Running:
    """The pulls alone: yes/no answers, and what they say, stand on a page of their own."""
    pulls = tuple(pull for pull in running.pulls if pull.clicked is None)
    if len(pulls) == len(running.pulls):
        return running
    return replace(running, pulls=pulls, expanded_percent=None)


def _offered(running: Running) -> dict[str, str]:
    """What stands in the fields: the next pull begins at the last load without a click."""
    loads = running.last_loads
    return {"no_click": loads[0]} if len(loads) == 2 else {}


def _state(running: Running) -> str:
    """The pull read last in one word; empty before the first, `plain` where no limit applies."""
    last = running.last
    if last is None:
        return ""
    if last.struck_out is not None:
        return "struck"
    if last.never_clicked:
        return "never"
    if last.iso_percent is None or running.low_newton_metre is None or running.high_newton_metre is None:
        return "plain"
    read = last.shown_newton_metre if running.point.load is not None else last.torque_newton_metre
    return "in" if running.low_newton_metre <= read <= running.high_newton_metre else "out"


def _figure(torque: float, running: Running, decimal_mark: str) -> str:
    """A torque as the page prints it."""
    return torque_in(torque, running.point.target).replace(".", decimal_mark)


def _printed(torque: float, running: Running) -> float:
    """A torque with the digits the page prints. [unit of the target]"""
    return float(torque_in(torque, running.point.target))


def _dots(running: Running, decimal_mark: str) -> Chart | None:
    """The pulls as dots against target and limit, in the unit of the target."""
    factor = float(running.point.target.unit.factor)
    shows = running.point.load is not None
    pulls = []
    for pull in running.pulls:
        torque = pull.shown_newton_metre if shows else pull.torque_newton_metre
        state = "struck" if pull.struck_out is not None else "never" if pull.never_clicked else "counted"
        pulls.append(Pull(torque / factor, state))
    held = Held(
        target=_printed(running.held_newton_metre, running) if shows else running.held_newton_metre / factor,
        unit=running.point.target.unit.symbol,
        low=running.low_newton_metre / factor if running.low_newton_metre is not None else None,
        high=running.high_newton_metre / factor if running.high_newton_metre is not None else None,
        planned=running.planned,
    )
    return pull_dots(pulls, held, decimal_mark=decimal_mark)


def _verdict(ask: Ask, check: str, form: Form, *, status: int = 200) -> Response:
    view = check_view(ask.workshop.ledger, check)
    if view.body["closed"] is not None:
        return see(f"/book/{view.body['closed']['record']}")
    if not is_set_up(view.body):
        raise NotFound(say(f"step-{Step.SET_UP}"))
    number = view.tool["tool"]["number"]
    return page(
        ask,
        "bench/verdict.html",
        say("bench-step-title", step=say(f"step-{Step.VERDICT}"), number=number),
        place="bench",
        status=status,
        view=view,
        check=view.body,
        tool=view.tool,
        steps=step_list(view, Step.VERDICT),
        lock_moved=lock_moved(view.body, ask.settings.decimal_mark),
        judged=judged_phases(view.body, ask.settings.decimal_mark),
        glance=points_at_a_glance(view.body, AS_LEFT if view.body["turns"] else AS_FOUND),
        phase=AS_LEFT if view.body["turns"] else AS_FOUND,
        form=form,
    )
