"""Making a page: the templates, what every one of them knows, forms with their troubles."""

import hashlib
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from fastapi.responses import HTMLResponse, RedirectResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from steelyard.desk import clock_is_back
from steelyard.errors import InputRefused, SteelyardError
from steelyard.web.asked import Ask, Typed
from steelyard.words import CATALOGUE, say

HERE = Path(__file__).parent
STATIC = HERE / "static"
NOTICE_COOKIE = "steelyard_notice"


@dataclass(frozen=True)
class Form:
    """A form as it is shown: what stands in its fields, and the one sentence beside a refused one."""

    values: Mapping[str, str] = field(default_factory=dict)
    troubles: Mapping[str, str] = field(default_factory=dict)

    def value(self, name: str) -> str:
        """What stands in a field."""
        return self.values.get(name, "")

    def trouble(self, name: str) -> str | None:
        """What is wanted there instead; None where nothing is wrong."""
        return self.troubles.get(name)

    @classmethod
    def refused(cls, typed: Typed, trouble: SteelyardError) -> "Form":
        """The form again, everything typed kept, with the sentence beside its field."""
        if isinstance(trouble, InputRefused):
            return cls(typed.values, {trouble.field: _beside(trouble)})
        return cls(typed.values, {"": str(trouble)})


def _beside(refused: InputRefused) -> str:
    """The sentence beside a field."""
    if refused.given is None and refused.wanted == "want-one-of":
        return say("field-choose")
    if refused.given is None:
        return say("field-wanted", wanted=refused.wish)
    return say("field-given", given=refused.given, wanted=refused.wish)


@cache
def templates() -> Environment:
    """The templates, with what each of them may use."""
    environment = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(say=say, asset=asset, url=lambda path: path, Markup=Markup)
    return environment


@cache
def asset(name: str) -> str:
    """The address of a file that comes with the program; it changes with its content."""
    content = (STATIC / name).read_bytes()
    return f"/static/{name}?v={hashlib.sha256(content).hexdigest()[:12]}"


def page(
    ask: Ask, template: str, title: str, *, place: str, status: int = 200, **context: Any
) -> HTMLResponse:
    """A page in words.

    template: its file. title: as in the browser's tab. place: which of the places is marked as here.
    context: what the template needs on top; `form` defaults to an empty one.
    """
    person = ask.person
    known = SimpleNamespace(
        title=title,
        place=place,
        demo=ask.workshop.is_demo,
        workshop=ask.settings.name or say("workshop-unnamed"),
        who=person.name if person is not None else None,
        notice=_notice(ask.request.cookies.get(NOTICE_COOKIE, "")),
        clock_note=clock_is_back(ask.workshop.ledger, ask.workshop.clock),
        submission=secrets.token_urlsafe(12),
        unit=ask.settings.unit,
        decimal_mark=ask.settings.decimal_mark,
    )
    context.setdefault("form", Form())
    text = templates().get_template(template).render(page=known, settings=ask.settings, **context)
    answer = HTMLResponse(text, status)
    if known.notice is not None:
        answer.delete_cookie(NOTICE_COOKIE)
    return answer


def _notice(code: str) -> str | None:
    """The sentence of a notice; what a cookie may hold besides is not said."""
    return say(code) if code.startswith("notice-") and code in CATALOGUE else None


def see(address: str, notice: str | None = None) -> RedirectResponse:
    """Go on to another page after a change.

    notice: code of a sentence without facts to be shown there once; it begins with `notice-`.
    """
    answer = RedirectResponse(address, 303)
    if notice is not None:
        answer.set_cookie(NOTICE_COOKIE, notice, httponly=True, samesite="lax")
    return answer
