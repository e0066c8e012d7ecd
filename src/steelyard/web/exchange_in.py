"""A list comes in by a page: brought, tried in the background, its rows looked at, kept as a whole."""

from pathlib import PurePath

from fastapi import APIRouter
from fastapi.responses import FileResponse, HTMLResponse, Response

from steelyard.desk.columns_in import EXAMPLE, USUAL, WHATS
from steelyard.errors import InputRefused, NotFound, SteelyardError
from steelyard.sheets.empty_sheets import empty_csv, empty_xlsx
from steelyard.sheets.tables import CSV, MEDIA_TYPES, XLSX
from steelyard.web.asked import Ask, Asked, TypedForm
from steelyard.web.exchange_run import InRun, InRuns
from steelyard.web.pages import Form, page, see
from steelyard.words import say

router = APIRouter()
PLACE = "settings"
LONGEST_NAME = 120
EMPTY = {
    CSV: (empty_csv, MEDIA_TYPES[CSV]),
    XLSX: (empty_xlsx, MEDIA_TYPES[XLSX]),
}


@router.get("/exchange/in")
def bring_form(ask: Asked, what: str = "") -> HTMLResponse:
    """What and which file; empty sheets to fill in."""
    return _form(ask, Form({"what": what if what in WHATS else WHATS[0]}))


@router.post("/exchange/in")
def bring(ask: Asked, typed: TypedForm) -> Response:
    """Put the file down and begin to try it."""
    upload = typed.files.get("file")
    try:
        if typed["what"] not in WHATS:
            raise InputRefused("what", typed["what"] or None, "want-one-of", names=", ".join(WHATS))
        if upload is None:
            raise InputRefused("file", None, "want-chosen-file")
    except InputRefused as refused:
        return _form(ask, Form.refused(typed, refused), status=refused.http_status)
    run = runs_of(ask).bring(upload.file, asked=typed["what"], name=file_name(upload.filename or ""))
    run.begin(ask.acting())
    if run.trouble is not None:
        runs_of(ask).drop(run.key)
        return _form(ask, Form.refused(typed, run.trouble), status=run.trouble.http_status)
    return see(f"/exchange/in/{run.key}")


@router.get("/exchange/in/empty/{what}.{form}")
def empty(what: str, form: str) -> Response:
    """An empty sheet with the right columns."""
    if what not in WHATS or form not in EMPTY:
        raise NotFound(f"{what}.{form}")
    make, media_type = EMPTY[form]
    named = {"Content-Disposition": f'attachment; filename="{what}.{form}"'}
    return Response(make(what), media_type=media_type, headers=named)


@router.get("/exchange/in/{key}")
def run_page(ask: Asked, key: str) -> HTMLResponse:
    """How far it is; then what becomes of the rows."""
    return _run_page(ask, runs_of(ask).one(key), Form())


@router.post("/exchange/in/{key}")
def go_on(ask: Asked, key: str, typed: TypedForm) -> Response:
    """Keep all rows, stop, or drop the file."""
    if typed["do"] == "drop":
        runs_of(ask).drop(key)
        return see("/exchange/in")
    run = runs_of(ask).one(key)
    if typed["do"] == "stop":
        run.stop()
    elif typed["do"] == "keep":
        run.keep(ask.acting(typed))
    return see(f"/exchange/in/{key}")


@router.get("/exchange/in/{key}/fates.csv")
def fates(ask: Asked, key: str) -> Response:
    """What becomes of every row, the refused ones first."""
    run = runs_of(ask).one(key)
    if run.tried is None or run.is_running or not run.fates.is_file():
        raise NotFound("fates.csv")
    return FileResponse(run.fates, media_type=MEDIA_TYPES[CSV], filename="fates.csv")


def runs_of(ask: Ask) -> InRuns:
    """The files of this server."""
    state = ask.request.app.state
    if not hasattr(state, "in_runs"):
        state.in_runs = InRuns()
    runs: InRuns = state.in_runs
    return runs


def file_name(sent: str) -> str:
    """The name of a file as a browser sends it, without folders, fit to be shown and kept."""
    name = "".join(sign for sign in PurePath(sent.replace("\\", "/")).name if sign.isprintable())
    return name[-LONGEST_NAME:] or "table"


def _form(ask: Ask, form: Form, *, status: int = 200) -> HTMLResponse:
    return page(
        ask,
        "exchange/in.html",
        say("in-title"),
        place=PLACE,
        status=status,
        form=form,
        whats=[(what, say(f"in-what-{what}"), say(f"in-what-{what}-hint")) for what in WHATS],
        columns=USUAL,
        example=EXAMPLE,
    )


def _run_page(ask: Ask, run: InRun, form: Form) -> HTMLResponse:
    trouble: SteelyardError | None = run.trouble
    return page(
        ask,
        "exchange/in_run.html",
        say("in-run-title"),
        place=PLACE,
        form=form,
        run=run,
        trouble=str(trouble) if trouble is not None else "",
        rows=[_row(fate.row, fate.name, fate.sentence) for fate in run.tried.tally.first_refused]
        if run.tried
        else [],
        counts=_counts(run),
    )


def _row(row: int, name: str, sentence: str) -> tuple[str, str, str]:
    return str(row), name, sentence


def _counts(run: InRun) -> list[str]:
    """The refused ones first."""
    if run.tried is None:
        return []
    tally = run.tried.tally
    said = (
        ("in-count-refused", tally.refused),
        ("in-count-new", tally.new),
        ("in-count-there", tally.there),
    )
    return [say(code, count=count) for code, count in said if count]
