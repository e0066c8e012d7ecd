"""A file held against its signature; a record signed that was sealed before there was a key."""

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk.signing import accept_key, sign_record
from steelyard.errors import InputRefused
from steelyard.paper.dcc.kept import view_of
from steelyard.proof import Standing, hold, told
from steelyard.proof.holding import LARGEST_BYTES, Held
from steelyard.telling import record_points
from steelyard.web.asked import Ask, Asked, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.words import say

router = APIRouter()
SIGNS = {
    Standing.INTACT: "in",
    Standing.CHANGED: "out",
    Standing.DATA_ONLY: "cant-tell",
    Standing.UNKNOWN_KEY: "cant-tell",
    Standing.UNSIGNED: "no-limit",
    Standing.DISPUTED: "out",
}
NO_FIGURES = (ArithmeticError, AttributeError, LookupError, RecursionError, TypeError, ValueError)
"""What drawing up the figures of a file raises that somebody signed who wrote something else into it."""

NOT_SIGNED: Mapping[str, Any] = {
    "sealed": {},
    "corrections": [],
    "people": {},
    "entry": {"number": 0, "digest": ""},
    "is_intact": True,
}
"""Stands in for what a file does not give, where only the seal's signature holds; no figure comes of it."""


@router.get("/verify")
def ask_for_file(ask: Asked) -> HTMLResponse:
    """Which file."""
    return _page(ask, Form())


@router.post("/verify")
def verify(ask: Asked, typed: TypedForm) -> HTMLResponse:
    """What it is worth."""
    try:
        upload = typed.files.get("file")
        content = upload.file.read(LARGEST_BYTES + 1) if upload is not None else b""
        if not content:
            raise InputRefused("file", None, "want-file-to-verify")
        held = hold(content, ask.workshop.ledger, told=typed["fingerprint"])
    except InputRefused as trouble:
        return _page(ask, Form.refused(typed, trouble), status=trouble.http_status)
    return _page(ask, Form(typed.values), held=held)


@router.post("/verify/key")
def know_key(ask: Asked, typed: TypedForm) -> Response:
    """Know the key of the file that was looked at from now on."""
    try:
        accept_key(ask.acting(typed), typed.values, public=typed["public"])
    except InputRefused as trouble:
        return _page(ask, Form.refused(typed, trouble), status=trouble.http_status, public=typed["public"])
    return see("/settings/key", "notice-key-accepted")


@router.post("/book/{record:int}/signature")
def sign(ask: Asked, record: int, typed: TypedForm) -> Response:
    """Sign a record that nobody signed with the present key."""
    try:
        is_new = sign_record(ask.acting(typed), record)
    except InputRefused:
        return see("/settings/key")
    return see(f"/book/{record}", "notice-record-signed" if is_new else "notice-record-signed-before")


def _page(
    ask: Ask, form: Form, *, held: Held | None = None, status: int = 200, public: str = ""
) -> HTMLResponse:
    unknown = held is not None and held.standing == Standing.UNKNOWN_KEY
    return page(
        ask,
        "book/verify.html",
        say("verify-title"),
        place="book",
        status=status,
        form=form,
        held=held,
        told=told(held) if held is not None else None,
        sign=SIGNS[held.standing] if held is not None else "",
        public=(held.seen.public if held is not None and unknown else public) or "",
        phases=_figures(held, ask.settings.decimal_mark) if held is not None else [],
    )


def _figures(held: Held, mark: str) -> list[Any]:
    """The judged phases as they were signed; none where nothing stands, or they cannot be drawn up."""
    if held.seen.export is None or not held.seen.stands:
        return []
    try:
        return list(record_points.phases(view_of({**NOT_SIGNED, **held.seen.export}), mark))
    except NO_FIGURES:
        return []
