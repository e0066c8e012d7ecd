"""Find the pivot of a tool from its clicks at two marks, and note it for the tool."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk import Body, tool_view
from steelyard.desk.find_pivot import LOADS, PIVOT_FIELDS, FoundPivot, find_pivot, keep_pivot, may_have_pivot
from steelyard.errors import InputRefused, SteelyardError
from steelyard.telling import marked_as_kept, marked_text
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.web.point_page import reworded
from steelyard.words import say

router = APIRouter(prefix="/rack/{tool}/pivot")
ON_THE_PAGE = {
    "reckon-pivot-form": "pivot-writes",
    "reckon-pivot-alike": "pivot-alike",
    "reckon-pivot-outside": "pivot-outside",
}
"""What the quick question says of the file of a check, in the words of the rack."""
WANTED = {
    "want-known-load": "want-weight-within",
    "want-scale-name": "want-scale-of-shop",
    "want-unit": "want-weight-of-shop",
}
"""What is wanted of a load, in the words of the page."""


@router.get("")
def ask_pivot(ask: Asked, tool: str) -> HTMLResponse:
    """Two marks; worked out where the address holds what hung there."""
    body = _body(ask, tool)
    typed = {name: text for name, text in ask.request.query_params.items() if name in PIVOT_FIELDS}
    if not any(text.strip() for text in typed.values()):
        return _page(ask, body, Form(), None)
    try:
        found = find_pivot(ask.workshop.ledger, tool, typed)
    except InputRefused as trouble:
        return _page(ask, body, _form(Typed(typed), trouble), None, status=trouble.http_status)
    return _page(ask, body, Form(typed), found)


@router.post("")
def keep(ask: Asked, tool: str, typed: TypedForm) -> Response:
    """Note it for the tool."""
    body = _body(ask, tool)
    try:
        keep_pivot(ask.acting(typed), tool, typed.values, typed.seen)
    except SteelyardError as trouble:
        return _page(ask, body, _form(typed, trouble), None, status=trouble.http_status)
    return see(f"/rack/{tool}", "notice-pivot-found")


def _form(typed: Typed, trouble: SteelyardError) -> Form:
    """The sentence beside its field; of the tool itself, above all of them."""
    if isinstance(trouble, InputRefused) and trouble.field not in PIVOT_FIELDS:
        return Form(typed.values, {"": str(trouble)})
    is_load = isinstance(trouble, InputRefused) and trouble.field in LOADS
    return Form.refused(typed, reworded(trouble, WANTED) if is_load else trouble)


def _body(ask: Ask, tool: str) -> Body:
    return tool_view(ask.workshop.ledger, tool, ask.acting().today()).body


def _page(ask: Ask, body: Body, form: Form, found: FoundPivot | None, *, status: int = 200) -> HTMLResponse:
    number, pivot = body["tool"]["number"], body["tool"].get("pivot")
    return page(
        ask,
        "rack/pivot.html",
        say("pivot-title", number=number),
        place="rack",
        status=status,
        form=form,
        body=body,
        now=say("pivot-now", pivot=marked_as_kept(pivot, ask.settings.decimal_mark))
        if pivot
        else say("pivot-now-none"),
        fits=may_have_pivot(body),
        found=found,
        lines=_lines(found, ask.settings.decimal_mark) if found is not None else [],
        number=_number(found, ask.settings.decimal_mark) if found is not None else "",
        doubts=_doubts(found, ask.settings.decimal_mark) if found is not None else [],
    )


def _lines(found: FoundPivot, mark: str) -> list[str]:
    return [
        marked_text(say(ON_THE_PAGE.get(code, code), **facts), mark) for code, facts in found.answer.lines
    ]


def _number(found: FoundPivot, mark: str) -> str:
    return marked_as_kept(found.stands, mark) if found.stands is not None else ""


def _doubts(found: FoundPivot, mark: str) -> list[tuple[str, str]]:
    return [
        (each.severity.value, marked_text(say(ON_THE_PAGE.get(each.code, each.code), **each.facts), mark))
        for each in found.answer.findings
    ]
