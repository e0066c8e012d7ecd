"""The book: find a record, read and print it, follow it by a correction, keep a check from a file."""

from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk import (
    LARGEST_BYTES,
    SEALED,
    BookPage,
    Listed,
    RecordView,
    book_page,
    correct_record,
    people,
    record_file,
    record_form,
    record_view,
    same_record,
    tool_asked,
)
from steelyard.errors import InputRefused, NotFound, SteelyardError
from steelyard.proof.sentences import signatures_said
from steelyard.telling import record_points, record_words
from steelyard.web import chain
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.web.record_files import record_dcc, record_json, record_pdf
from steelyard.words import say

router = APIRouter()
router.include_router(chain.router)
ASKED = ("words", "tool", "who", "verdict", "day_from", "day_to")
"""What the list can be narrowed by; the first is always in sight."""
KEPT = {"Cache-Control": "private, max-age=31536000, immutable"}
"""A file is found by its digest: what stands at its address never changes."""


@router.get("/book")
def book(ask: Asked, after: str = "") -> HTMLResponse:
    """The records, the latest first; searched and narrowed; fifty a page."""
    typed = {name: ask.request.query_params.get(name, "").strip() for name in ASKED}
    form, found, status = Form(_by_number(ask, typed)), BookPage((), None), 200
    try:
        found = book_page(ask.workshop.ledger, typed, after=after or None)
    except InputRefused as trouble:
        form = Form.refused(Typed(typed), trouble)
        status = trouble.http_status
    return page(
        ask,
        "book/list.html",
        say("book-title"),
        place="book",
        status=status,
        form=form,
        rows=[_row(listed) for listed in found.records],
        is_empty=not any(typed.values()) and not after and not found.records,
        is_narrowed=any(typed[name] for name in ASKED[1:]),
        verdicts=[("", say("book-any"))] + [(v, say(f"bench-verdict-{v}")) for v in SEALED],
        persons=[("", say("book-anyone"))]
        + [(p.key, p.name) for p in people(ask.workshop.ledger) if p.name is not None],
        newest=_address(typed) if after else "",
        older=_address(typed, found.older) if found.older else "",
        take_away=_address(typed, place="/exchange"),
        words=record_words,
        names=ask.workshop.ledger.names(),
    )


def _by_number(ask: Ask, typed: dict[str, str]) -> dict[str, str]:
    """The same, a tool that was named by its place in the ledger shown by its number."""
    tool = tool_asked(ask.workshop.ledger, typed["tool"]) if typed["tool"] else None
    return typed if tool is None else {**typed, "tool": str(tool["tool"]["number"])}


def _row(listed: Listed) -> dict[str, object]:
    body, closed = listed.body, listed.body["closed"]
    return {
        "record": closed["record"],
        "day": closed["day"],
        "number": body["tool_number"],
        "title": body.get("title"),
        "verdict": closed["verdict"],
        "who": closed["who"],
        "is_adjusted": bool(body["turns"]),
        "is_corrected": bool(body["corrections"]),
    }


def _address(typed: dict[str, str], after: str = "", *, place: str = "/book") -> str:
    """Where a search stands, with only what was said in it."""
    query = urlencode({name: text for name, text in {**typed, "after": after}.items() if text})
    return f"{place}?{query}" if query else place


@router.get("/book/file")
def file_form(ask: Asked) -> HTMLResponse:
    """A check form, as a file or as its text."""
    return _file_page(ask, Form())


@router.post("/book/file")
def keep_file(ask: Asked, typed: TypedForm) -> Response:
    """Judge it, number it, seal it."""
    upload = typed.files.get("file")
    content = upload.file.read(LARGEST_BYTES + 1) if upload is not None else typed["form"].encode()
    try:
        if not content.strip():
            raise InputRefused("form", None, "want-check-file")
        acting = ask.acting(typed)
        same = same_record(acting, content)
        record = record_file(acting, content) if same is None else same
    except SteelyardError as trouble:
        return _file_page(ask, _again(content, trouble), trouble.http_status)
    return see(f"/book/{record}", "notice-record-kept" if same is None else "notice-record-there")


