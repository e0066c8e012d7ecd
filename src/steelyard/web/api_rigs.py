"""The rigs for a program, as JSON: what the workshop measures with, and what each of them can decide."""

from typing import Annotated, Any

from fastapi import APIRouter
from fastapi import Body as Sent
from fastapi.responses import JSONResponse

from steelyard.desk import (
    Ability,
    AbilityPoint,
    Body,
    ability,
    add_rig,
    change_rig,
    here,
    paper_state,
    rig_body,
    sell_rig,
    stand_in_tool,
)
from steelyard.errors import InputRefused
from steelyard.web.asked import Ask, Asked, Typed

router = APIRouter(prefix="/api/rigs")
Texts = Annotated[dict[str, str], Sent()]


@router.get("")
def get_rigs(ask: Asked) -> JSONResponse:
    """All that is not sold; in groups by sort, each in the order of its names."""
    return JSONResponse([_rig(ask, body) for body in here(ask.workshop.ledger).everything])


@router.get("/{rig}")
def get_rig(ask: Asked, rig: str) -> JSONResponse:
    """One rig; `table` as in the file of a check."""
    return JSONResponse(_rig(ask, rig_body(ask.workshop.ledger, rig)))


@router.post("")
def post_rig(ask: Asked, texts: Texts) -> JSONResponse:
    """Something new: `sort`, and the fields of its page as texts."""
    rig = add_rig(ask.acting(Typed(texts)), texts.get("sort", ""), texts)
    return JSONResponse(_rig(ask, rig_body(ask.workshop.ledger, rig)), 201)


@router.put("/{rig}")
def put_rig(ask: Asked, rig: str, texts: Texts) -> JSONResponse:
    """Write it anew: all fields of its page; `seen`, the `last` that was known of it."""
    change_rig(ask.acting(Typed(texts)), rig, texts, Typed(texts).seen)
    return get_rig(ask, rig)


@router.post("/{rig}/sold")
def post_sold(ask: Asked, rig: str, texts: Texts) -> JSONResponse:
    """It is no longer here; `note` says why."""
    sell_rig(ask.acting(Typed(texts)), rig, texts, Typed(texts).seen)
    return get_rig(ask, rig)


@router.get("/{rig}/ability")
def get_ability(ask: Asked, rig: str) -> JSONResponse:
    """What it can decide: of `tool`, or of one that stands in by `kind`, `lowest`, `highest`, `percent` …

    `scale`: on which the load is weighed, where that is not left open.
    """
    wanted = dict(ask.request.query_params)
    body = rig_body(ask.workshop.ledger, rig)
    if not wanted.get("tool") and "kind" not in wanted:
        raise InputRefused("tool", None, "want-rig-tool-or-kind")
    stand_in = None if wanted.get("tool") else stand_in_tool(wanted, torque_unit=ask.settings.unit)
    asked = ability(
        ask.workshop.ledger,
        body["id"],
        wanted.get("tool") or None,
        today=ask.workshop.clock.now().date(),
        stand_in=stand_in,
        scale=wanted.get("scale", ""),
    )
    return JSONResponse(_ability(asked))


def _rig(ask: Ask, body: Body) -> dict[str, Any]:
    paper = paper_state(body, ask.workshop.clock.now().date())
    kept = {name: body[name] for name in ("id", "sort", "table", "notes", "state", "last")}
    return {**kept, "paper": paper.value}


def _ability(asked: Ability) -> dict[str, Any]:
    return {
        "rig": asked.rig["id"],
        "tool": asked.tool.get("id"),
        "arm": asked.arm["id"] if asked.arm is not None else None,
        "scatter_percent": 100 * asked.scatter_ratio,
        "scatter_is_guessed": asked.is_guessed,
        "refused": asked.refused.wish if asked.refused is not None else None,
        "findings": [finding.code for finding in asked.findings],
        "points": [_point(point) for point in asked.points],
    }


def _point(point: AbilityPoint) -> dict[str, Any]:
    named = {"target": point.form.target.typed, "direction": point.form.direction}
    if point.able is None:
        return {**named, "refused": point.refused.wish if point.refused is not None else None}
    found = point.able.fitness
    return {
        **named,
        "refused": None,
        "limit_percent": point.able.limit_percent,
        "expanded_percent": found.expanded_percent,
        "passes_inside_percent": found.passes_percent,
        "hopeless": found.is_hopeless,
        "mass_kilogram": point.able.mass_kilogram,
        "grip_newton": point.able.grip_newton,
        "improvements": [
            {"change": better.change, "expanded_percent": better.expanded_percent}
            for better in found.improvements
        ],
    }
