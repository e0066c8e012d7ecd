"""The book for programs: records found, read and corrected, checks kept from files, the chain verified."""

from typing import Annotated, Any

from fastapi import APIRouter, Body
from fastapi.responses import Response
from pydantic import BaseModel, Field

from steelyard.desk import (
    LARGEST_BYTES,
    Listed,
    book_page,
    correct_record,
    printed_stands,
    record_export,
    record_file,
    record_form,
    same_record,
)
from steelyard.errors import NotFound
from steelyard.web.api_sent import Asked, FindingAnswer, Sent, Text, Token, finding_answer
from steelyard.web.asked import Typed
from steelyard.web.record_files import record_dcc, record_json, record_pdf

router = APIRouter(tags=["book"])
FORM = {"application/toml": {"schema": {"type": "string", "maxLength": LARGEST_BYTES}}}
XML = {"application/xml": {"schema": {"type": "string"}}}
PDF = {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}
PICTURE = {"image/jpeg": {"schema": {"type": "string", "format": "binary"}}}
Number = Annotated[str, Field(max_length=20)]


class RecordListed(BaseModel):
    """A record in a list. digest: of its content. verdict: the tool left with it, or stopped."""

    record: int
    day: str
    tool: str
    tool_number: str
    title: str | None
    verdict: str
    phase: str | None
    who: str
    next_due: str | None
    digest: str
    corrections: int


class RecordsFound(BaseModel):
    """At most fifty records, the latest first; older: to be sent as `after` for the next ones."""

    records: list[RecordListed]
    older: str | None


class RecordAnswer(BaseModel):
    """A record: its sealed content, of which RFC 8785 gives back the digest, and what followed it.

    entry: number and digest of the sealing entry. people: names by key, forgotten ones left out. signed: by
    the workshop's key, each time. signature: of the workshop's key on all of this, left out where it is not
    there.
    """

    record: int
    digest: str
    entry: dict[str, Any]
    is_intact: bool
    sealed: dict[str, Any]
    content: dict[str, Any]
    corrections: list[dict[str, Any]]
    signed: list[dict[str, Any]]
    people: dict[str, str]
    signature: dict[str, str] | None = None


class CorrectionTyped(Sent):
    """What is wrong in a record, and what is right."""

    wrong: Text = ""
    right: Text = ""


class RecordMade(BaseModel):
    """The number of a record. is_new: false where a record said the same already and nothing was kept."""

    record: int
    is_new: bool


class HeadAnswer(BaseModel):
    """The last entry: its number, 0 for none, and its digest."""

    number: int
    digest: str


class ChainAnswer(BaseModel):
    """What verifying found: the first findings, and how many there are in all."""

    entries: int
    is_whole: bool
    count: int
    findings: list[FindingAnswer]


class PrintedAnswer(BaseModel):
    """Whether a printed record stands in the ledger as it was printed."""

    stands: bool
    findings: list[FindingAnswer]


@router.get("/api/records")
def list_records(
    ask: Asked,
    words: str = "",
    tool: str = "",
    who: str = "",
    verdict: str = "",
    day_from: str = "",
    day_to: str = "",
    after: str = "",
) -> RecordsFound:
    """Records, the latest first, searched and narrowed as on the page."""
    typed = {"words": words, "tool": tool, "who": who, "verdict": verdict}
    typed |= {"day_from": day_from, "day_to": day_to}
    found = book_page(ask.workshop.ledger, typed, after=after or None)
    return RecordsFound(records=[_listed(row) for row in found.records], older=found.older)


@router.post(
    "/api/records", status_code=201, openapi_extra={"requestBody": {"content": FORM, "required": True}}
)
def keep(
    ask: Asked,
    content: Annotated[bytes, Body(media_type="application/toml")],
    submission: Token | None = None,
) -> RecordMade:
    """Keep a check from a file: the body is a check form; it is judged, numbered and sealed, once."""
    acting = ask.acting(Typed({"submission": submission} if submission else {}))
    same = same_record(acting, content)
    return RecordMade(record=record_file(acting, content) if same is None else same, is_new=same is None)


@router.get("/api/records/{record}", response_model=RecordAnswer)
def get_record(ask: Asked, record: int) -> Response:
    """One record, byte for byte as it is signed."""
    return Response(record_json(ask, record), media_type="application/json")


@router.get("/api/records/{record}/form", response_class=Response, responses={200: {"content": FORM}})
def get_form(ask: Asked, record: int, phase: str = "") -> Response:
    """One phase of it as a check form: as-found or as-left; left out, the one the tool left with."""
    content = record_form(ask.workshop.ledger, record, phase or None)
    return Response(content, media_type="application/toml")


@router.get("/api/records/{record}/paper", response_class=Response, responses={200: {"content": PDF}})
def get_paper(ask: Asked, record: int, page: str = "") -> Response:
    """It as a PDF: a4 or letter; left out, the paper of the workshop."""
    return Response(record_pdf(ask, record, page), media_type="application/pdf")


@router.get("/api/records/{record}/dcc", response_class=Response, responses={200: {"content": XML}})
def get_dcc(ask: Asked, record: int) -> Response:
    """It in the open exchange format DCC 3.3.0."""
    return Response(record_dcc(ask, record), media_type="application/xml")


@router.post("/api/records/{record}/correction", status_code=201)
def correct(ask: Asked, record: int, body: CorrectionTyped) -> RecordAnswer:
    """Follow it by a correction; the record itself stays as it was sealed."""
    typed = body.typed()
    correct_record(ask.acting(typed), record, typed.values)
    return RecordAnswer(**record_export(ask.workshop.ledger, record))


@router.get("/api/files/{digest}", response_class=Response, responses={200: {"content": PICTURE}})
def get_file(ask: Asked, digest: str) -> Response:
    """A kept photograph, by the digest that stands with its check."""
    file = ask.workshop.ledger.file(digest)
    if file is None:
        raise NotFound(digest)
    return Response(file.content, media_type=file.media_type)


@router.get("/api/chain")
def get_head(ask: Asked) -> HeadAnswer:
    """The last entry."""
    head = ask.workshop.ledger.head()
    return HeadAnswer(number=head.number, digest=head.digest)


@router.post("/api/chain/verify")
def verify(ask: Asked) -> ChainAnswer:
    """Verify all of it; answers when that is done."""
    found = ask.workshop.verify()
    return ChainAnswer(
        entries=found.entries,
        is_whole=found.is_whole,
        count=found.count,
        findings=[finding_answer(finding) for finding in found.findings],
    )


@router.get("/api/chain/printed")
def printed(ask: Asked, record: Number = "", entry: Number = "", digest: str = "") -> PrintedAnswer:
    """Whether an entry still stands as it was printed; the number is of a record or of an entry."""
    typed = {"record": record, "entry": entry, "digest": digest}
    missing = printed_stands(ask.workshop.ledger, ask.workshop, typed)
    return PrintedAnswer(stands=not missing, findings=[finding_answer(finding) for finding in missing])


def _listed(listed: Listed) -> RecordListed:
    body, closed = listed.body, listed.body["closed"]
    kept = {name: closed[name] for name in ("record", "day", "verdict", "phase", "who", "next_due", "digest")}
    return RecordListed(
        **kept,
        tool=body["tool"],
        tool_number=body["tool_number"],
        title=body.get("title"),
        corrections=len(body["corrections"]),
    )
