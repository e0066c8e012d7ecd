"""The rack for programs: the same as its pages, in JSON; texts as a person would type them."""

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel, Field

from steelyard.desk import (
    ToolRow,
    ToolView,
    add_tool,
    change_tool,
    quarantine,
    release_tool,
    retire_tool,
    return_tool,
    tool_event,
    tool_view,
    tools,
)
from steelyard.web.api_sent import Asked, SentKnowing, Text
from steelyard.web.asked import Ask

router = APIRouter(prefix="/api/tools", tags=["rack"])


class ToolTyped(SentKnowing):
    """The fields of a tool, by their names in a check form.

    Where no unit is written, a torque is in `unit`, a length in mm, a mass in kg.
    """

    number: Text = ""
    kind: Text = ""
    make: Text = ""
    lowest: Text = ""
    highest: Text = ""
    unit: Text = ""
    graduation: Text = ""
    directions: Text = ""
    set_each_time: Text = ""
    grip_mark: Text = ""
    own_way: Text = ""
    mass: Text = ""
    balance_point: Text = ""
    own_reading: Text = ""
    own_reading_at: Text = ""
    own_reading_knows: Text = ""
    own_weight: Text = ""
    pivot: Text = ""
    length_independent: Text = ""
    beam_scale: Text = ""
    expected_scatter: Text = ""
    limit_published: Text = Field("", alias="limit.published")
    limit_percent: Text = Field("", alias="limit.percent")
    limit_source: Text = Field("", alias="limit.source")
    limit_of: Text = Field("", alias="limit.of")
    limit_convention: Text = Field("", alias="limit.convention")
    limit_small_percent: Text = Field("", alias="limit.small_percent")
    limit_small_up_to: Text = Field("", alias="limit.small_up_to")
    limit_split_by: Text = Field("", alias="limit.split_by")
    limit_other_direction_percent: Text = Field("", alias="limit.other_direction_percent")
    limit_from_percent_of_maximum: Text = Field("", alias="limit.from_percent_of_maximum")
    notes: Text = ""
    store_rule: Text = ""
    interval_months: Text = ""
    drive: Text = ""


class EventTyped(SentKnowing):
    """What happened: dropped, overloaded, lent, back, repaired or adjusted-elsewhere.

    to: with lent, a name; it can be forgotten, a note cannot.
    """

    what: Text = ""
    note: Text = ""
    to: Text = ""


class ReasonTyped(SentKnowing):
    """Why a tool goes into quarantine or comes out of it."""

    reason: Text = ""


class WhyTyped(SentKnowing):
    """Why a tool is retired or comes back; may be left out."""

    why: Text = ""


class ToolListed(BaseModel):
    """A tool in a list.

    state: retired, quarantined, check-first, the last verdict, or unchecked. due: how near its date is.
    check_first: dropped or overloaded, where it must be checked before it is used.
    """

    id: str
    number: str
    kind: str
    make: str | None
    lowest: str
    highest: str
    state: str
    due: str
    next_due: str | None
    check_first: str | None
    lent_to: str | None


class ToolsFound(BaseModel):
    """At most fifty tools; after: to be sent for the next ones, null at the end."""

    tools: list[ToolListed]
    after: str | None


class ToolAnswer(BaseModel):
    """A tool as it stands.

    tool, limit: tables as in a check form. events, checks: as kept, the earliest first.
    check_first: dropped or overloaded, where it must be checked before it is used.
    history: lines of an old notebook, taken in from a table; none of them is a check.
    needs: what a check on hung weights will ask for. last: number of its last entry, for `seen`.
    """

    id: str
    last: int
    state: str
    due: str
    next_due: str | None
    check_first: str | None
    lent_to: str | None
    needs: list[str]
    tool: dict[str, Any]
    limit: dict[str, Any]
    notes: str | None
    store_rule: str | None
    interval_months: int
    drive: str | None
    is_retired: bool
    quarantine: dict[str, Any] | None
    events: list[dict[str, Any]]
    checks: list[dict[str, Any]]
    history: list[dict[str, Any]] = []


@router.get("")
def list_tools(ask: Asked, q: str = "", state: str = "", after: str = "") -> ToolsFound:
    """Tools in the order of their numbers, searched and narrowed as on the page."""
    found = tools(ask.workshop.ledger, q, state, after or None, today=ask.acting().today())
    return ToolsFound(tools=[_listed(row) for row in found.rows], after=found.after)


@router.post("", status_code=201)
def add(ask: Asked, body: ToolTyped) -> ToolAnswer:
    """Put a tool on the rack."""
    typed = body.typed()
    return _answer(ask, add_tool(ask.acting(typed), typed.values))


@router.get("/{tool}")
def get_tool(ask: Asked, tool: str) -> ToolAnswer:
    """One tool."""
    return _answer(ask, tool)


@router.put("/{tool}")
def change(ask: Asked, tool: str, body: ToolTyped) -> ToolAnswer:
    """Write all its fields afresh."""
    typed = body.typed()
    change_tool(ask.acting(typed), tool, typed.values, seen=typed.seen)
    return _answer(ask, tool)


@router.post("/{tool}/event")
def event(ask: Asked, tool: str, body: EventTyped) -> ToolAnswer:
    """Note what happened to it."""
    typed = body.typed()
    tool_event(ask.acting(typed), tool, typed.values, seen=typed.seen)
    return _answer(ask, tool)


@router.post("/{tool}/quarantine")
def hold(ask: Asked, tool: str, body: ReasonTyped) -> ToolAnswer:
    """Take it out of use."""
    typed = body.typed()
    quarantine(ask.acting(typed), tool, typed.values, seen=typed.seen)
    return _answer(ask, tool)


@router.post("/{tool}/release")
def release(ask: Asked, tool: str, body: ReasonTyped) -> ToolAnswer:
    """Back into use."""
    typed = body.typed()
    release_tool(ask.acting(typed), tool, typed.values, seen=typed.seen)
    return _answer(ask, tool)


@router.post("/{tool}/retire")
def retire(ask: Asked, tool: str, body: WhyTyped) -> ToolAnswer:
    """Off the rack for good."""
    typed = body.typed()
    retire_tool(ask.acting(typed), tool, typed.values, seen=typed.seen)
    return _answer(ask, tool)


@router.post("/{tool}/return")
def put_back(ask: Asked, tool: str, body: WhyTyped) -> ToolAnswer:
    """Onto the rack again."""
    typed = body.typed()
    return_tool(ask.acting(typed), tool, typed.values, seen=typed.seen)
    return _answer(ask, tool)


def _listed(row: ToolRow) -> ToolListed:
    return ToolListed.model_validate(row, from_attributes=True)


def _answer(ask: Ask, tool: str) -> ToolAnswer:
    view: ToolView = tool_view(ask.workshop.ledger, tool, ask.acting().today())
    kept = {name: view.body[name] for name in ToolAnswer.model_fields if name in view.body}
    row = view.row
    stands = {"state": row.state, "due": row.due, "check_first": row.check_first, "lent_to": row.lent_to}
    return ToolAnswer(**{**kept, **stands, "needs": list(view.needs)})
