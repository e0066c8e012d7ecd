"""The rigs for a program: what the workshop measures with, and what each of them can decide."""

from dataclasses import asdict
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query
from fastapi import Body as Sent
from pydantic import BaseModel, ConfigDict

from steelyard.desk import (
    LARGEST_BYTES,
    Ability,
    AbilityPoint,
    Body,
    ScaleAlone,
    ability,
    add_rig,
    alone,
    change_rig,
    here,
    paper_state,
    rig_body,
    sell_rig,
    sold,
    stand_in_tool,
    tools_for,
)
from steelyard.errors import InputRefused, NotFound
from steelyard.paper.dcc import paper_of_dcc
from steelyard.web.api_sent import Asked, FindingAnswer, SentKnowing, Text, TextsSent, finding_answer
from steelyard.web.asked import Ask

router = APIRouter(prefix="/api/rigs", tags=["rigs"])
XML = {"application/xml": {"schema": {"type": "string", "maxLength": LARGEST_BYTES}}}


class RigTyped(TextsSent):
    """The fields of a rig, by the names of its table in a check form.

    Of a paper `paper.certificate` …, of its rows `row1_at`, `row1_stated`, `row1_U`, `row1_k` …
    """

    name: Text = ""
    notes: Text = ""


class NewRigTyped(RigTyped):
    """The same with `sort`: scale, mass, hung-weight, drum or transducer."""

    sort: Text = ""


class PaperAnswer(BaseModel):
    """A paper as table `kit.paper` of a check form. findings: what was left out of it, what it lacks."""

    paper: dict[str, Any]
    findings: list[FindingAnswer]


class SoldTyped(SentKnowing):
    """Why it is no longer here; may be left out."""

    note: Text = ""


class AbilityAsked(BaseModel):
    """A tool by its id, or one that stands in: its kind, range and limit, and what its kind needs.

    scale: id of the one on which the load is weighed, where that is not left open.
    """

    model_config = ConfigDict(extra="forbid")
    tool: Text = ""
    kind: Text | None = None
    lowest: Text = ""
    highest: Text = ""
    percent: Text = ""
    graduation: Text = ""
    grip_mark: Text = ""
    own_weight: Text = ""
    scale: Text = ""


class RigAnswer(BaseModel):
    """A rig as it stands. table: as in a check form. paper: what its paper is worth today.

    weighings: of a weight, or checks of a scale with water, the earliest first, as kept.
    """

    id: str
    last: int
    sort: str
    state: str
    paper: str
    table: dict[str, Any]
    notes: str | None
    weighings: list[dict[str, Any]] = []


class Improvement(BaseModel):
    """What could be made better, and the ± that would be left."""

    change: str
    expanded_percent: float


class AbilityAt(BaseModel):
    """What a rig decides at one torque; refused: why it cannot be asked there, then the rest is null."""

    target: str
    direction: str
    refused: str | None
    limit_percent: str | None = None
    expanded_percent: float | None = None
    passes_inside_percent: float | None = None
    hopeless: bool | None = None
    mass_kilogram: float | None = None
    grip_newton: float | None = None
    improvements: list[Improvement] = []


class AbilityAnswer(BaseModel):
    """What a rig can decide of a tool. arm: the rig from which a weight or a scale's load hangs, where it is
    another."""

    rig: str
    tool: str | None
    arm: str | None
    scatter_percent: float
    scatter_is_guessed: bool
    refused: str | None
    findings: list[FindingAnswer]
    points: list[AbilityAt]


class KnownAnswer(BaseModel):
    """A load and its ± with k = 2."""

    kilogram: float
    expanded_percent: float


class ArmAnswer(BaseModel):
    """The torque a weight makes at an arm. name: of the rig, or the number of the tool whose handle it is."""

    name: str
    is_handle: bool
    arm: str
    newton_metre: float


class AloneAnswer(BaseModel):
    """What a scale or a weight knows by itself.

    loads: of a scale, some; of a weight, itself. quarter_kilogram, whole_kilogram: loads from which a scale
    knows them to ±1 % and ±4 %; null beyond 100 kg. arms: where a weight can hang, and what it makes there.
    """

    loads: list[KnownAnswer]
    quarter_kilogram: float | None = None
    whole_kilogram: float | None = None
    arms: list[ArmAnswer] = []


@router.get("")
def get_rigs(ask: Asked, state: Literal["here", "sold"] = "here") -> list[RigAnswer]:
    """All that is here, or all that is sold; in groups by sort, each in the order of its names."""
    shelf = here(ask.workshop.ledger) if state == "here" else sold(ask.workshop.ledger)
    return [rig_answer(ask, body) for body in shelf.everything]


