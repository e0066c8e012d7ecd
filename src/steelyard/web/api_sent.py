"""What every request of a program may carry, and what it is told where it is refused."""

from dataclasses import replace
from typing import Annotated, Any, Self
from urllib.parse import unquote

from fastapi import Depends, Header
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from steelyard.desk import people
from steelyard.errors import InputRefused
from steelyard.findings import Finding
from steelyard.web import asked
from steelyard.web.asked import DEVICE_COOKIE, LONGEST_KEY, WHO_COOKIE, Ask, Typed, cookie
from steelyard.words import say

LONGEST_TEXT, LONGEST_TOKEN = 4000, 100
LARGEST_NUMBER = 2**53 - 1
"""Beyond it a whole number of JSON is not exact (RFC 8785, 3.2.2.3)."""
PICTURES = {kind: {"schema": {"type": "string", "format": "binary"}} for kind in ("image/jpeg", "image/png")}
PHOTOGRAPH = {"requestBody": {"content": PICTURES, "required": True}}
PERSON, DEVICE = "Steelyard-Person", "Steelyard-Device"


def _can_be_written(text: str) -> str:
    """The text, unless half a character stands in it. Raises ValueError."""
    text.encode()
    return text


Unbroken = Annotated[str, AfterValidator(_can_be_written)]
Text = Annotated[Unbroken, Field(max_length=LONGEST_TEXT)]
Token = Annotated[Unbroken, Field(min_length=1, max_length=LONGEST_TOKEN)]


class Sent(BaseModel):
    """What every change may carry.

    submission: a token of the sender's; sent again, nothing more is written and the first answer stands.
    """

    model_config = ConfigDict(extra="forbid", populate_by_name=True)
    submission: Token | None = None

    def typed(self) -> Typed:
        """As if it came from a form; what was not sent is not there."""
        said = self.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
        return Typed({name: str(value) for name, value in said.items()})


class SentKnowing(Sent):
    """What a change of something that is there may carry besides.

    seen: `last` of it as the sender knew it; refused with 409 where something was written since.
    """

    seen: Annotated[int, Field(strict=True, ge=0, le=LARGEST_NUMBER)] | None = None


class TextsSent(SentKnowing):
    """Texts by the names of the fields, such as a page would send them."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, Text] = Field(init=False)

    @model_validator(mode="after")
    def _names_can_be_written(self) -> Self:
        for name in self.__pydantic_extra__:
            _can_be_written(name)
        return self


class Refusal(BaseModel):
    """Why nothing was done.

    error: sort of refusal. field: that was refused, as it was sent. sentence: what happened, what to do.
    try_again: the same may succeed later, or once what stands now was looked at.
    """

    error: str
    field: str | None
    sentence: str
    try_again: bool


class FindingAnswer(BaseModel):
    """A doubt, as a code with facts and in words. severity: note, warn or grave."""

    code: str
    severity: str
    facts: dict[str, str | float | int]
    sentence: str


REFUSALS: dict[int | str, dict[str, Any]] = {
    400: {"model": Refusal, "description": "It cannot be read at all."},
    403: {"model": Refusal, "description": "The change does not come from this computer's own address."},
    404: {"model": Refusal, "description": "What was named is not there."},
    409: {"model": Refusal, "description": "Somebody wrote meanwhile, or the record is sealed."},
    413: {"model": Refusal, "description": "It is too large."},
    422: {"model": Refusal, "description": "A field cannot be used as it was sent."},
    503: {"model": Refusal, "description": "The ledger cannot be read or written now."},
    507: {"model": Refusal, "description": "No room on the disk."},
}
"""What any operation may answer instead."""


def read_program(
    ask: asked.Asked,
    person: Annotated[
        str, Header(alias=PERSON, max_length=LONGEST_KEY, description="Who acts: a key from /api/people.")
    ] = "",
    device: Annotated[
        str,
        Header(
            alias=DEVICE,
            max_length=LONGEST_TEXT,
            description="On what, in a few words; percent-encoded where it is not ASCII. Kept: 40 signs.",
        ),
    ] = "",
) -> Ask:
    """Who asks: said in the headers, else in the cookies of a page, else nobody.

    Raises InputRefused where the person is not on the list.
    """
    if person and all(each.key != person or each.name is None for each in people(ask.workshop.ledger)):
        raise InputRefused(PERSON, person, "want-known-person")
    said = "".join(sign for sign in unquote(device) if sign.isprintable())[:LONGEST_KEY].strip()
    return replace(
        ask,
        who=person or cookie(ask.request, WHO_COOKIE),
        device=said or cookie(ask.request, DEVICE_COOKIE) or "program",
    )


Asked = Annotated[Ask, Depends(read_program)]


def finding_answer(finding: Finding) -> FindingAnswer:
    """A doubt as a program is told of it."""
    return FindingAnswer(
        code=finding.code,
        severity=finding.severity.value,
        facts=dict(finding.facts),
        sentence=say(finding.code, **finding.facts),
    )
