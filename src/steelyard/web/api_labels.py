"""Labels for programs: the same PDF as of the page."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field

from steelyard.web.api_sent import Asked, Text
from steelyard.web.labels import pdf_of

router = APIRouter(tags=["rack"])
PDF = {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}
MOST_NAMED = 1000


class LabelsWanted(BaseModel):
    """Which tools, and on which paper, as on the page of the sheet."""

    tool: Annotated[list[Text], Field(max_length=MOST_NAMED)] = []
    which: Text = ""
    sheet: Text = ""
    skip: Text = ""
    single_width: Text = ""
    single_height: Text = ""
    page_width: Text = ""
    page_height: Text = ""
    label_width: Text = ""
    label_height: Text = ""
    columns: Text = ""
    rows: Text = ""
    margin_left: Text = ""
    margin_top: Text = ""
    gap_across: Text = ""
    gap_down: Text = ""


@router.get("/api/labels", response_class=Response, responses={200: {"content": PDF}})
def get_labels(ask: Asked, wanted: Annotated[LabelsWanted, Query()]) -> Response:
    """Labels of tools, by name or number, or of all that are due, quarantined or here; on a sheet by its
    name, single or own with its measures."""
    typed = {name: text for name, text in wanted.model_dump().items() if isinstance(text, str)}
    return Response(pdf_of(ask, wanted.tool, wanted.which, typed), media_type="application/pdf")
