"""A record: everything a check has to say, in one stable content with a digest."""

import json
import re
from collections.abc import Iterator, Mapping
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
WHOLE = re.compile(r"\.0(?=[,}\]])")
POWER = re.compile(r"e(-[0-9]+|\+[0-9]{2})(?=[,}\]])")
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?e[-+][0-9]+")
BEFORE_A_NUMBER = ":,["


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
    """The content of a sealed check still has the digest that was sealed.

    What is written quickly can only say so: no other text has that digest, and it reads back to this content
    and no other. Where it does not, the text of RFC 8785 decides.
    """
    if body["closed"] is None:
        return False
    sealed, content = body["closed"]["digest"], record_content(body)
    text = _quickly(content)
    if digest_of(text) == sealed and json.loads(text) == content:
        return True
    return bool(record_digest(body) == sealed)


def _quickly(content: Mapping[str, Any]) -> str:
    """The JSON of RFC 8785 in a fraction of the time, for nearly every content; another text for the rest.

    Python's own writer differs in numbers, unless names or texts are unusual. What looks like one within a
    text is changed as well, which shows when it is read back.
    """
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return "".join(_powers_rewritten(WHOLE.sub("", text)))


def _powers_rewritten(text: str) -> Iterator[str]:
    """The text piece by piece, its numbers with a power of ten as RFC 8785 writes them."""
    done = 0
    for power in POWER.finditer(text):
        begin = 1 + max(text.rfind(mark, done, power.start()) for mark in BEFORE_A_NUMBER)
        if NUMBER.fullmatch(text, begin, power.end()):
            yield text[done:begin]
            yield rfc8785.dumps(float(text[begin : power.end()])).decode()
            done = power.end()
    yield text[done:]
