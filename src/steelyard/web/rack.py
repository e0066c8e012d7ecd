"""The rack: find a tool, add one, see how it stands, say what happened to it."""

from collections.abc import Callable
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.charts import tool_drawing
from steelyard.desk import (
    DRIVER_KINDS,
    GRADUATED_KINDS,
    HAPPENINGS,
    OWN_LIMIT,
    TOOL_KINDS,
    Acting,
    ToolView,
    add_tool,
    change_tool,
    is_rack_empty,
    quarantine,
    release_tool,
    retire_tool,
    return_tool,
    tool_event,
    tool_typed_again,
    tool_view,
    tools,
)
from steelyard.desk.find_pivot import may_have_pivot
from steelyard.desk.tool_fields import TOOL_COLUMNS
from steelyard.errors import InputRefused, SteelyardError
from steelyard.telling import marked_again
from steelyard.web import rack_words
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.words import say

router = APIRouter()
SHORTEST_FIRST = {"directions": "cw", "interval_months": "12", "own_way": "skip"}
"""What stands in a new tool's fields."""


@router.get("/rack")
def rack(ask: Asked, q: str = "", state: str = "", after: str = "") -> HTMLResponse:
    """The tools, searched and narrowed; fifty a page."""
    ledger, today = ask.workshop.ledger, ask.acting().today()
    try:
        found = tools(ledger, q, state, after or None, today=today)
    except InputRefused:  # a state nobody offered: show all
        state, found = "", tools(ledger, q, "", after or None, today=today)
    return page(
        ask,
        "rack/list.html",
        say("rack-title"),
        place="rack",
        is_empty=is_rack_empty(ledger),
        rows=found.rows,
        count=_counted(len(found.rows), has_more=found.after is not None, is_first=not after),
        q=q,
        state=state or "here",
        is_first=not after,
        chips=[(code, word, _address(q, code)) for code, word in rack_words.filter_chips()],
        first_page=_address(q, state or "here"),
        next_page=_address(q, state or "here", found.after) if found.after else "",
        words=rack_words,
    )


def _counted(count: int, *, has_more: bool, is_first: bool) -> str:
    if not count:
        return say("rack-found-none")
    if not is_first:
        return say("rack-found-page", count=count)
    if has_more:
        return say("rack-found-more", count=count)
    return say("rack-found-one") if count == 1 else say("rack-found", count=count)


def _address(q: str, state: str, after: str = "") -> str:
    """Where a search stands, with only what was said in it."""
    said = {"q": q, "state": "" if state == "here" else state, "after": after}
    query = urlencode({name: text for name, text in said.items() if text})
    return f"/rack?{query}" if query else "/rack"


@router.get("/rack/new")
def new(ask: Asked, kind: str = "") -> HTMLResponse:
    """A new tool: first its kind, by picture, then the rest."""
    if kind not in TOOL_KINDS:
        groups = rack_words.kinds_pictured()
        return page(ask, "rack/kinds.html", say("rack-new-title"), place="rack", groups=groups)
    return _form(ask, Form({**SHORTEST_FIRST, "unit": ask.settings.unit, "kind": kind}))


@router.post("/rack/new")
def add(ask: Asked, typed: TypedForm) -> Response:
    """Put it on the rack."""
    try:
        tool = add_tool(ask.acting(typed), typed.values)
    except SteelyardError as trouble:
        return _form(ask, Form.refused(typed, trouble), status=trouble.http_status)
    return see(f"/rack/{tool}", "notice-tool-added")


@router.get("/rack/{tool}/change")
def change_form(ask: Asked, tool: str) -> HTMLResponse:
    """The same form, filled."""
    view = _view(ask, tool)
    typed = marked_again(tool_typed_again(view.body), TOOL_COLUMNS, ask.settings.reads_by)
    return _form(ask, Form(typed), view)


@router.post("/rack/{tool}/change")
def change(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Keep the changes."""
    view = _view(ask, tool)
    try:
        change_tool(ask.acting(typed), tool, typed.values, seen=typed.seen)
    except SteelyardError as trouble:
        return _form(ask, Form.refused(typed, trouble), view, status=trouble.http_status)
    return see(f"/rack/{tool}", "notice-tool-changed")


def _form(ask: Ask, form: Form, view: ToolView | None = None, *, status: int = 200) -> HTMLResponse:
    number = view.row.number if view is not None else ""
    title = say("rack-change-title", number=number) if view is not None else say("rack-new-title")
    kind = form.value("kind")
    return page(
        ask,
        "rack/form.html",
        title,
        place="rack",
        status=status,
        form=form,
        view=view,
        is_driver=kind in DRIVER_KINDS,
        is_graduated=kind in GRADUATED_KINDS or kind not in TOOL_KINDS,
        drawing=tool_drawing(kind) if kind in TOOL_KINDS else None,
        limits=rack_words.limit_picks(kind, form.value("limit.published")),
        own_limit=OWN_LIMIT,
        words=rack_words,
    )


@router.get("/rack/{tool}")
def one(ask: Asked, tool: str) -> HTMLResponse:
    """One tool: how it stands, what its checks said, what happened to it."""
    return _shown(ask, _view(ask, tool), Form())


def _view(ask: Ask, tool: str) -> ToolView:
    return tool_view(ask.workshop.ledger, tool, ask.acting().today())


def _shown(ask: Ask, view: ToolView, form: Form, *, status: int = 200) -> HTMLResponse:
    mark = ask.settings.decimal_mark
    return page(
        ask,
        "rack/tool.html",
        view.row.number,
        place="rack",
        status=status,
        form=form,
        view=view,
        curve=rack_words.curve_chart(view, mark),
        history=rack_words.history_chart(view, mark),
        records=rack_words.record_rows(view.checks, mark),
        has_pivot=may_have_pivot(view.body),
        words=rack_words,
    )


def _done(ask: Ask, tool: str, typed: Typed, deed: Callable[[Acting], None], *, notice: str) -> Response:
    """A small form of a tool's page: do it, or show the page again with the sentence beside its field."""
    view = _view(ask, tool)
    try:
        deed(ask.acting(typed))
    except SteelyardError as trouble:
        return _shown(ask, view, Form.refused(typed, trouble), status=trouble.http_status)
    return see(f"/rack/{tool}", notice)


@router.post("/rack/{tool}/event")
def happened(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Note what happened to it."""
    what = typed["what"] if typed["what"] in HAPPENINGS else ""
    return _done(
        ask,
        tool,
        typed,
        lambda acting: tool_event(acting, tool, typed.values, seen=typed.seen),
        notice=f"notice-tool-{what}",
    )


@router.post("/rack/{tool}/quarantine")
def hold(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Take it out of use."""
    return _done(
        ask,
        tool,
        typed,
        lambda acting: quarantine(acting, tool, typed.values, seen=typed.seen),
        notice="notice-tool-quarantined",
    )


@router.post("/rack/{tool}/release")
def release(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Back into use."""
    return _done(
        ask,
        tool,
        typed,
        lambda acting: release_tool(acting, tool, typed.values, seen=typed.seen),
        notice="notice-tool-released",
    )


@router.post("/rack/{tool}/retire")
def retire(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Off the rack for good."""
    return _done(
        ask,
        tool,
        typed,
        lambda acting: retire_tool(acting, tool, typed.values, seen=typed.seen),
        notice="notice-tool-retired",
    )


@router.post("/rack/{tool}/return")
def put_back(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Onto the rack again."""
    return _done(
        ask,
        tool,
        typed,
        lambda acting: return_tool(acting, tool, typed.values, seen=typed.seen),
        notice="notice-tool-returned",
    )
