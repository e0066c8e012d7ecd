"""What was found of a file, and of the signature on a record, in sentences for every door."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from steelyard.desk.book import RecordView
from steelyard.desk.held_against import harmless
from steelyard.proof.keys import fingerprint
from steelyard.telling import record_words
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.proof.holding import Held
    from steelyard.proof.seen import Seen


@dataclass(frozen=True)
class Told:
    """Sentences: head, in two or three words; why; record, which it says it is, perhaps empty; key, whose,
    perhaps empty; amiss and ledger, any number."""

    head: str
    why: str
    record: str
    key: str
    amiss: tuple[str, ...]
    ledger: tuple[str, ...]


def told(held: "Held") -> Told:
    """What a person is told of a file."""
    standing = held.standing.value
    alone = any(finding.code == "proof-content-alone" for finding in held.seen.said)
    return Told(
        head=say(f"proof-{standing}"),
        why=say("proof-content-alone-why" if alone and standing == "data-only" else f"proof-{standing}-why"),
        record=_record(held.seen),
        key=_key(held),
        amiss=tuple(say(finding.code, **finding.facts) for finding in held.seen.said),
        ledger=tuple(_ledger(held)),
    )


def signatures_said(view: RecordView) -> list[str]:
    """When a record was signed, and by which key, a line for each signature."""
    return [
        say(
            "record-signed-by",
            when=record_words.at_by(signed, view.people),
            fingerprint=fingerprint(signed["key"]),
        )
        for signed in view.body.get("signed", [])
    ]


def _record(seen: "Seen") -> str:
    """Which record it says it is, with tool and day where the form has them."""
    if seen.named is None:
        return ""
    facts = {
        "record": seen.named.record,
        "tool": _said(seen, "content", "tool_number"),
        "day": _said(seen, "sealed", "day"),
    }
    code = "proof-record" if facts["day"] else "proof-record-tool" if facts["tool"] else "proof-record-alone"
    return say(code, **facts)


def _said(seen: "Seen", part: str, name: str) -> str:
    """A text in a part of the record in a file; empty where there is none."""
    inside = (seen.export or {}).get(part)
    text = inside.get(name) if isinstance(inside, Mapping) else None
    return harmless(text) if isinstance(text, str) else ""


def _key(held: "Held") -> str:
    if not held.fingerprint:
        return ""
    if held.is_own:
        return say("proof-by-own")
    if held.whose is None:
        return say("proof-by-nobody")
    return say("proof-by-other", name=held.whose) if held.whose else say("proof-by-told")


def _ledger(held: "Held") -> list[str]:
    beside = held.beside
    if beside is None:
        return []
    if not beside.is_there:
        return [say("proof-missing-here")] if held.is_own else []
    if not beside.differences:
        return [say("proof-same-here")]
    nothing = say("proof-nothing")
    rows = [
        say("proof-difference", where=place.where, there=place.there or nothing, here=place.here or nothing)
        for place in beside.differences
    ]
    return [say("proof-differs-here"), *rows]


def as_table(held: "Held") -> dict[str, Any]:
    """The same for a program: codes and facts, and the sentences; of JSON types only."""
    said, seen = told(held), held.seen
    return {
        "standing": held.standing.value,
        "form": seen.form.value,
        "fingerprint": held.fingerprint,
        "key": seen.public or "",
        "known_as": held.whose,
        "is_own": held.is_own,
        "record": said.record,
        "sentence": said.why,
        "amiss": [
            {"code": f.code, "facts": dict(f.facts), "sentence": say(f.code, **f.facts)} for f in seen.said
        ],
        "ledger": list(said.ledger),
    }
