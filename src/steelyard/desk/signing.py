"""The workshop's key in its book: which keys it signed with, which seals, whose other keys it knows."""

import re
from collections.abc import Iterator, Mapping

import rfc8785

from steelyard.desk.acting import Acting
from steelyard.desk.book import PAGE, SEALED, record_body
from steelyard.desk.every import every
from steelyard.desk.ports import Body, Ledger, Signer, Wanted
from steelyard.desk.workshop import LONGEST_NAME
from steelyard.errors import InputRefused
from steelyard.records import THE_WORKSHOP, Draft, Fields, Kind, Subject

SIGNED_FORM = 1
ALGORITHM = "Ed25519"
PUBLIC = re.compile(r"[0-9a-f]{64}")
"""A public key as it is written down: its 32 bytes in hexadecimal digits."""
OWN = ""
"""Whose a key is that this workshop made."""


def signed_message(check: str, record: int, digest: str) -> bytes:
    """What is signed of a seal: RFC 8785 JSON that names the record and the digest of its content."""
    return rfc8785.dumps(
        {"steelyard_signed": SIGNED_FORM, "check": check, "record": record, "digest": digest}
    )


def own_keys(ledger: Ledger) -> tuple[str, ...]:
    """The public keys this workshop signed with, the present one last."""
    return tuple(key["public"] for key in _workshop(ledger).get("keys", []))


def known_keys(ledger: Ledger) -> dict[str, str]:
    """Whose each known public key is: `OWN`, or the name it was accepted under."""
    others = {other["public"]: other["name"] for other in _workshop(ledger).get("others", [])}
    return others | dict.fromkeys(own_keys(ledger), OWN)


def other_keys(ledger: Ledger) -> tuple[Body, ...]:
    """The keys of others that were accepted: `public`, `name`, when and by whom."""
    return tuple(_workshop(ledger).get("others", []))


def signing_drafts(
    ledger: Ledger, signer: Signer, *, check: str, record: int, digest: str
) -> Iterator[Draft]:
    """What signing the seal of a check writes; before the first of a key, that it is this workshop's."""
    if signer.public not in own_keys(ledger):
        yield key_draft(signer)
    message = signed_message(check, record, digest)
    payload = {
        "record": record,
        "digest": digest,
        "key": signer.public,
        "signature": signer.sign(message).hex(),
    }
    yield Draft(Kind.SIGNED, Subject.CHECK.named(check), payload)


def key_draft(signer: Signer) -> Draft:
    """That a key is this workshop's from now on."""
    return Draft(Kind.KEY_MADE, THE_WORKSHOP, {"algorithm": ALGORITHM, "public": signer.public})


def sign_record(acting: Acting, record: int) -> bool:
    """Sign the seal of a record with the present key; False where that was done before.

    Raises NotFound; InputRefused (`key`) where the key is not there.
    """
    body = record_body(acting.ledger, record)
    signer = acting.signer()
    if signer is None:
        raise InputRefused("key", None, "want-workshop-key")
    if any(signed["key"] == signer.public for signed in body.get("signed", [])):
        return False
    digest = body["closed"]["digest"]
    acting.write(
        *signing_drafts(acting.ledger, signer, check=body["id"], record=record, digest=digest),
        seen={Subject.CHECK.named(body["id"]): body["last"]},
    )
    return True


def unsigned_records(ledger: Ledger) -> Iterator[int]:
    """The numbers of the records nobody signed yet, the latest first; read page by page."""
    wanted = Wanted("check", states=SEALED, most=PAGE, newest_first=True)
    for listed in every(ledger.documents, wanted):
        if not listed.body.get("signed"):
            yield int(listed.body["closed"]["record"])


def accept_key(acting: Acting, typed: Mapping[str, str], *, public: str) -> None:
    """Know a key of somebody else by a name from now on.

    typed: `name`. public: as it stands in a file of theirs, 64 hexadecimal digits.
    Raises InputRefused (`name`; `key` where that is no public key).
    """
    if not PUBLIC.fullmatch(public):
        raise InputRefused("key", public, "want-key-public")
    fields = Fields({"name": typed.get("name", "")} if typed.get("name", "").strip() else {}, place="")
    name = fields.needed("name", fields.text, "want-key-name")
    if len(name) > LONGEST_NAME:
        raise InputRefused("name", name, "want-shorter", longest=LONGEST_NAME)
    if known_keys(acting.ledger).get(public) not in (OWN, name):
        acting.write(Draft(Kind.KEY_ACCEPTED, THE_WORKSHOP, {"public": public, "name": name}))


def drop_key(acting: Acting, public: str) -> None:
    """Know a key of somebody else no longer; nothing is written where it is not known."""
    if public in {other["public"] for other in other_keys(acting.ledger)}:
        acting.write(Draft(Kind.KEY_DROPPED, THE_WORKSHOP, {"public": public}))


def _workshop(ledger: Ledger) -> Body:
    return ledger.document(THE_WORKSHOP) or {}
