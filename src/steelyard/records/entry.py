"""One entry of the ledger: what is written down, and the digest that chains it to the one before."""

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, NamedTuple

import rfc8785

from steelyard.findings import Finding, Severity

VERSION = 1
NO_ENTRY = (ValueError, LookupError, TypeError, RecursionError)
"""What reading a body raises that is no entry's."""
BEFORE_THE_FIRST = "0" * 64
HALF = re.compile("[\ud800-\udfff]")
"""Half a character, which no JSON in UTF-8 can hold."""
LARGEST_EXACT = 2**53 - 1
"""Source: RFC 8785, 3.2.2.3."""
Payload = Mapping[str, Any]


@dataclass(frozen=True)
class Draft:
    """What is to be written down.

    kind: one of `kinds.py`. subject: what it is about, such as `tool:3f9a1c20`; every entry has just one.
    payload: of JSON types only; numbers that a person typed stay texts.
    """

    kind: str
    subject: str
    payload: Payload


@dataclass(frozen=True)
class Stamp:
    """Who wrote when, on which device.

    at: UTC, `2026-11-25T13:54:28.123Z`. offset_minutes: of the workshop's clock from UTC. [min]
    who: key of a person, empty where nobody said. device: in a few words.
    """

    at: str
    offset_minutes: int
    who: str
    device: str


class Entry(NamedTuple):
    """One line of the ledger; the order is the number, never the clock.

    body: RFC 8785 JSON of everything in it and of the digest before. digest: SHA-256 of the body in
    hexadecimal digits.
    """

    number: int
    kind: str
    version: int
    subject: str
    at: str
    offset_minutes: int
    who: str
    device: str
    payload: Payload
    before: str
    body: str
    digest: str


def write_entry(draft: Draft, number: int, stamp: Stamp, before: str) -> Entry:
    """The entry of a draft.

    number: 1 for the first. before: digest of the entry before, `BEFORE_THE_FIRST` for the first.
    Source: RFC 8785 (JSON Canonicalization Scheme), FIPS 180-4 (SHA-256).
    """
    content: dict[str, Any] = {
        "at": stamp.at,
        "before": before,
        "device": stamp.device,
        "kind": draft.kind,
        "number": number,
        "offset_minutes": stamp.offset_minutes,
        "payload": dict(draft.payload),
        "subject": draft.subject,
        "version": VERSION,
        "who": stamp.who,
    }
    return read_entry(_canonical(content))


def _canonical(content: dict[str, Any]) -> str:
    """RFC 8785 JSON. What holds nothing but texts, truths, nothing and whole numbers comes from the standard
    encoder, which writes those the same and in a tenth of the time."""
    if _is_plain(content):
        return json.dumps(content, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return rfc8785.dumps(content).decode()


def _is_plain(value: Any) -> bool:
    """Every number in it is a whole one that JSON holds exactly, every name in it of ASCII signs."""
    kind = type(value)
    if kind is str:
        return value.isascii() or not HALF.search(value)
    if kind is bool or value is None:
        return True
    if kind is int:
        return bool(-LARGEST_EXACT <= value <= LARGEST_EXACT)
    if kind is dict:
        return all(type(name) is str and name.isascii() and _is_plain(value[name]) for name in value)
    return kind in (list, tuple) and all(map(_is_plain, value))


def read_entry(body: str) -> Entry:
    """An entry from its body. Raises ValueError, LookupError, TypeError, RecursionError where it is none."""
    content = json.loads(body)
    return Entry(
        content["number"],
        content["kind"],
        content["version"],
        content["subject"],
        content["at"],
        content["offset_minutes"],
        content["who"],
        content["device"],
        content["payload"],
        content["before"],
        body,
        digest_of(body),
    )


def who_and_when(entry: Entry) -> dict[str, Any]:
    """What a document keeps of an entry beside what it says: its number, when it was written, and by whom."""
    return {"number": entry.number, "at": entry.at, "offset_minutes": entry.offset_minutes, "who": entry.who}


def day_there(at: str, offset_minutes: int) -> str:
    """The day in the workshop on which an entry was written, from two fields of its stamp."""
    return (datetime.fromisoformat(at) + timedelta(minutes=offset_minutes)).date().isoformat()


def digest_of(text: str) -> str:
    """SHA-256 of a text in UTF-8, hexadecimal."""
    return hashlib.sha256(text.encode()).hexdigest()


def chain_breaks(rows: Iterable[tuple[int, str, str]]) -> Iterator[Finding]:
    """Every place where a chain does not hold.

    rows: number, body and digest as they are stored, in the order of their numbers.
    Yields `chain-gap`, `chain-changed` (also where a body cannot be read), `chain-joint`, each with the
    entry's number; nothing where all holds.
    """
    expected, before = 1, BEFORE_THE_FIRST
    for number, body, digest in rows:
        facts: dict[str, str | float | int] = {"number": number}
        if number != expected:
            yield Finding("chain-gap", Severity.GRAVE, {"number": expected, "found": number})
        entry = _entry_or_none(body)
        if entry is None or (entry.digest, entry.number) != (digest, number):
            yield Finding("chain-changed", Severity.GRAVE, facts)
        elif entry.before != before and number == expected:
            yield Finding("chain-joint", Severity.GRAVE, facts)
        expected, before = number + 1, digest


def _entry_or_none(body: str) -> Entry | None:
    try:
        return read_entry(body)
    except NO_ENTRY:
        return None
