"""A record: everything a check has to say, in one stable content with a digest."""

from collections.abc import Mapping
from typing import Any

import rfc8785

from steelyard.desk.ports import Body
from steelyard.records import digest_of

RECORD_FORM = 1
STOPPED = "stopped"
KEPT = (
    "tool",
    "tool_number",
    "title",
    "why",
    "note",
    "opened",
    "look",
    "choice",
    "setup",
    "exercise",
    "pulls",
    "verdicts",
    "turns",
    "waived",
    "attachments",
)

SINCE_TRIALS = ("estimates", "locked")
"""Kept only where there are such, so that older checks keep their digests."""


def record_content(body: Body) -> dict[str, Any]:
    """What is sealed: every step and pull, what was set up, and the verdicts with all their digits.

    body: of a check. Of JSON types only; keys stay once published.
    """
    kept = {key: body.get(key) for key in KEPT} | {key: body[key] for key in SINCE_TRIALS if body.get(key)}
    return {"steelyard_record": RECORD_FORM, "check": body["id"], **kept}


def record_digest(body: Body) -> str:
    """SHA-256 of the RFC 8785 JSON of a record's content, hexadecimal."""
    content: Mapping[str, Any] = record_content(body)
    return digest_of(rfc8785.dumps(dict(content)).decode())


def is_intact(body: Body) -> bool:
    """The content of a sealed check still has the digest that was sealed."""
    return body["closed"] is not None and record_digest(body) == body["closed"]["digest"]