def _again(content: bytes, trouble: SteelyardError) -> Form:
    """The form again: what stood in a file stands in the field below it, where it can be mended."""
    text = content.decode("utf-8-sig", errors="replace")
    return Form({"form": text if len(content) <= LARGEST_BYTES else ""}, {"form": str(trouble)})


def _file_page(ask: Ask, form: Form, status: int = 200) -> HTMLResponse:
    return page(ask, "book/file.html", say("book-file-title"), place="book", status=status, form=form)


@router.get("/book/{record:int}")
def read(ask: Asked, record: int) -> HTMLResponse:
    """One record, to be read and printed."""
    return _record_page(ask, record, Form())


@router.post("/book/{record:int}/correction")
def correct(ask: Asked, record: int, typed: TypedForm) -> Response:
    """Follow it by a correction."""
    try:
        correct_record(ask.acting(typed), record, typed.values)
    except InputRefused as trouble:
        return _record_page(ask, record, Form.refused(typed, trouble), trouble.http_status)
    return see(f"/book/{record}", "notice-record-corrected")


@router.get("/book/{record:int}/form.toml")
def form_toml(ask: Asked, record: int, phase: str = "") -> Response:
    """One phase of it as a check form."""
    content = record_form(ask.workshop.ledger, record, phase or None)
    return Response(content, media_type="application/toml", headers=_named(f"record-{record}.toml"))


@router.get("/book/{record:int}/content.json")
def content_json(ask: Asked, record: int) -> Response:
    """Everything in it."""
    content = record_json(ask, record)
    return Response(content, media_type="application/json", headers=_named(f"record-{record}.json"))


@router.get("/book/{record:int}/record.pdf")
def on_paper(ask: Asked, record: int, page: str = "") -> Response:
    """It as a PDF, to be printed, sent and kept."""
    return Response(
        record_pdf(ask, record, page), media_type="application/pdf", headers=_named(f"record-{record}.pdf")
    )


@router.get("/book/{record:int}/dcc.xml")
def dcc_xml(ask: Asked, record: int) -> Response:
    """Everything in it as a Digital Calibration Certificate."""
    return Response(
        record_dcc(ask, record), media_type="application/xml", headers=_named(f"record-{record}.xml")
    )


def _named(name: str) -> dict[str, str]:
    return {"Content-Disposition": f'attachment; filename="{name}"'}


@router.get("/files/{digest}")
def kept_file(ask: Asked, digest: str) -> Response:
    """A kept photograph."""
    file = ask.workshop.ledger.file(digest)
    if file is None:
        raise NotFound(digest)
    return Response(file.content, media_type=file.media_type, headers=KEPT)


def _record_page(ask: Ask, record: int, form: Form, status: int = 200) -> HTMLResponse:
    view = record_view(ask.workshop.ledger, record)
    mark = ask.settings.decimal_mark
    return page(
        ask,
        "book/record.html",
        say("record-title", record=record),
        place="book",
        status=status,
        form=form,
        record=record,
        view=view,
        body=view.body,
        closed=view.body["closed"],
        exports=_exports(view),
        phases=record_points.phases(view, mark),
        picture=record_points.picture(view, mark),
        rows=record_words.what(view, mark),
        words=record_words,
        signatures=signatures_said(view),
    )


def _exports(view: RecordView) -> list[tuple[str, str]]:
    """Word and address of each phase as a check form."""
    record = view.body["closed"]["record"]
    return [
        (
            say("record-as-form", phase=say(f"phase-{phase}").lower()),
            f"/book/{record}/form.toml?phase={phase}",
        )
        for phase in record_points.PHASES
        if phase in view.body["verdicts"]
    ]
