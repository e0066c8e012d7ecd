"""The pages of the rigs: what the workshop measures with, and what each of them can decide."""

from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.charts import rig_drawing
from steelyard.desk import (
    LARGEST_BYTES,
    MOST_ROWS,
    RIG_COLUMNS,
    SORTS,
    Ability,
    Body,
    Shelf,
    ToolKind,
    ability,
    add_rig,
    alone,
    change_rig,
    here,
    kinds_for,
    people,
    rig_body,
    sell_rig,
    sold,
    stand_in_tool,
    tools_for,
    typed_rig,
)
from steelyard.desk.rig_table import is_of_paper, typed_paper
from steelyard.desk.typed_table import Column
from steelyard.errors import InputRefused, NotFound, SteelyardError
from steelyard.paper.dcc import paper_of_dcc
from steelyard.telling import marked_again
from steelyard.web import rig_words as words
from steelyard.web import weigh_words
from steelyard.web.alone_words import alone_words
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.words import cautions, say

router = APIRouter(prefix="/rigs")
DRAWN = ("hung-weight", "drum", "transducer")
STAND_IN = "kind"
TRANSDUCER = "transducer"


@router.get("")
def rigs(ask: Asked) -> HTMLResponse:
    """All that is here, in groups, with the state of its papers; what is gone below."""
    shelf = here(ask.workshop.ledger)
    groups = [
        (say("rig-group-scales"), shelf.scales),
        (say("rig-group-masses"), shelf.masses),
        (say("rig-group-arms"), (*shelf.arms, *shelf.drums)),
        (say("rig-group-transducers"), shelf.transducers),
    ]
    today = ask.workshop.clock.now().date()
    gone = sold(ask.workshop.ledger).everything
    return page(
        ask,
        "rigs/list.html",
        say("rig-list-title"),
        place="rigs",
        groups=[
            (title, [_line(body, today, ask.settings.decimal_mark) for body in bodies])
            for title, bodies in groups
            if bodies
        ],
        gone=[(body["id"], body["table"]["name"], words.sort_word(body["sort"])) for body in gone],
    )


def _line(body: Body, today: Any, mark: str) -> tuple[str, str, str, words.PaperWords]:
    """A rig in the list: id, name, what it is in a few words, its paper."""
    return body["id"], body["table"]["name"], words.short(body, mark), words.paper_words(body, today)


@router.get("/new")
def new(ask: Asked) -> HTMLResponse:
    """Which sort."""
    sorts = [
        (sort, words.sort_word(sort), say(f"rig-what-{sort}"), rig_drawing(sort) if sort in DRAWN else None)
        for sort in SORTS
    ]
    return page(ask, "rigs/choose.html", say("rig-new-title"), place="rigs", sorts=sorts)


@router.get("/new/{sort}")
def new_rig(ask: Asked, sort: str) -> HTMLResponse:
    """The fields of a sort, empty."""
    return _form(ask, sort, Form())


@router.post("/new/{sort}")
def keep_rig(ask: Asked, sort: str, typed: TypedForm) -> Response:
    """Keep a new rig and show what it can decide."""
    try:
        rig = add_rig(ask.acting(typed), sort, typed.values)
    except SteelyardError as trouble:
        return _form(ask, sort, Form.refused(typed, trouble), status=trouble.http_status)
    return see(f"/rigs/{rig}", notice="notice-weight-added" if sort == "mass" else "notice-rig-added")


@router.post("/new/transducer/paper")
def fill_new(ask: Asked, typed: TypedForm) -> HTMLResponse:
    """The fields of a new transducer, its paper filled in from a certificate; nothing is kept."""
    return _filled(ask, typed)


@router.get("/{rig}")
def rig(ask: Asked, rig: str) -> HTMLResponse:
    """One rig: what it can decide of a tool, and what is known of it."""
    return _view(ask, rig_body(ask.workshop.ledger, rig))


@router.get("/{rig}/change")
def change(ask: Asked, rig: str) -> HTMLResponse:
    """Its fields as they were typed."""
    body = rig_body(ask.workshop.ledger, rig)
    said = typed_rig(body, torque_unit=ask.settings.unit)
    typed = marked_again(said, RIG_COLUMNS[body["sort"]], ask.settings.reads_by)
    return _form(ask, body["sort"], Form(typed), body=body)


@router.post("/{rig}/change")
def keep_change(ask: Asked, rig: str, typed: TypedForm) -> Response:
    """Write it anew; a sold one is here again."""
    body = rig_body(ask.workshop.ledger, rig)
    try:
        change_rig(ask.acting(typed), rig, typed.values, typed.seen)
    except SteelyardError as trouble:
        form = Form.refused(typed, trouble)
        return _form(ask, body["sort"], form, body=body, status=trouble.http_status)
    return see(f"/rigs/{rig}", notice="notice-rig-changed")


@router.post("/{rig}/change/paper")
def fill_change(ask: Asked, rig: str, typed: TypedForm) -> HTMLResponse:
    """The same of one that is here."""
    body = rig_body(ask.workshop.ledger, rig)
    if body["sort"] != TRANSDUCER:
        raise NotFound(f"{rig}, {TRANSDUCER}")
    return _filled(ask, typed, body=body)


