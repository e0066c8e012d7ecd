"""Signatures for programs: a file held against its own, records signed, the workshop's key, and others'."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body
from fastapi.responses import Response
from pydantic import BaseModel, Field

from steelyard.bootstrap import KeySaid
from steelyard.desk.signing import PUBLIC, accept_key, drop_key, other_keys, sign_record
from steelyard.proof import fingerprint, hold
from steelyard.proof.holding import LARGEST_BYTES
from steelyard.proof.sentences import as_table
from steelyard.web.api_sent import Asked, Sent, Text, Unbroken
from steelyard.web.keys import bring_back, sheet_pdf

router = APIRouter(tags=["proof"])
ANY = {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}}
PDF = {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}
SENT = {"requestBody": {"content": ANY, "required": True}}
Key = Annotated[Unbroken, Field(pattern=rf"^{PUBLIC.pattern}$")]


class ProofAnswer(BaseModel):
    """What a file is worth: intact, data-only, changed, unsigned, unknown-key, or disputed: by
    the own key, and the ledger says otherwise.

    form: pdf, dcc or json. fingerprint, key: of the key that signed what stands; empty where nothing does.
    known_as: the name of that key here, empty for this workshop's own and one that was vouched for, null for
    one nobody knows. record: which it says it is. amiss: what is not as it was signed. ledger: how it stands
    beside the ledger.
    """

    standing: Literal["intact", "data-only", "changed", "unsigned", "unknown-key", "disputed"]
    form: Literal["pdf", "dcc", "json"]
    fingerprint: str
    key: str
    known_as: str | None
    is_own: bool
    record: str
    sentence: str
    amiss: list[dict[str, Any]]
    ledger: list[str]


class SignedAnswer(BaseModel):
    """is_new: false where the present key signed that record before."""

    is_new: bool


class OtherKey(BaseModel):
    """A key of somebody else: its name here, the public key, its fingerprint."""

    name: str
    public: str
    fingerprint: str


class KeyAnswer(BaseModel):
    """How the workshop's key stands: there, not-yet, missing or foreign; and the keys of others.

    foreign: what lies in the folder is the key of another workshop, and nobody signs. place: of the private
    key. is_private: nobody else on this computer may read it. laid: where those lie that another one took the
    place of; they still sign for whoever has them.
    """

    state: Literal["there", "not-yet", "missing", "foreign"]
    fingerprint: str
    public: str
    place: str
    is_private: bool
    laid: list[str]
    others: list[OtherKey]


class PhraseSent(Sent):
    """A pass phrase for a copy of the key, twice."""

    phrase: Text = ""
    again: Text = ""


class KeyBack(Sent):
    """The lines of a recovery sheet, or the text of a copy and its pass phrase."""

    lines: Text = ""
    copy_of_key: Text = ""
    phrase: Text = ""


class NewKey(Sent):
    """known: fingerprint of the present key, empty where there is none."""

    known: Text = ""


class KeyNamed(Sent):
    """A public key of somebody else, and the name it gets here."""

    public: Key
    name: Text = ""


class KeyDropped(Sent):
    """A public key of somebody else."""

    public: Key


class CopyAnswer(BaseModel):
    """Where the copy lies."""

    place: str


@router.post("/api/verify", openapi_extra=SENT)
def verify(
    ask: Asked,
    content: Annotated[bytes, Body(media_type="application/octet-stream")],
    fingerprint: Text = "",
) -> ProofAnswer:
    """Hold a PDF, a certificate in XML or a record in JSON against its signature; the body is the file.

    fingerprint: of a key that its workshop vouched for.
    """
    return ProofAnswer(**as_table(hold(content[: LARGEST_BYTES + 1], ask.workshop.ledger, told=fingerprint)))


@router.post("/api/records/{record}/signature", status_code=201)
def sign(ask: Asked, record: int, body: Sent) -> SignedAnswer:
    """Sign a record with the present key, where that was not done when it was sealed."""
    return SignedAnswer(is_new=sign_record(ask.acting(body.typed()), record))


@router.get("/api/key")
def get_key(ask: Asked) -> KeyAnswer:
    """How the workshop's key stands."""
    return _answer(ask.workshop.keyring.said(), ask)


@router.post("/api/key/sheet", response_class=Response, responses={200: {"content": PDF}})
def sheet(ask: Asked) -> Response:
    """The recovery sheet as a PDF: whoever has it can sign."""
    return Response(sheet_pdf(ask), media_type="application/pdf")


@router.post("/api/key/copy", status_code=201)
def copy(ask: Asked, body: PhraseSent) -> CopyAnswer:
    """A copy of the private key under a pass phrase, beside the backups; one that is there is as good."""
    workshop = ask.workshop
    return CopyAnswer(place=str(workshop.keyring.copy(workshop.backup_folder, body.phrase, body.again)))


@router.post("/api/key/back")
def back(ask: Asked, body: KeyBack) -> KeyAnswer:
    """Bring the key back from its recovery sheet or from a copy."""
    bring_back(ask, body.lines, body.copy_of_key.encode(), body.phrase)
    return get_key(ask)


@router.post("/api/key/new", status_code=201)
def new(ask: Asked, body: NewKey) -> KeyAnswer:
    """Another key from now on; whoever has the old one can go on signing with it."""
    ask.workshop.keyring.new(ask.acting(body.typed()), body.known)
    return get_key(ask)


@router.post("/api/keys", status_code=201)
def accept(ask: Asked, body: KeyNamed) -> KeyAnswer:
    """Know a key of somebody else from now on; only after they told its fingerprint."""
    accept_key(ask.acting(body.typed()), {"name": body.name}, public=body.public)
    return get_key(ask)


@router.post("/api/keys/drop")
def drop(ask: Asked, body: KeyDropped) -> KeyAnswer:
    """Know it no longer."""
    drop_key(ask.acting(body.typed()), body.public)
    return get_key(ask)


def _answer(said: KeySaid, ask: Asked) -> KeyAnswer:
    others = [
        OtherKey(name=other["name"], public=other["public"], fingerprint=fingerprint(other["public"]))
        for other in other_keys(ask.workshop.ledger)
    ]
    return KeyAnswer(
        state=said.state,
        fingerprint=said.fingerprint,
        public=said.public,
        place=said.place,
        is_private=said.is_private,
        laid=list(said.laid),
        others=others,
    )
