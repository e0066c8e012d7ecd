"""Today, the settings, the people and the quick questions for a program."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from fastapi import APIRouter, Body, Path
from pydantic import BaseModel, ConfigDict, Field

from steelyard.desk import (
    LARGEST_BYTES,
    Person,
    Settings,
    Today,
    add_person,
    forget_person,
    look_at_today,
    people,
    set_workshop,
    settings,
)
from steelyard.desk.answer import Answer
from steelyard.desk.on_paper import LARGEST_LOGO, drop_logo, keep_logo
from steelyard.desk.reckon_asked import reckon_asked
from steelyard.desk.reckon_rack import MOST_TOOLS, forms_of_tools, forms_that_may_do
from steelyard.errors import InputRefused, NotFound
from steelyard.web.api_sent import (
    PHOTOGRAPH,
    Asked,
    FindingAnswer,
    Sent,
    Text,
    Token,
    Unbroken,
    finding_answer,
)
from steelyard.web.asked import Ask, Typed
from steelyard.web.reckon_fields import ABOUT_CHECKS, QUESTIONS, blanks_of
from steelyard.words import say

router = APIRouter(prefix="/api")
Question = Annotated[str, Path(description="One that GET /api/reckon lists.")]
FormText = Annotated[Unbroken, Field(max_length=LARGEST_BYTES)]
BESIDE_FIELDS, NOT_SENT = ("today",), ("form", "file")
OPTIONS = {
    "parameters": [
        {
            "name": "options",
            "in": "query",
            "description": "The fields of the question, each value with its unit; a switch is `yes`.",
            "style": "form",
            "explode": True,
            "schema": {"type": "object", "additionalProperties": {"type": "string"}},
            "example": {"torque": "50 N·m", "to": "lbf·ft"},
        }
    ]
}


@dataclass(frozen=True)
class TodayAnswer(Today):
    """What a day asks for; each list at most eight long, `more_…` where there are others.

    last_backup: when, null where none is seen.
    """

    last_backup: datetime | None


class SettingsTyped(Sent):
    """Name, place, usual unit and decimal mark; what is left out takes its usual value, but for the address
    on labels, which stays."""

    name: Text = ""
    latitude: Text = ""
    height: Text = ""
    gravity: Text = ""
    unit: Text = ""
    decimal_mark: Text = ""
    label_address: Text = ""
    paper: Text = ""


class PersonTyped(Sent):
    """A name, or better a role."""

    person: Text = ""


class QuestionListed(BaseModel):
    """A quick question. fields: their names; forms: it is about check forms, or about tools of the rack."""

    question: str
    about: str
    fields: list[str]
    forms: bool


class ReckonTyped(BaseModel):
    """A question about check forms. typed: its fields; forms: each a check form, TOML."""

    model_config = ConfigDict(extra="forbid")
    typed: dict[Unbroken, Text] = {}
    forms: Annotated[list[FormText], Field(max_length=MOST_TOOLS)] = []


class ReckonAnswer(BaseModel):
    """Numbers unrounded, each named with its unit, null where there is none; the sentences of the page."""

    numbers: dict[str, float | str | None]
    sentences: list[str]
    findings: list[FindingAnswer]


@router.get("/today", tags=["today"])
def get_today(ask: Asked) -> TodayAnswer:
    """What the day asks for."""
    found = look_at_today(ask.workshop.ledger, ask.workshop.clock.now().date())
    return TodayAnswer(**vars(found), last_backup=ask.workshop.last_backup())


@router.get("/settings", tags=["settings"])
def get_settings(ask: Asked) -> Settings:
    """The settings of the workshop."""
    return settings(ask.workshop.ledger)


@router.put("/settings", tags=["settings"])
def put_settings(ask: Asked, body: SettingsTyped) -> Settings:
    """Keep the settings, all of them."""
    typed = body.typed()
    set_workshop(ask.acting(typed), typed.values)
    return settings(ask.workshop.ledger)


@router.put("/settings/logo", tags=["settings"], openapi_extra=PHOTOGRAPH)
def put_logo(
    ask: Asked, content: Annotated[bytes, Body(media_type="image/jpeg")], submission: Token | None = None
) -> Settings:
    """Keep a logo: the body is the picture; `logo` in the answer is its digest, found at /api/files."""
    typed = Typed({"submission": submission} if submission else {})
    keep_logo(ask.acting(typed), *ask.workshop.darkroom.develop(content, most_bytes=LARGEST_LOGO))
    return settings(ask.workshop.ledger)


@router.delete("/settings/logo", tags=["settings"])
def delete_logo(ask: Asked) -> Settings:
    """Print without a logo from now on."""
    drop_logo(ask.acting())
    return settings(ask.workshop.ledger)


@router.get("/people", tags=["settings"])
def get_people(ask: Asked) -> list[Person]:
    """Everybody who was added, to whom a tool was lent too; forgotten ones without a name."""
    return list(people(ask.workshop.ledger, with_borrowers=True))


@router.post("/people", status_code=201, tags=["settings"])
def post_person(ask: Asked, body: PersonTyped) -> Person:
    """Add somebody; a name that is there already adds nobody."""
    typed = body.typed()
    return add_person(ask.acting(typed), typed.values)


@router.delete("/people/{key}", tags=["settings"])
def delete_person(ask: Asked, key: str) -> list[Person]:
    """Forget a name; what was written stays with its key."""
    forget_person(ask.acting(), key)
    return get_people(ask)


@router.get("/reckon", tags=["reckon"])
def get_questions() -> list[QuestionListed]:
    """The quick questions."""
    return [
        QuestionListed(
            question=name,
            about=say(f"asking-about-{name}"),
            fields=[field for field in blanks_of(name) if field not in NOT_SENT],
            forms=name in ABOUT_CHECKS,
        )
        for name in QUESTIONS
    ]


@router.get("/reckon/{question}", tags=["reckon"], openapi_extra=OPTIONS)
def get_answer(ask: Asked, question: Question) -> ReckonAnswer:
    """The answer to a quick question; here no unit is added to what was typed."""
    return _answer(ask, question, dict(ask.request.query_params), [])


@router.post("/reckon/{question}", tags=["reckon"])
def post_answer(ask: Asked, question: Question, body: ReckonTyped) -> ReckonAnswer:
    """The same about check forms that are sent with it."""
    return _answer(ask, question, body.typed, [form.encode() for form in body.forms])


def _answer(ask: Ask, question: str, texts: Mapping[str, str], forms: list[bytes]) -> ReckonAnswer:
    """Raises NotFound; InputRefused for a field that the question does not have, or as the question does."""
    if question not in QUESTIONS:
        raise NotFound(question)
    known = [name for name in (*blanks_of(question), *BESIDE_FIELDS) if name not in NOT_SENT]
    for name, text in texts.items():
        if name not in known:
            raise InputRefused(name, text, "want-one-of", names=", ".join(known))
    typed: dict[str, str | None] = {name: text for name, text in texts.items() if text.strip()}
    if question in ABOUT_CHECKS and not forms:
        forms = list(forms_of_tools(ask.workshop.ledger, texts.get("tool", "")))
        if not forms and question == "choose":
            forms = list(forms_that_may_do(ask.workshop.ledger, typed.get("want")))
        if not forms:
            raise InputRefused("tool", None, "want-tool-or-form")
    day = ask.workshop.clock.now().date()
    return _in_numbers(reckon_asked(question, typed, today=day, forms=forms))


def _in_numbers(answer: Answer) -> ReckonAnswer:
    """The same sentences as at the terminal."""
    return ReckonAnswer(
        numbers={name: _finite(value) for name, value in answer.numbers.items()},
        sentences=[say(code, **facts) for code, facts in answer.lines],
        findings=[finding_answer(found) for found in answer.findings],
    )


def _finite(value: float | str) -> float | str | None:
    return None if isinstance(value, float) and not math.isfinite(value) else value
