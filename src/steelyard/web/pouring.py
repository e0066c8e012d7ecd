"""Pouring until it clicks, guided: hang, pour, stop, weigh; a bucket full without a click counts too."""

from typing import Any

from fastapi import APIRouter, Response

from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Running,
    ToolKind,
    Way,
    end_run,
    points_at_a_glance,
    running_point,
    say_water,
    struck_by_turning,
    torque_in,
    trials_at,
)
from steelyard.desk.typed_table import as_shown
from steelyard.errors import Conflict, InputRefused, StoreTrouble
from steelyard.telling import marked
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.load_words import kilogram_said
from steelyard.web.pages import Form, page, see
from steelyard.web.point_page import point_context, point_here, point_sent, reworded
from steelyard.web.trial_words import estimate_said, trial_words
from steelyard.web.trials import onward, ready_view
from steelyard.words import say

router = APIRouter(prefix="/bench")
BEGIN_RATIO = 0.9  # of the load at which the click is expected: where pouring begins
ON_PAGE = {
    "want-sure": "want-load-near-target",
    "want-scale-name": "want-scale-of-shop",
    "want-unit": "want-shown-mass",
    "want-known-load": "want-weight-within",
}
"""What is wanted, in the words of the page."""


@router.get("/{check}/as-found/pour")
def pour_found(ask: Asked, check: str, point: int | None = None) -> Response:
    """Runs as found."""
    return pour_page(ask, check, AS_FOUND, point, Form())


@router.get("/{check}/as-left/pour")
def pour_left(ask: Asked, check: str, point: int | None = None) -> Response:
    """Runs as left."""
    return pour_page(ask, check, AS_LEFT, point, Form())


@router.post("/{check}/as-found/pour")
def run_found(ask: Asked, check: str, typed: TypedForm) -> Response:
    """One run as found."""
    return _run(ask, check, AS_FOUND, typed)


@router.post("/{check}/as-left/pour")
def run_left(ask: Asked, check: str, typed: TypedForm) -> Response:
    """One run as left."""
    return _run(ask, check, AS_LEFT, typed)


@router.post("/{check}/water")
def water(ask: Asked, check: str, typed: TypedForm) -> Response:
    """The water after the click, said once."""
    phase = AS_LEFT if typed["phase"] == AS_LEFT else AS_FOUND
    try:
        say_water(ask.acting(typed), check, typed.values, seen=typed.seen)
    except (InputRefused, Conflict, StoreTrouble) as refused:
        form = Form.refused(typed, refused)
        return pour_page(ask, check, phase, point_sent(typed), form, status=refused.http_status)
    return see(_address(check, phase, point_sent(typed)))


def _run(ask: Ask, check: str, phase: str, typed: Typed) -> Response:
    point = point_sent(typed)
    try:
        end_run(ask.acting(typed), check, phase, point, typed.values, seen=typed.seen)
    except (InputRefused, Conflict, StoreTrouble) as refused:
        form = Form.refused(typed, reworded(refused, ON_PAGE))
        is_odd = isinstance(refused, InputRefused) and refused.wanted == "want-sure"
        return pour_page(ask, check, phase, point, form, status=refused.http_status, is_odd=is_odd)
    return see(_address(check, phase, point))


def _address(check: str, phase: str, point: int) -> str:
    return f"/bench/{check}/{phase}/pour?point={max(point, 0)}"


def pour_page(
    ask: Ask,
    check: str,
    phase: str,
    point: int | None,
    form: Form,
    *,
    status: int = 200,
    is_odd: bool = False,
) -> Response:
    """The page of a point. is_odd: what was sent is far from the target, so it is asked whether it hung."""
    view = ready_view(ask, check, phase)
    if view.body["closed"] is not None:
        return see(f"/book/{view.body['closed']['record']}")
    glance = points_at_a_glance(view.body, phase)
    here = point_here(view.body, phase, point, glance)
    running, trials = running_point(view.body, phase, here), trials_at(view.body, phase, here, way=Way.POURED)
    number, mark = view.tool["tool"]["number"], ask.settings.decimal_mark
    kit = view.body["setup"]["form"]["kit"]
    scales = [str(scale["name"]) for scale in kit.get("scale", [])]
    return page(
        ask,
        "bench/pour.html",
        say("pour-title", step=say(f"step-{phase}"), number=number),
        status=status,
        **point_context(view, phase, here, glance, mark=mark),
        trials=trials,
        words=trial_words(trials, view.body, mark),
        guide=_guide(running, view.body["setup"]["form"], mark),
        runs=_runs(running),
        mean=_mean(running, mark),
        scales=scales,
        scale_options=[(name, name) for name in scales],
        dribble=as_shown(kit["dribble"]) if "dribble" in kit else None,
        onward=onward(view.body, phase, here, glance),
        by_turning=struck_by_turning(),
        form=form if form.values else Form(_offered(running, scales), form.troubles),
        asks_sure=is_odd or bool(form.value("sure")),
    )


def _guide(running: Running, form: dict[str, Any], mark: str) -> list[str]:
    """The steps of a run, in order."""
    is_set = ToolKind(form["tool"]["kind"]).is_adjustable
    steps = [
        say("pour-step-set", target=running.point.target.typed) if is_set else say("pour-step-reset"),
    ]
    hangs = running.hanging
    if hangs is not None and hangs.target_kilogram is not None:
        begin = kilogram_said(BEGIN_RATIO * hangs.target_kilogram, mark)
        code = "pour-step-begin-always" if hangs.always else "pour-step-begin"
        steps.append(say(code, kilogram=begin, always=hangs.always))
    return [*steps, say("pour-step-pour"), say("pour-step-weigh")]


def _runs(running: Running) -> dict[str, int]:
    """How many runs there are, and how they ended."""
    stand = [pull for pull in running.pulls if pull.struck_out is None and pull.clicked is None]
    never = sum(pull.never_clicked for pull in stand)
    return {"clicked": len(stand) - never, "never": never, "planned": running.planned}


def _mean(running: Running, mark: str) -> str:
    """Mean and what bolts get, once two runs count and all of them clicked."""
    ends = (running.low_percent, running.high_percent, running.bolts_get_percent, running.mean_newton_metre)
    low, high, bolts, mean = ends
    if low is None or high is None or bolts is None or mean is None:
        return ""
    low_get, high_get = (100 * (1 / (1 + iso / 100) - 1) for iso in (high, low))
    return say(
        "pour-mean",
        counted=running.counted,
        mean=f"{marked(float(torque_in(mean, running.point.target)), mark):g}",
        unit=running.point.target.unit.symbol,
        estimate=estimate_said(bolts, low_get, high_get, mark),
    )


def _offered(running: Running, scales: list[str]) -> dict[str, str]:
    """The scale of the run before, else the first; what hung beside the bucket then."""
    offered = {"scale": scales[0] if scales else "", "beside": "", "shows": ""}
    if running.last is not None and running.last.clicked is None and len(running.last.loads) == 1:
        beside, _, weighed = running.last.loads[0].rpartition(" + ")
        scale = weighed.rpartition(" on ")[2]
        offered["beside"] = beside
        if scale in scales:
            offered["scale"] = scale
    return offered
