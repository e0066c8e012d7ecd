"""Today, the settings, the people and the quick questions for a program, as JSON."""

from dataclasses import asdict
from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter, Body
from fastapi.responses import JSONResponse

from steelyard.desk import (
    Acting,
    Settings,
    add_person,
    forget_person,
    look_at_today,
    people,
    set_workshop,
    settings,
)
from steelyard.desk.answer import Answer
from steelyard.desk.reckon_asked import reckon_asked
from steelyard.desk.reckon_rack import forms_of_tools, forms_that_may_do
from steelyard.errors import InputRefused
from steelyard.web.asked import Ask, Asked
from steelyard.web.reckon_fields import ABOUT_CHECKS
from steelyard.words import say

router = APIRouter(prefix="/api")
Texts = Annotated[dict[str, str], Body()]


@router.get("/today")
def today(ask: Asked) -> JSONResponse:
    """What the day asks for."""
    last = ask.workshop.last_backup()
    found = asdict(look_at_today(ask.workshop.ledger, ask.workshop.clock.now().date()))
    return JSONResponse(_plain({**found, "last_backup": last.isoformat() if last else None}))


@router.get("/settings")
def get_settings(ask: Asked) -> JSONResponse:
    """The settings of the workshop."""
    return _settings(settings(ask.workshop.ledger))


@router.put("/settings")
def put_settings(ask: Asked, texts: Texts) -> JSONResponse:
    """Keep them; what is left out takes its usual value. Fields as on the page."""
    set_workshop(_acting(ask, texts), texts)
    return _settings(settings(ask.workshop.ledger))


@router.get("/people")
def get_people(ask: Asked) -> JSONResponse:
    """Everybody who was added; forgotten ones without a name."""
    return JSONResponse([asdict(person) for person in people(ask.workshop.ledger)])


@router.post("/people")
def post_person(ask: Asked, texts: Texts) -> JSONResponse:
    """Somebody new, by the field `person`."""
    return JSONResponse(asdict(add_person(_acting(ask, texts), texts)), 201)


@router.delete("/people/{key}")
def delete_person(ask: Asked, key: str) -> JSONResponse:
    """Forget a name; what was written stays."""
    forget_person(ask.acting(), key)
    return get_people(ask)


@router.get("/reckon/{question}")
def get_answer(ask: Asked, question: str) -> JSONResponse:
    """The answer to a quick question; its options as query, each value with its unit."""
    return _answer(ask, question, dict(ask.request.query_params), [])


@router.post("/reckon/{question}")
def post_answer(
    ask: Asked, question: str, typed: Annotated[dict[str, str], Body()], forms: Annotated[list[str], Body()]
) -> JSONResponse:
    """The same about check forms that are sent with it."""
    return _answer(ask, question, typed, [form.encode() for form in forms])


def _answer(ask: Ask, question: str, texts: dict[str, str], forms: list[bytes]) -> JSONResponse:
    typed: dict[str, str | None] = {name: text for name, text in texts.items() if text.strip()}
    if question in ABOUT_CHECKS and not forms:
        forms = list(forms_of_tools(ask.workshop.ledger, texts.get("tool", "")))
        if not forms and question == "choose":
            forms = list(forms_that_may_do(ask.workshop.ledger, typed.get("want")))
        if not forms:
            raise InputRefused("tool", None, "want-tool-or-form")
    day = ask.workshop.clock.now().date()
    return JSONResponse(_in_numbers(reckon_asked(question, typed, today=day, forms=forms)))


def _in_numbers(answer: Answer) -> dict[str, Any]:
    """Unrounded numbers, and the same sentences as at the terminal."""
    return {
        "numbers": dict(answer.numbers),
        "sentences": [say(code, **facts) for code, facts in answer.lines],
        "findings": [
            {"code": found.code, "severity": found.severity.value, "sentence": say(found.code, **found.facts)}
            for found in answer.findings
        ],
    }


def _acting(ask: Ask, texts: dict[str, str]) -> Acting:
    """Who acts; a program gives its own token in `submission`, so that it may send again."""
    return ask.workshop.acting(who=ask.who, device=ask.device, submission=texts.get("submission") or None)


def _settings(said: Settings) -> JSONResponse:
    return JSONResponse({**asdict(said), "place": dict(said.place)})


def _plain(value: Any) -> Any:
    """Days as texts."""
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, date) else value
