"""Labels for tools: which ones, on which sheet and from which position on, then the PDF."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import parse_qsl, quote, unquote, urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk import ToolRow, ToolView, tool_view, tools
from steelyard.desk.labelling import LABEL_SETS, tools_to_label
from steelyard.errors import InputRefused, NotFound
from steelyard.paper.label_sheets import (
    OWN,
    OWN_FIELDS,
    SHEETS,
    SINGLE,
    USUAL_SINGLE,
    LabelSheet,
    sheet_typed_again,
    typed_sheet,
    typed_skip,
    usual_sheet,
)
from steelyard.paper.labels import label_pdf
from steelyard.telling import marked_text
from steelyard.web import rack_words
from steelyard.web.asked import Ask, Asked, Typed
from steelyard.web.pages import Form, page
from steelyard.words import say

router = APIRouter()
SHEET_FIELDS = ("sheet", *OWN_FIELDS, "single_width", "single_height")
SHEET_COOKIE, KEPT_SECONDS, LONGEST_KEPT = "steelyard_sheet", 400 * 24 * 3600, 600
PICTURE_WIDTH, LEAST_HEIGHT = 340, 48
"""Of the picture of a sheet, and of a position in it, for a finger. [CSS px]"""


@dataclass(frozen=True)
class Position:
    """A position on the picture of a sheet.

    skip: how many lie before it. number: of the tool whose label comes here, empty where none does.
    sort: `used`, `tool`, `stop` where the label says that a tool is not to be used, or `free`.
    """

    skip: int
    number: str
    sort: str

    @property
    def said(self) -> str:
        """All of it in words."""
        return say(f"label-position-{self.sort}", position=self.skip + 1, number=self.number)


@router.get("/rack/labels")
def choose(ask: Asked, q: str = "") -> HTMLResponse:
    """Which tools: tick them, or take all that are due, set aside or in use."""
    return _choose(ask, Form({"q": q}))


@router.get("/rack/labels/sheet")
def sheet(ask: Asked) -> HTMLResponse:
    """On which sheet, and which of its positions are used up."""
    return _sheet(ask)


@router.get("/rack/labels/print")
def made(ask: Asked) -> Response:
    """The PDF; the sheet is remembered on this device."""
    typed = _typed(ask)
    try:
        pdf = pdf_of(ask, ask.request.query_params.getlist("tool"), _which(ask), typed)
    except InputRefused:
        return _sheet(ask)
    headers = {"Content-Disposition": 'attachment; filename="labels.pdf"'}
    answer = Response(pdf, media_type="application/pdf", headers=headers)
    kept = quote(urlencode({name: typed[name] for name in SHEET_FIELDS if typed[name]}), safe="")
    if len(kept) <= LONGEST_KEPT:
        answer.set_cookie(SHEET_COOKIE, kept, max_age=KEPT_SECONDS, httponly=True, samesite="lax")
    return answer


def pdf_of(ask: Ask, names: Sequence[str], which: str, typed: Mapping[str, str]) -> bytes:
    """The labels as a PDF. Raises InputRefused with the field, NotFound, StoreTrouble."""
    views, said = _views(ask, names, which), ask.settings
    wanted = typed_sheet(typed, said.reads_by)
    skip = typed_skip(typed.get("skip", ""), wanted)
    today = ask.acting().today()
    return label_pdf(views, wanted, skip, address=said.label_address, shop=said.name, today=today)


def _views(ask: Ask, names: Sequence[str], which: str) -> tuple[ToolView, ...]:
    return tools_to_label(ask.workshop.ledger, names, which, today=ask.acting().today())


def _which(ask: Ask) -> str:
    return ask.request.query_params.get("which", "").strip()


def _typed(ask: Ask) -> dict[str, str]:
    """What stands in the fields of the sheet: as sent, else as last printed here, else the usual."""
    sent = ask.request.query_params
    mark = ask.settings.decimal_mark
    single = dict(zip(("single_width", "single_height"), USUAL_SINGLE, strict=True))
    usual = {"sheet": usual_sheet(ask.settings.paper), **single}
    own = sheet_typed_again(SHEETS[usual["sheet"]])
    typed = {**usual, **{name: marked_text(text, mark) for name, text in own.items()}, "skip": ""}
    given = dict(sent) if "sheet" in sent else _kept(ask)
    typed |= {name: given[name] for name in SHEET_FIELDS if name in given}
    typed["skip"] = sent.get("start", sent.get("skip", ""))
    return typed


def _kept(ask: Ask) -> dict[str, str]:
    return dict(parse_qsl(unquote(ask.request.cookies.get(SHEET_COOKIE, ""))[:LONGEST_KEPT]))


def _choose(ask: Ask, form: Form, *, status: int = 200) -> HTMLResponse:
    ledger, today, q = ask.workshop.ledger, ask.acting().today(), form.value("q")
    ticked = _ticked(ask)
    found = tools(ledger, q, "", today=today)
    chosen = {row.id for row in ticked}
    return page(
        ask,
        "rack/labels.html",
        say("label-choose-title"),
        place="rack",
        status=status,
        form=form,
        ticked=ticked,
        rows=[row for row in found.rows if row.id not in chosen],
        has_more=found.after is not None,
        sets=[(which, say(f"label-set-{which}")) for which in LABEL_SETS],
        words=rack_words,
    )


def _ticked(ask: Ask) -> list[ToolRow]:
    """What was ticked so far, without what is not there or retired."""
    rows = {}
    for name in ask.request.query_params.getlist("tool"):
        try:
            row = tool_view(ask.workshop.ledger, name, ask.acting().today()).row
        except NotFound:
            continue
        if row.state != "retired":
            rows[row.id] = row
    return list(rows.values())


def _sheet(ask: Ask) -> HTMLResponse:
    names, which = ask.request.query_params.getlist("tool"), _which(ask)
    try:
        views = _views(ask, names, which)
    except InputRefused as trouble:
        return _choose(ask, Form.refused(Typed(), trouble), status=trouble.http_status)
    typed, status = _typed(ask), 200
    form, drawn, skip = Form(typed), None, 0
    try:
        drawn = typed_sheet(typed, ask.settings.reads_by)
        skip = typed_skip(typed["skip"], drawn)
    except InputRefused as trouble:
        form, status, drawn = Form.refused(Typed(typed), trouble), trouble.http_status, None
    return page(
        ask,
        "rack/label-sheet.html",
        _title(views),
        place="rack",
        status=status,
        form=form,
        tools=[view.row.id for view in views] if names else [],
        which=which,
        count=_counted(len(views), drawn, skip),
        rows=_rows(views, drawn, skip) if drawn is not None and drawn.count > 1 else [],
        height=max(LEAST_HEIGHT, _height(drawn)) if drawn is not None else LEAST_HEIGHT,
        sheets=_choices(ask.settings.decimal_mark),
    )


def _title(views: Sequence[ToolView]) -> str:
    if len(views) > 1:
        return say("label-sheet-title", count=len(views))
    code = "label-sheet-stop" if views[0].quarantine is not None else "label-sheet-one"
    return say(code, number=views[0].row.number)


def _counted(labels: int, drawn: LabelSheet | None, skip: int) -> str:
    if drawn is None:
        return say("label-not-drawn")
    sheets = -(-(skip + labels) // drawn.count)
    if drawn.count == 1:
        return say("label-pages", pages=labels)
    return say("label-one-sheet", labels=labels) if sheets == 1 else say("label-more-sheets", sheets=sheets)


def _rows(views: Sequence[ToolView], drawn: LabelSheet, skip: int) -> list[list[Position]]:
    """The positions of the first sheet, row by row."""
    found = [Position(at, "", "used" if at < skip else "free") for at in range(drawn.count)]
    for at, view in zip(range(skip, drawn.count), views, strict=False):
        found[at] = Position(at, view.row.number, "tool" if view.quarantine is None else "stop")
    return [found[at : at + drawn.columns] for at in range(0, drawn.count, drawn.columns)]


def _height(drawn: LabelSheet) -> int:
    return round(PICTURE_WIDTH * drawn.label_height_mm / drawn.page_width_mm)


def _choices(mark: str) -> list[tuple[str, str, str]]:
    """Sheets to pick from: code, words, hint."""
    named = [
        (
            name,
            say(f"label-page-{name.partition('-')[0]}", columns=one.columns, rows=one.rows),
            marked_text(say("label-each", width=one.label_width_mm, height=one.label_height_mm), mark),
        )
        for name, one in SHEETS.items()
    ]
    others = (SINGLE, OWN)
    return named + [(code, say(f"label-sheet-{code}"), say(f"label-sheet-{code}-hint")) for code in others]
