"""What leaves the workshop, for programs: tables, and all of it in one zip, which comes in again."""

import tempfile
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Body, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field

from steelyard.bootstrap import WHOLE_FILE, bring_whole_workshop
from steelyard.sheets.tables import CSV, JSON, MEDIA_TYPES, XLSX
from steelyard.web.api_sent import Asked, Text
from steelyard.web.taken_away import ZIP, table_answer, whole_answer

router = APIRouter(tags=["exchange"])
BYTES = {"type": "string", "format": "binary"}
TABLE: dict[str, Any] = {
    MEDIA_TYPES[CSV].partition(";")[0]: {"schema": {"type": "string"}},
    MEDIA_TYPES[XLSX]: {"schema": BYTES},
    MEDIA_TYPES[JSON]: {"schema": {"type": "object"}},
}
WHOLE = {ZIP: {"schema": BYTES}}
OCTETS = "application/octet-stream"
SENT = {OCTETS: {"schema": BYTES}}


class TableWanted(BaseModel):
    """In which form, and of records and pulls which ones, as on the page of the book.

    as: csv, xlsx or json. who: key of a person. day_from, day_to: first and last day.
    """

    form: Annotated[Text, Field(alias="as")] = CSV
    words: Text = ""
    tool: Text = ""
    who: Text = ""
    verdict: Text = ""
    day_from: Text = ""
    day_to: Text = ""


@router.get("/api/tables/{what}", response_class=Response, responses={200: {"content": TABLE}})
def get_table(ask: Asked, what: str, wanted: Annotated[TableWanted, Query()]) -> Response:
    """A table: the rack, the rigs, the records or the pulls."""
    typed = {name: text for name, text in wanted.model_dump().items() if name != "form"}
    return table_answer(ask, what, typed, form=wanted.form)


@router.get(f"/api/{WHOLE_FILE}", response_class=Response, responses={200: {"content": WHOLE}})
def get_workshop(ask: Asked) -> Response:
    """The whole workshop, names and files too, as a zip that an empty workshop takes in."""
    return whole_answer(ask)


class WholeBrought(BaseModel):
    """What came: how many entries, and the last one's digest."""

    entries: int
    digest: str


@router.post(
    f"/api/{WHOLE_FILE}", status_code=201, openapi_extra={"requestBody": {"content": SENT, "required": True}}
)
def bring_workshop(ask: Asked, content: Annotated[bytes, Body(media_type=OCTETS)]) -> WholeBrought:
    """Put a whole workshop into one that was not begun yet; the body is its zip. Answers when all is in."""
    with tempfile.TemporaryDirectory(prefix="steelyard-") as name:
        file = Path(name) / WHOLE_FILE
        file.write_bytes(content)
        came = bring_whole_workshop(ask.workshop, file, field="body")
    if came is None:  # nothing stops it here
        raise RuntimeError("stopped")
    return WholeBrought(entries=came.entries, digest=came.head_digest)
