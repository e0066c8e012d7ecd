"""A record as JSON: signed as a whole, and held against its signature.

A signed file is written in the very form that is signed: no other way to write the same passes for it.
Source: RFC 8785 (the form), RFC 8032 (Ed25519).
"""

import json
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import rfc8785

from steelyard.desk.on_paper import as_json
from steelyard.desk.signing import ALGORITHM, signed_message
from steelyard.errors import InputRefused
from steelyard.findings import Finding
from steelyard.proof.keys import is_signed
from steelyard.proof.seen import Form, Named, Seen, Standing, amiss
from steelyard.records import digest_of

if TYPE_CHECKING:
    from steelyard.desk.ports import Signer

SIGNATURE = "signature"
OVER = "RFC 8785 JSON of everything but this member"
OURS = {"record", "digest", "content", "sealed"}
"""What every record has that was exported."""
MARK = "\ufeff"
MOST_SIGNED = 50
"""Signatures on one seal that are looked at; each key signs once."""
UNREADABLE = (ValueError, RecursionError)
NO_RECORD = (KeyError, TypeError, AttributeError, ValueError, RecursionError)


def signed_json(export: Mapping[str, Any], signer: "Signer | None") -> bytes:
    """A record as a file of JSON with the signature of the workshop.

    Without one where there is no signer, or its content does not have its digest any more.
    """
    if signer is None or not has_its_digest(export):
        return as_json(export)
    signature = {
        "algorithm": ALGORITHM,
        "over": OVER,
        "key": signer.public,
        "value": signer.sign(rfc8785.dumps(dict(export))).hex(),
    }
    return rfc8785.dumps({**export, SIGNATURE: signature})


def seen_in_json(content: bytes) -> Seen:
    """What a file of JSON says of itself. Raises InputRefused (`file`) where it is no record of ours."""
    try:
        read = json.loads(
            content.decode().removeprefix(MARK), object_pairs_hook=_no_twins, parse_constant=_no_number
        )
        as_signed = rfc8785.dumps(read)
    except UNREADABLE:
        if f'"{SIGNATURE}"'.encode() not in content:
            raise InputRefused("file", None, "want-readable-json") from None
        return Seen(Form.JSON, Standing.CHANGED, said=(amiss("proof-damaged"),))
    if not isinstance(read, dict) or not read.keys() >= OURS:
        raise InputRefused("file", None, "want-record-json")
    export = {name: value for name, value in read.items() if name != SIGNATURE}
    named = named_in(export)
    if SIGNATURE not in read:
        return _by_the_seal(export, named)
    public = _signed_by(read[SIGNATURE], export)
    if public is None or not has_its_digest(export):
        return Seen(Form.JSON, Standing.CHANGED, said=tuple(_what(export)), named=named, export=export)
    if as_signed == content:
        return Seen(Form.JSON, Standing.INTACT, public, named=named, export=export)
    said = (amiss("proof-rewritten"),)
    return Seen(Form.JSON, Standing.DATA_ONLY, public, said, named, export)


def named_in(export: Mapping[str, Any]) -> Named | None:
    """Which record an export says it is; None where it says none."""
    record, digest = export.get("record"), export.get("digest")
    return Named(record, digest) if type(record) is int and isinstance(digest, str) else None


def _signed_by(signature: object, export: Mapping[str, Any]) -> str | None:
    """The key by which all of an export is signed; None where the signature is not that of all of it."""
    try:
        fields: Mapping[str, Any] = signature if isinstance(signature, dict) else {}
        public, value = str(fields["key"]), bytes.fromhex(fields["value"])
        is_whole = is_signed(value, rfc8785.dumps(dict(export)), public=public)
        is_ours = fields == {"algorithm": ALGORITHM, "over": OVER, "key": public, "value": value.hex()}
    except NO_RECORD:
        return None
    return public if is_whole and is_ours else None


def _by_the_seal(export: Mapping[str, Any], named: Named | None) -> Seen:
    """Of a file without a signature of its own: what the signature on the seal of its record says.

    Of the export only that is given on which that one signs: number, digest and content.
    """
    public = sealed_by(export)
    if public is None:
        is_wrong = bool(export.get("signed")) or not has_its_digest(export)
        standing = Standing.CHANGED if is_wrong else Standing.UNSIGNED
        return Seen(Form.JSON, standing, said=tuple(_what(export)), named=named, export=export)
    signed = {name: export[name] for name in ("record", "digest", "content")}
    return Seen(Form.JSON, Standing.DATA_ONLY, public, (amiss("proof-content-alone"),), named, signed)


def _what(export: Mapping[str, Any]) -> Sequence[Finding]:
    """What can be told of where a file was changed: in what was sealed, or in what stands around it."""
    if not has_its_digest(export):
        return [amiss("proof-content-changed")]
    if not export.get("signed"):
        return []
    if sealed_by(export) is None:
        return [amiss("proof-seal-changed")]
    return [amiss("proof-around-changed")]


def has_its_digest(export: Mapping[str, Any]) -> bool:
    """The content of an export has the digest that stands beside it."""
    try:
        return bool(digest_of(rfc8785.dumps(dict(export["content"])).decode()) == export["digest"])
    except NO_RECORD:
        return False


def sealed_by(export: Mapping[str, Any]) -> str | None:
    """The key that signed the seal of an export whose content has its digest; None where none did."""
    if not has_its_digest(export):
        return None
    try:
        for signed in list(export.get("signed", ()))[:MOST_SIGNED]:
            message = signed_message(export["content"]["check"], export["record"], export["digest"])
            if is_signed(bytes.fromhex(signed["signature"]), message, public=signed["key"]):
                return str(signed["key"])
    except NO_RECORD:
        return None
    return None


def _no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object none of whose names stands twice: two programs would read two things in it."""
    read = dict(pairs)
    if len(read) != len(pairs):
        raise ValueError("a name twice in one object")
    return read


def _no_number(word: str) -> float:
    raise ValueError(f"{word} is no number of JSON")
