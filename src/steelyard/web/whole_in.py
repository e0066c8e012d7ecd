"""A whole workshop comes into one that was not begun yet: from its zip, with progress and stop."""

import shutil
import tempfile
from pathlib import Path

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.bootstrap import WholeCounts, Workshop, bring_whole_workshop
from steelyard.desk import OnStep
from steelyard.errors import InputRefused
from steelyard.web.asked import Ask, Asked, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.web.run import Runs
from steelyard.words import say

router = APIRouter()
ADDRESS = "/exchange/whole"
ZIP = "workshop.zip"


@router.get(ADDRESS)
def whole(ask: Asked) -> HTMLResponse:
    """Which zip; how far it is; what came."""
    return _page(ask, Form())


@router.post(ADDRESS)
def bring(ask: Asked, typed: TypedForm) -> Response:
    """Put the zip down and begin, or stop what was begun."""
    runs = runs_of(ask)
    if typed["stop"]:
        if runs.last is not None:
            runs.last.stop()
        return see(ADDRESS)
    upload = typed.files.get("file")
    if upload is None:
        trouble = InputRefused("file", None, "want-chosen-file")
        return _page(ask, Form.refused(typed, trouble), status=trouble.http_status)
    folder = Path(tempfile.mkdtemp(prefix="steelyard-"))
    with (folder / ZIP).open("wb") as file:
        shutil.copyfileobj(upload.file, file)
    runs.begin(lambda step: _brought(ask.workshop, folder, step), at=ask.workshop.clock.now())
    return see(ADDRESS)


def _brought(workshop: Workshop, folder: Path, on_step: OnStep) -> WholeCounts | None:
    """Bring it, and throw the zip away whatever comes of it."""
    try:
        return bring_whole_workshop(workshop, folder / ZIP, on_step, field="file")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def runs_of(ask: Ask) -> Runs[WholeCounts]:
    """The runs of this server."""
    state = ask.request.app.state
    if not hasattr(state, "whole_runs"):
        state.whole_runs = Runs[WholeCounts]()
    runs: Runs[WholeCounts] = state.whole_runs
    return runs


def _page(ask: Ask, form: Form, *, status: int = 200) -> HTMLResponse:
    return page(
        ask,
        "exchange/whole.html",
        say("whole-in-title"),
        place="settings",
        status=status,
        form=form,
        run=runs_of(ask).last,
        is_begun=ask.workshop.ledger.head().number > 0,
    )
