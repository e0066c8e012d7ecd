"""The chain on a page: verified with progress and stop, and asked about a printed record."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk import Verified, printed_stands
from steelyard.errors import SteelyardError
from steelyard.telling import record_words
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.web.run import Runs
from steelyard.words import say

router = APIRouter()
PRINTED = ("record", "entry", "digest")


@router.get("/book/chain")
def chain(ask: Asked) -> HTMLResponse:
    """How the last run stands; with a printed digest in the address, whether it is still there."""
    query = ask.request.query_params
    typed = {name: query.get(name, "").strip() for name in PRINTED}
    if not any(name in query for name in PRINTED):
        return _page(ask, Form())
    try:
        missing = printed_stands(ask.workshop.ledger, ask.workshop, typed)
    except SteelyardError as trouble:
        return _page(ask, Form.refused(Typed(typed), trouble), status=trouble.http_status)
    return _page(ask, Form(typed), printed=record_words.findings(missing) or [""])


@router.post("/book/chain")
def verify(ask: Asked, typed: TypedForm) -> Response:
    """Begin a run, or stop the one under way."""
    runs = runs_of(ask)
    if typed["stop"]:
        if runs.last is not None:
            runs.last.stop()
    else:
        runs.begin(ask.workshop.verify, at=ask.workshop.clock.now())
    return see("/book/chain")


def runs_of(ask: Ask) -> Runs[Verified]:
    """The runs of this server."""
    state = ask.request.app.state
    if not hasattr(state, "chain_runs"):
        state.chain_runs = Runs[Verified]()
    runs: Runs[Verified] = state.chain_runs
    return runs


def _page(ask: Ask, form: Form, *, printed: list[str] | None = None, status: int = 200) -> HTMLResponse:
    """printed: what is missing, one empty text where nothing is; None where nothing was asked."""
    head, run = ask.workshop.ledger.head(), runs_of(ask).last
    return page(
        ask,
        "book/chain.html",
        say("chain-title"),
        place="book",
        status=status,
        form=form,
        head=head,
        run=run,
        at=f"{run.at:%Y-%m-%d %H:%M}" if run is not None else "",
        findings=record_words.findings(run.found.findings) if run is not None and run.found else [],
        printed=printed,
        words=record_words,
    )