def _filled(ask: Ask, typed: Typed, *, body: Body | None = None) -> HTMLResponse:
    """The form as it was typed so far, its paper as a certificate says it."""
    upload = typed.files.get("dcc")
    try:
        if upload is None:
            raise InputRefused("dcc", None, "want-dcc-file")
        content = upload.file.read(LARGEST_BYTES + 1)
        read = paper_of_dcc(content, field="dcc", name=upload.filename or "", most=MOST_ROWS)
    except InputRefused as trouble:
        form = Form.refused(typed, trouble)
        return _form(ask, TRANSDUCER, form, body=body, status=trouble.http_status)
    said = typed_paper(read.table, torque_unit=ask.settings.unit)
    numbers = [Column(name, "number") for name in said if name.startswith("row")]
    other = {name: text for name, text in typed.values.items() if not is_of_paper(name)}
    form = Form({**other, **marked_again(said, numbers, ask.settings.reads_by)})
    notes = [say("dcc-read-filled"), *(say(note.code, **note.facts) for note in read.notes)]
    return _form(ask, TRANSDUCER, form, body=body, notes=notes)


@router.post("/{rig}/sold")
def sell(ask: Asked, rig: str, typed: TypedForm) -> Response:
    """It is no longer here."""
    body = rig_body(ask.workshop.ledger, rig)
    try:
        sell_rig(ask.acting(typed), rig, typed.values, typed.seen)
    except SteelyardError as trouble:
        return _view(ask, body, selling=Form.refused(typed, trouble), status=trouble.http_status)
    return see("/rigs", notice="notice-rig-sold")


def _form(
    ask: Ask,
    sort: str,
    form: Form,
    *,
    body: Body | None = None,
    status: int = 200,
    notes: Sequence[str] = (),
) -> HTMLResponse:
    if sort not in SORTS:
        raise NotFound(f"rig {sort}")
    title = say("rig-new-sort", sort=words.sort_word(sort))
    if body is not None:
        code = "rig-change-title" if body["state"] == "here" else "rig-again-title"
        title = say(code, name=body["table"]["name"])
    return page(
        ask,
        f"rigs/form-{sort}.html",
        title,
        place="rigs",
        status=status,
        form=form,
        notes=notes,
        sort=sort,
        body=body,
        materials=words.material_choices(),
        rows=range(1, MOST_ROWS + 1),
        drawing=rig_drawing(sort) if sort in DRAWN else None,
        has_scale=bool(here(ask.workshop.ledger).scales),
    )


def _shows(asked: Ability) -> bool:
    """The tool that is asked about shows a torque, and does not signal."""
    return ToolKind(asked.tool["tool"]["kind"]).is_indicating


def _view(ask: Ask, body: Body, *, selling: Form | None = None, status: int = 200) -> HTMLResponse:
    wanted = dict(ask.request.query_params)
    shelf = here(ask.workshop.ledger)
    tools = tools_for(ask.workshop.ledger, body) if body["state"] == "here" else []
    if STAND_IN not in wanted and not wanted.get("tool") and tools:
        wanted["tool"] = tools[0]["id"]
    by_itself = alone(body, shelf, tools) if body["state"] == "here" else None
    form = Form(wanted)
    asked = None
    try:
        asked = _ask(ask, body, wanted)
    except InputRefused as trouble:
        form = Form(wanted, {trouble.field: say("field-wanted", wanted=trouble.wish)})
        status = trouble.http_status
    return page(
        ask,
        "rigs/view.html",
        body["table"]["name"],
        place="rigs",
        status=status,
        body=body,
        paper=words.paper_words(body, ask.workshop.clock.now().date()),
        words=words,
        weighed=weigh_words.weighed(body, people(ask.workshop.ledger), ask.settings.decimal_mark),
        weighed_over=weigh_words.weighed_over(body, ask.settings.decimal_mark),
        has_scale=bool(shelf.scales),
        alone=alone_words(by_itself, unit=ask.settings.unit, mark=ask.settings.decimal_mark)
        if by_itself is not None
        else None,
        asked=asked,
        form=form,
        selling=selling or Form(),
        tools=[(tool["id"], tool["tool"]["number"]) for tool in tools],
        kinds=[(kind, say(f"kind-{kind}")) for kind in kinds_for(body)],
        scales=_scales(body, shelf),
        arms=[(arm["id"], arm["table"]["name"]) for arm in (*shelf.arms, *shelf.drums)],
        cautions=cautions(signals=asked is None or not _shows(asked)),
    )


def _ask(ask: Ask, body: Body, wanted: Mapping[str, str]) -> Ability | None:
    """The answer to what was asked in the address; None where nothing was."""
    if body["state"] != "here" or not (STAND_IN in wanted or wanted.get("tool")):
        return None
    stand_in = stand_in_tool(wanted, torque_unit=ask.settings.unit) if STAND_IN in wanted else None
    return ability(
        ask.workshop.ledger,
        body["id"],
        None if stand_in is not None else wanted["tool"],
        today=ask.workshop.clock.now().date(),
        stand_in=stand_in,
        scale=wanted.get("scale", ""),
    )


def _scales(body: Body, shelf: Shelf) -> list[tuple[str, str]]:
    """On which scale a load may be weighed, where there is a choice."""
    if body["sort"] not in ("hung-weight", "drum") or not shelf.scales:
        return []
    own = [(scale["id"], scale["table"]["name"]) for scale in shelf.scales]
    return [("", say("rig-ability-scale-all")), *own]
