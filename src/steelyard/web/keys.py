"""The workshop's key: its fingerprint, recovery sheet, copies, the way back, a new one, keys of others."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.bootstrap.keyring import LARGEST_KEY_FILE
from steelyard.desk.signing import drop_key, other_keys
from steelyard.errors import Conflict, InputRefused, SteelyardError
from steelyard.paper.recovery import recovery_sheet
from steelyard.proof import fingerprint
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.words import say

router = APIRouter()
SHEET_NAME = "recovery-sheet.pdf"


@router.get("/settings/key")
def show(ask: Asked) -> HTMLResponse:
    """How the key stands, and all that is done with it."""
    return _page(ask)


@router.post("/settings/key/sheet")
def sheet(ask: Asked) -> Response:
    """The recovery sheet: asked for by a button, so that nothing fetches it by itself."""
    try:
        content = sheet_pdf(ask)
    except InputRefused as trouble:
        return _page(ask, sheet=Form.refused(Typed(), trouble), status=trouble.http_status)
    named = {"Content-Disposition": f'attachment; filename="{SHEET_NAME}"'}
    return Response(content, media_type="application/pdf", headers=named)


def sheet_pdf(ask: Ask) -> bytes:
    """The bytes of the recovery sheet. Raises InputRefused where the key is not there."""
    keyring, said = ask.workshop.keyring, ask.settings
    return recovery_sheet(
        keyring.lines(),
        keyring.said().fingerprint,
        shop=said.name,
        page=said.paper,
        today=ask.workshop.clock.now().date(),
        is_demo=ask.workshop.is_demo,
    )


@router.post("/settings/key/copy")
def copy(ask: Asked, typed: TypedForm) -> Response:
    """A copy under a pass phrase, beside the backups."""
    try:
        place = ask.workshop.keyring.copy(ask.workshop.backup_folder, typed["phrase"], typed["again"])
    except SteelyardError as trouble:
        return _page(ask, copy=Form.refused(Typed(), trouble), status=trouble.http_status)
    return _page(ask, copied=say("key-copied", place=place))


@router.post("/settings/key/back")
def back(ask: Asked, typed: TypedForm) -> Response:
    """The key from its recovery sheet, or from a copy."""
    try:
        bring_back(ask, typed["lines"], _sent(typed), typed["phrase_of_file"])
    except SteelyardError as trouble:
        return _page(ask, back=_back_again(typed, trouble), status=trouble.http_status)
    return see("/settings/key", "notice-key-back")


def bring_back(ask: Ask, lines: str, content: bytes, phrase: str) -> None:
    """Put the key back from what was given: the lines, else the file. Raises InputRefused."""
    if lines.strip():
        ask.workshop.keyring.back_from_lines(lines)
    elif content:
        ask.workshop.keyring.back_from_file(content, phrase)
    else:
        raise InputRefused("lines", None, "want-key-lines-or-file")


@router.post("/settings/key/new")
def new(ask: Asked, typed: TypedForm) -> Response:
    """Another key from now on."""
    try:
        if not typed["sure"]:
            raise InputRefused("sure", None, "want-new-key-sure")
        ask.workshop.keyring.new(ask.acting(typed), typed["known"])
    except Conflict:
        return see("/settings/key")
    except SteelyardError as trouble:
        return _page(ask, new=Form.refused(typed, trouble), status=trouble.http_status)
    return see("/settings/key", "notice-key-new")


@router.post("/settings/key/drop")
def drop(ask: Asked, typed: TypedForm) -> Response:
    """A key of somebody else is not known any more."""
    drop_key(ask.acting(typed), typed["public"])
    return see("/settings/key", "notice-key-dropped")


def _sent(typed: Typed) -> bytes:
    upload = typed.files.get("key")
    return upload.file.read(LARGEST_KEY_FILE + 1) if upload is not None else b""


def _back_again(typed: Typed, trouble: SteelyardError) -> Form:
    """The same of bringing a key back: the lines stay, so that one digit can be mended."""
    form = Form.refused(Typed({"lines": typed["lines"]}), trouble)
    names = {"phrase": "phrase_of_file"}
    return Form(form.values, {names.get(name, name): text for name, text in form.troubles.items()})


def _page(
    ask: Ask,
    *,
    sheet: Form | None = None,
    copy: Form | None = None,
    back: Form | None = None,
    new: Form | None = None,
    copied: str = "",
    status: int = 200,
) -> HTMLResponse:
    others = [(other["name"], other["public"]) for other in other_keys(ask.workshop.ledger)]
    return page(
        ask,
        "key.html",
        say("key-title"),
        place="settings",
        status=status,
        key=ask.workshop.keyring.said(),
        sheet=sheet or Form(),
        copy=copy or Form(),
        back=back or Form(),
        new=new or Form(),
        copied=copied,
        others=[(name, public, fingerprint(public)) for name, public in others],
    )