@router.get("/{rig}")
def get_rig(ask: Asked, rig: str) -> RigAnswer:
    """One rig."""
    return rig_answer(ask, rig_body(ask.workshop.ledger, rig))


@router.post("", status_code=201)
def post_rig(ask: Asked, body: NewRigTyped) -> RigAnswer:
    """Keep a new rig."""
    typed = body.typed()
    return get_rig(ask, add_rig(ask.acting(typed), body.sort, typed.values))


@router.post("/paper", openapi_extra={"requestBody": {"content": XML, "required": True}})
def read_paper(content: Annotated[bytes, Sent(media_type="application/xml")]) -> PaperAnswer:
    """What a transducer's certificate in XML says, as a paper to be looked over; nothing is kept."""
    read = paper_of_dcc(content, field="content", name="XML")
    return PaperAnswer(paper=read.table, findings=[finding_answer(note) for note in read.notes])


@router.put("/{rig}")
def put_rig(ask: Asked, rig: str, body: RigTyped) -> RigAnswer:
    """Write all its fields anew; one that was sold is here again."""
    typed = body.typed()
    change_rig(ask.acting(typed), rig, typed.values, typed.seen)
    return get_rig(ask, rig)


@router.post("/{rig}/sold")
def post_sold(ask: Asked, rig: str, body: SoldTyped) -> RigAnswer:
    """It is no longer here."""
    typed = body.typed()
    sell_rig(ask.acting(typed), rig, typed.values, typed.seen)
    return get_rig(ask, rig)


@router.get("/{rig}/ability")
def get_ability(ask: Asked, rig: str, wanted: Annotated[AbilityAsked, Query()]) -> AbilityAnswer:
    """What it can decide of a tool."""
    body = rig_body(ask.workshop.ledger, rig)
    if not wanted.tool and wanted.kind is None:
        raise InputRefused("tool", None, "want-rig-tool-or-kind")
    typed = wanted.model_dump(exclude_none=True)
    asked = ability(
        ask.workshop.ledger,
        body["id"],
        wanted.tool or None,
        today=ask.workshop.clock.now().date(),
        stand_in=None if wanted.tool else stand_in_tool(typed, torque_unit=ask.settings.unit),
        scale=wanted.scale,
    )
    return _ability(asked)


@router.get("/{rig}/alone")
def get_alone(ask: Asked, rig: str) -> AloneAnswer:
    """What a scale or a weight knows by itself; 404 of another sort."""
    ledger = ask.workshop.ledger
    body = rig_body(ledger, rig)
    found = alone(body, here(ledger), tools_for(ledger, body))
    if found is None:
        raise NotFound(f"rig {rig}")
    if isinstance(found, ScaleAlone):
        loads = [KnownAnswer(**asdict(known)) for known in found.loads]
        return AloneAnswer(
            loads=loads, quarter_kilogram=found.quarter_kilogram, whole_kilogram=found.whole_kilogram
        )
    arms = [ArmAnswer(**asdict(arm)) for arm in found.arms]
    return AloneAnswer(loads=[KnownAnswer(**asdict(found.known))], arms=arms)


def rig_answer(ask: Ask, body: Body) -> RigAnswer:
    """A rig as a program is told of it."""
    paper = paper_state(body, ask.workshop.clock.now().date())
    kept = {name: body[name] for name in RigAnswer.model_fields if name in body}
    return RigAnswer(**{**kept, "paper": paper.value})


def _ability(asked: Ability) -> AbilityAnswer:
    return AbilityAnswer(
        rig=asked.rig["id"],
        tool=asked.tool.get("id"),
        arm=asked.arm["id"] if asked.arm is not None else None,
        scatter_percent=100 * asked.scatter_ratio,
        scatter_is_guessed=asked.is_guessed,
        refused=asked.refused.wish if asked.refused is not None else None,
        findings=[finding_answer(finding) for finding in asked.findings],
        points=[_point(point) for point in asked.points],
    )


def _point(point: AbilityPoint) -> AbilityAt:
    target, direction = point.form.target.typed, point.form.direction
    if point.able is None:
        refused = point.refused.wish if point.refused is not None else None
        return AbilityAt(target=target, direction=direction, refused=refused)
    found = point.able.fitness
    return AbilityAt(
        target=target,
        direction=direction,
        refused=None,
        limit_percent=point.able.limit_percent,
        expanded_percent=found.expanded_percent,
        passes_inside_percent=found.passes_percent,
        hopeless=found.is_hopeless,
        mass_kilogram=point.able.mass_kilogram,
        grip_newton=point.able.grip_newton,
        improvements=[
            Improvement(change=better.change, expanded_percent=better.expanded_percent)
            for better in found.improvements
        ],
    )
