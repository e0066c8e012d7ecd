"""What a request brings: who asks, on which device, and what was typed."""

from collections.abc import AsyncIterator, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Annotated
from urllib.parse import unquote

from fastapi import Depends, Request
from starlette.datastructures import UploadFile

from steelyard.bootstrap import Workshop
from steelyard.desk import DECIMAL_MARKS, UNIT_CHOICES, Acting, Person, Settings, people, settings

WHO_COOKIE, DEVICE_COOKIE = "steelyard_who", "steelyard_device"
UNIT_COOKIE, MARK_COOKIE = "steelyard_unit", "steelyard_mark"
LONGEST_KEY = 40
MOST_FIELDS = 2000
LARGEST_PHOTOGRAPH = 25_000_000
MOST_BYTES = 2_000_000  # of one text field: more than the largest check file, which is refused in words


@dataclass(frozen=True)
class Typed:
    """The fields of a form as typed; of a name given several times the texts are joined by commas."""

    values: Mapping[str, str] = field(default_factory=dict)
    files: Mapping[str, UploadFile] = field(default_factory=dict)

    def __getitem__(self, name: str) -> str:
        return self.values.get(name, "")

    @property
    def submission(self) -> str | None:
        """The token that came with the page."""
        return self.values.get("submission") or None

    @property
    def seen(self) -> int | None:
        """The last entry the page knew of its subject."""
        text = self.values.get("seen", "")
        return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None


async def read_typed(request: Request) -> AsyncIterator[Typed]:
    """The form that was sent; its files stay open until the page is answered."""
    async with request.form(max_fields=MOST_FIELDS, max_part_size=MOST_BYTES) as form:
        yield _typed(form.multi_items())


def _typed(sent: Iterable[tuple[str, UploadFile | str]]) -> Typed:
    values: dict[str, str] = {}
    files: dict[str, UploadFile] = {}
    for name, value in sent:
        if isinstance(value, str):
            values[name] = (
                f"{values[name]},{value}" if name in values and value else value or values.get(name, "")
            )
        elif value.filename:
            files[name] = value
    return Typed(values, files)


@dataclass(frozen=True)
class Ask:
    """One request: the open workshop, its settings, and who asks."""

    workshop: Workshop
    request: Request
    who: str
    device: str

    def acting(self, typed: Typed | None = None) -> Acting:
        """Who acts, with the token of the page."""
        submission = typed.submission if typed is not None else None
        return self.workshop.acting(who=self.who, device=self.device, submission=submission)

    @cached_property
    def settings(self) -> Settings:
        """As this device wants them: unit and decimal mark may differ from the workshop's."""
        return settings_here(settings(self.workshop.ledger), self.request)

    @cached_property
    def person(self) -> Person | None:
        """Who is there, where somebody said so."""
        if not self.who:
            return None
        return next((p for p in people(self.workshop.ledger) if p.key == self.who), None)


def read_ask(request: Request) -> Ask:
    """Who asks. Nothing is read of the ledger before it is wanted."""
    return Ask(
        workshop=request.app.state.workshop,
        request=request,
        who=cookie(request, WHO_COOKIE),
        device=cookie(request, DEVICE_COOKIE) or "browser",
    )


def settings_here(said: Settings, request: Request) -> Settings:
    """The workshop's settings, with the unit and decimal mark that were chosen on this device."""
    unit, mark = cookie(request, UNIT_COOKIE), cookie(request, MARK_COOKIE)
    return replace(
        said,
        unit=unit if unit in UNIT_CHOICES else said.unit,
        decimal_mark=mark if mark in DECIMAL_MARKS else said.decimal_mark,
    )


def cookie(request: Request, name: str) -> str:
    """What this device keeps under a name, as it was kept; empty where it keeps nothing fit to be read."""
    text = unquote(request.cookies.get(name, ""))
    return "".join(c for c in text if c.isprintable())[:LONGEST_KEY]


async def _asked(request: Request) -> Ask:
    """The same, made where the request is met: what reads no ledger needs no thread."""
    return read_ask(request)


Asked = Annotated[Ask, Depends(_asked)]
TypedForm = Annotated[Typed, Depends(read_typed)]
