"""Weigh a load well: choose a way, work it out, keep it; the scale checked with water too."""

from collections.abc import Mapping
from contextlib import suppress
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk import Body, here
from steelyard.desk.weighing import (
    PLACEMENTS,
    WEIGH_FIELDS,
    WEIGH_WAYS,
    Weighing,
    WorthAsked,
    better_way,
    keep_weighing,
    weigh,
    weighing_worth,
)
from steelyard.errors import InputRefused, NotFound, SteelyardError
from steelyard.web import weigh_words as words
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.words import say

router = APIRouter(prefix="/rigs/weigh")
USUAL_LOAD = "10"
SEEN_AT_FIRST = 5
"""Readings that are asked for without being unfolded."""


@router.get("")
def choose(ask: Asked) -> HTMLResponse:
    """Which way, with what each is worth for about such a load."""
    said = {name: text for name, text in ask.request.query_params.items() if text.strip()}
    body = _anew(ask, said)
    mark = ask.settings.decimal_mark
    typed = {"load": _about(body, mark), **said}
    form, status = Form(typed), 200
    asked: WorthAsked | None = None
    shelf = here(ask.workshop.ledger)
    if shelf.scales:
        try:
            asked = weighing_worth(ask.workshop.ledger, {"scale": shelf.scales[0]["id"], **typed})
        except InputRefused as trouble:
            form, status = Form.refused(Typed(typed), trouble), trouble.http_status
    load = _with_kilogram(typed["load"])
    return page(
        ask,
        "rigs/weigh.html",
        _title(body),
        place="rigs",
        status=status,
        form=form,
        body=body,
        scales=_scales(ask),
        scale=asked.scale if asked is not None else None,
        ways=words.ways(asked, load, mark) if asked is not None else [],
        words=words,
        going={"scale": asked.scale["id"] if asked is not None else "", "mass": body["id"] if body else ""},
        urlencode=urlencode,
    )


def _about(body: Body | None, mark: str) -> str:
    """About how heavy: as what stands of a weight that is weighed anew."""
    return (
        words.kept(body["table"]["value"], mark).partition("±")[0].strip() if body is not None else USUAL_LOAD
    )


def _with_kilogram(load: str) -> str:
    return load if any(sign.isalpha() for sign in load) else say("weigh-kilogram", load=load)


@router.get("/{way}")
def ask_way(ask: Asked, way: str) -> HTMLResponse:
    """One way; worked out where its address holds what was read."""
    typed = dict(ask.request.query_params)
    if way not in WEIGH_WAYS:
        raise NotFound(way)
    if not any(typed.get(name, "").strip() for name in WEIGH_FIELDS[way]):
        return _page(ask, way, Form(typed), None)
    try:
        found = weigh(ask.workshop.ledger, way, typed)
    except SteelyardError as trouble:
        form = Form.refused(Typed(typed), trouble)
        return _page(ask, way, form, None, status=trouble.http_status)
    return _page(ask, way, Form(typed), found)


@router.post("/{way}")
def keep(ask: Asked, way: str, typed: TypedForm) -> Response:
    """Keep what was weighed."""
    try:
        rigs = keep_weighing(ask.acting(typed), way, typed.values, typed.seen)
    except NotFound:
        raise
    except SteelyardError as trouble:
        return _refused(ask, way, typed, trouble)
    if way == "water":
        return see(f"/rigs/{rigs[0]}", "notice-scale-checked")
    if len(rigs) > 1:
        return see("/rigs", "notice-all-weighed")
    return see(f"/rigs/{rigs[0]}", "notice-weighed")


def _refused(ask: Ask, way: str, typed: Typed, trouble: SteelyardError) -> HTMLResponse:
    """The page again; the answer stays where only the name, or somebody else's entry, was in the way."""
    found = None
    with suppress(SteelyardError):
        found = weigh(ask.workshop.ledger, way, typed.values)
    return _page(ask, way, Form.refused(typed, trouble), found, status=trouble.http_status)


def _page(ask: Ask, way: str, form: Form, found: Weighing | None, *, status: int = 200) -> HTMLResponse:
    mark = ask.settings.decimal_mark
    body = _anew(ask, form.values)
    keeps: dict[str, Any] = {}
    if found is not None:
        better = better_way(ask.workshop.ledger, found)
        keeps = {"given": words.given(found, better, mark), "last": _last(found)}
    return page(
        ask,
        "rigs/weigh-way.html",
        say(f"weigh-{way}"),
        place="rigs",
        status=status,
        form=form,
        way=way,
        body=body,
        found=found,
        scales=_scales(ask),
        readings=PLACEMENTS,
        at_first=SEEN_AT_FIRST,
        words=words,
        back=f"/rigs/weigh?{urlencode(_going(form.values))}",
        sent={name: form.value(name) for name in ("scale", "mass", *WEIGH_FIELDS[way]) if form.value(name)},
        **{"given": None, "last": None, **keeps},
    )


def _last(found: Weighing) -> int | None:
    """The last entry that this page knows of the one rig that would be written anew."""
    if found.checked is not None:
        return int(found.scale["last"])
    rigs = [mass.rig for mass in found.masses]
    return int(rigs[0]["last"]) if len(rigs) == 1 and rigs[0] is not None else None


def _going(values: Mapping[str, str]) -> dict[str, str]:
    return {name: values[name] for name in ("scale", "mass") if values.get(name)}


def _scales(ask: Ask) -> list[tuple[str, str]]:
    return [(body["id"], body["table"]["name"]) for body in here(ask.workshop.ledger).scales]


def _anew(ask: Ask, values: Mapping[str, str]) -> Body | None:
    """The weight that is weighed anew, where one is named."""
    masses = here(ask.workshop.ledger).masses
    return next((body for body in masses if body["id"] == values.get("mass")), None)


def _title(body: Body | None) -> str:
    return say("weigh-title-anew", name=body["table"]["name"]) if body is not None else say("weigh-title")
