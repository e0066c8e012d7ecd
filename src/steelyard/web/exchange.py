"""In and out: tables and the whole workshop to take away, and the way in."""

from collections.abc import Mapping
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.bootstrap import WHOLE_FILE, has_zip
from steelyard.desk.tables_out import NARROWED, NARROWED_BY, TABLES
from steelyard.sheets.tables import FORMS
from steelyard.web.asked import Ask, Asked
from steelyard.web.pages import page
from steelyard.web.taken_away import table_answer, whole_answer
from steelyard.words import say

router = APIRouter()


@router.get("/exchange")
def exchange(ask: Asked) -> HTMLResponse:
    """What can be taken away, as narrowed in the book where the address says so; what can be brought in."""
    narrowed = _narrowed(ask)
    return page(
        ask,
        "exchange/index.html",
        say("exchange-title"),
        place="settings",
        tables=[
            (say(f"exchange-{what}"), say(f"exchange-{what}-what"), _links(what, narrowed)) for what in TABLES
        ],
        is_narrowed=bool(narrowed),
        whole=f"/exchange/{WHOLE_FILE}" if has_zip(ask.workshop) else "",
    )


def _links(what: str, narrowed: Mapping[str, str]) -> list[tuple[str, str, str]]:
    """Of each form its word, its address, and both table and form in words."""
    query = f"?{urlencode(narrowed)}" if narrowed and what in NARROWED else ""
    return [
        (
            say(f"exchange-as-{form}"),
            f"/exchange/{what}.{form}{query}",
            say("exchange-take", what=say(f"exchange-{what}"), form=say(f"exchange-as-{form}")),
        )
        for form in FORMS
    ]


def _narrowed(ask: Ask) -> dict[str, str]:
    query = ask.request.query_params
    return {name: query[name] for name in NARROWED_BY if query.get(name, "").strip()}


@router.get(f"/exchange/{WHOLE_FILE}")
def whole(ask: Asked) -> Response:
    """The whole workshop."""
    return whole_answer(ask)


@router.get("/exchange/{what}.{form}")
def table(ask: Asked, what: str, form: str) -> Response:
    """One table."""
    return table_answer(ask, what, _narrowed(ask), form=form)
