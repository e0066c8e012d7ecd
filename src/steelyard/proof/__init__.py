"""Signatures on what leaves a workshop, and files held against them, without a network.

In: the bytes of a record as PDF, certificate in XML or JSON, and what signs them; a file from anywhere. Out:
the same signed, byte for byte the same each time; what a file says of itself: whether every byte or at least
its data is as it was signed, by which key, and whose that is by the keys a ledger knows. Ciphers,
containers and canonical forms come from libraries. Refuses: what is none of the three forms, or too large.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from steelyard.proof.keys import (
    WorkshopKey,
    fingerprint,
    key_in_lines,
    key_in_pem,
    new_key,
    read_fingerprint,
)
from steelyard.proof.seen import Form, Seen, Standing

if TYPE_CHECKING:
    from datetime import datetime

    from steelyard.desk.ports import Ledger, Signer
    from steelyard.proof.holding import Held
    from steelyard.proof.sentences import Told


def signed_json(export: Mapping[str, Any], signer: "Signer | None") -> bytes:
    """See `json_file`."""
    from steelyard.proof import json_file

    return json_file.signed_json(export, signer)


def signed_xml(certificate: bytes, signer: "Signer", *, name: str) -> bytes:
    """See `xml_file`."""
    from steelyard.proof import xml_file

    return xml_file.signed_xml(certificate, signer, name=name)


def signed_pdf(content: bytes, signer: "Signer", *, name: str, at: "datetime") -> bytes:
    """See `pdf_file`."""
    from steelyard.proof import pdf_file

    return pdf_file.signed_pdf(content, signer, name=name, at=at)


def seen_in(content: bytes) -> Seen:
    """See `holding`."""
    from steelyard.proof import holding

    return holding.seen_in(content)


def hold(content: bytes, ledger: "Ledger", *, told: str = "") -> "Held":
    """See `holding`."""
    from steelyard.proof import holding

    return holding.hold(content, ledger, told=told)


def told(held: "Held") -> "Told":
    """See `sentences`."""
    from steelyard.proof import sentences

    return sentences.told(held)


__all__ = [
    "Form",
    "Seen",
    "Standing",
    "WorkshopKey",
    "fingerprint",
    "hold",
    "key_in_lines",
    "key_in_pem",
    "new_key",
    "read_fingerprint",
    "seen_in",
    "signed_json",
    "signed_pdf",
    "signed_xml",
    "told",
]
