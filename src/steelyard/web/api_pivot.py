"""The pivot of a tool for a program: found from its clicks at two marks, and noted."""

from typing import Annotated

from fastapi import APIRouter, Query
from pydantic import BaseModel, ConfigDict

from steelyard.desk.find_pivot import find_pivot, keep_pivot
from steelyard.desk.typed_table import as_shown
from steelyard.web.api_rack import ToolAnswer, get_tool
from steelyard.web.api_sent import Asked, FindingAnswer, SentKnowing, Text, finding_answer
from steelyard.words import say

router = APIRouter(prefix="/api/tools/{tool}/pivot", tags=["rack"])


class TwoMarks(BaseModel):
    """What hung at the click at two marks, and where they are; a ± may stand behind each."""

    model_config = ConfigDict(extra="forbid")
    near_load: Text = ""
    near_arm: Text = ""
    far_load: Text = ""
    far_arm: Text = ""


class PivotTyped(TwoMarks, SentKnowing):
    """What hung at the click at two marks, and where they are; a ± may stand behind each."""


class PivotAnswer(BaseModel):
    """What two marks tell. stands: as the tool would keep it; null where nothing can be noted.

    numbers: unrounded, each named with its unit.
    """

    stands: str | None
    numbers: dict[str, float | str]
    sentences: list[str]
    findings: list[FindingAnswer]


@router.get("")
def get_pivot(ask: Asked, tool: str, wanted: Annotated[TwoMarks, Query()]) -> PivotAnswer:
    """Where its pivot lies, worked out; nothing is kept."""
    found = find_pivot(ask.workshop.ledger, tool, wanted.model_dump())
    return PivotAnswer(
        stands=as_shown(found.stands) if found.stands is not None else None,
        numbers=dict(found.answer.numbers),
        sentences=[say(code, **facts) for code, facts in found.answer.lines],
        findings=[finding_answer(each) for each in found.answer.findings],
    )


@router.post("", status_code=201)
def post_pivot(ask: Asked, tool: str, body: PivotTyped) -> ToolAnswer:
    """Note it for the tool; what is set up from then on reckons with it."""
    typed = body.typed()
    keep_pivot(ask.acting(typed), tool, typed.values, typed.seen)
    return get_tool(ask, tool)
