"""The book: sealed records, found by tool, date, person and verdict; corrected, never changed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.bench import open_body, write_step
from steelyard.desk.ports import Body, Ledger, Listed, Wanted
from steelyard.desk.rack import namesake
from steelyard.desk.record import STOPPED, is_intact, record_content
from steelyard.desk.standing import standing
from steelyard.desk.turns import struck_by_turning
from steelyard.errors import InputRefused, NotFound
from steelyard.records import (
    AS_FOUND,
    AS_LEFT,
    KEY_WIDTH,
    Draft,
    Fields,
    Kind,
    Subject,
    adjusted_table,
    check_table,
)

SEALED = ("in", "out", "cant-tell", "no-limit", STOPPED)
PAGE = 50
AFTER_ALL = "~"
"""Behind every key that begins with the same record: a ledger may add the name of the subject."""
SEAL = ("verdict", "phase", "day", "next_due", "note", "number", "at", "offset_minutes", "who")
"""What an export says of the seal besides its digest."""
OF_TURNS = ("gain_ratio", "adjusted")
"""What it says besides where the adjuster was turned."""


@dataclass(frozen=True)
class RecordView:
    """A sealed record and its tool as it is now.

    is_intact: the content still has its digest. entry, entry_digest: of the sealing entry, by which a printed
    record proves that nothing was cut off or replaced. people: names by key, forgotten ones left out.
    """

    body: Body
    tool: Body
    is_intact: bool
    entry: int
    entry_digest: str
    people: Mapping[str, str]


@dataclass(frozen=True)
class BookPage:
    """Some records, the latest first. older: what the next page begins behind; None at the end."""

    records: tuple[Listed, ...]
    older: str | None


def book_page(ledger: Ledger, typed: Mapping[str, str], *, after: str | None = None) -> BookPage:
    """Fifty sealed records. Arguments and refusals as in `find_records`."""
    found = find_records(ledger, typed, after=after, most=PAGE + 1)
    return BookPage(tuple(found[:PAGE]), found[PAGE - 1].key if len(found) > PAGE else None)


def find_records(
    ledger: Ledger, typed: Mapping[str, str], *, after: str | None = None, most: int = PAGE
) -> list[Listed]:
    """Sealed records, the latest first.

    typed: `words`, `verdict`, `who` (key of a person), `day_from`, `day_to`, `tool` (its name or its number);
        any may be missing. after: from the page before.
    Raises InputRefused with the field; `tool` where none has that name or number.
    """
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    verdict = fields.choice("verdict", str, list(SEALED))
    first, last = fields.day("day_from"), fields.day("day_to")
    if first is not None and last is not None and last < first:
        raise InputRefused("day_to", last, "want-day-from", day=first)
    tool = fields.text("tool")
    return ledger.documents(
        Wanted(
            "check",
            states=(verdict,) if verdict else SEALED,
            owner=_tool_subject(ledger, tool) if tool else None,
            who=fields.text("who"),
            words=fields.text("words") or "",
            day_from=first.isoformat() if first else None,
            day_to=last.isoformat() if last else None,
            after=after,
            most=most,
            newest_first=True,
        )
    )


def tool_asked(ledger: Ledger, name_or_number: str) -> Body | None:
    """A tool by its name or its number, retired ones too; of several with that number the one in use."""
    named = ledger.document(Subject.TOOL.named(name_or_number))
    if named is not None:
        return named
    subject = namesake(ledger.documents, name_or_number) or namesake(
        ledger.documents, name_or_number, states=("retired",)
    )
    return ledger.document(subject) if subject is not None else None


def _tool_subject(ledger: Ledger, name_or_number: str) -> str:
    tool = tool_asked(ledger, name_or_number)
    if tool is None:
        raise InputRefused("tool", name_or_number, "want-listed-tool")
    return Subject.TOOL.named(tool["id"])


def record_body(ledger: Ledger, record: int) -> Body:
    """The check behind a record's number. Raises NotFound."""
    before = f"{str(record - 1).zfill(KEY_WIDTH)}{AFTER_ALL}"
    found = ledger.documents(Wanted("check", states=SEALED, after=before, most=1)) if record > 0 else []
    if not found or found[0].body["closed"]["record"] != record:
        raise NotFound(f"record {record}")
    return found[0].body


def record_view(ledger: Ledger, record: int) -> RecordView:
    """A record by its number. Raises NotFound."""
    body = record_body(ledger, record)
    tool = standing(ledger, Subject.TOOL, body["tool"])
    number = body["closed"]["number"]
    (entry,) = ledger.entries(subject=Subject.CHECK.named(body["id"]), after=number - 1, most=1)
    return RecordView(body, tool, is_intact(body), number, entry.digest, ledger.names())


def record_export(ledger: Ledger, record: int) -> dict[str, Any]:
    """A record as JSON: its content, of which RFC 8785 gives back the digest, and what followed it.

    Raises NotFound.
    """
    return exported(record_view(ledger, record))


def exported(view: RecordView) -> dict[str, Any]:
    """The same of a record that is at hand."""
    closed = view.body["closed"]
    who = {str(step["who"]) for step in _steps(view.body)}
    return {
        "record": closed["record"],
        "digest": closed["digest"],
        "entry": {"number": view.entry, "digest": view.entry_digest},
        "is_intact": view.is_intact,
        "sealed": {key: closed[key] for key in (*SEAL, *OF_TURNS) if key in SEAL or key in closed},
        "content": record_content(view.body),
        "corrections": list(view.body["corrections"]),
        "signed": list(view.body.get("signed", [])),
        "people": {key: name for key, name in view.people.items() if key in who},
    }


def _steps(body: Body) -> Iterator[Mapping[str, Any]]:
    """Everything in a check that somebody said."""
    once = ("opened", "look", "choice", "setup", "locked", "waived", "closed")
    rows = (body.get(name) for name in once)
    yield from (row for row in rows if row is not None)
    for name in ("exercise", "pulls", "estimates", "turns", "attachments", "corrections", "signed"):
        yield from body.get(name, [])
    yield from body["verdicts"].values()


def correct_record(acting: Acting, record: int, typed: Mapping[str, str]) -> None:
    """Follow a sealed record by a correction: what is wrong in it, and what is right.

    Raises NotFound; InputRefused with the field `wrong` or `right`.
    """
    body = record_body(acting.ledger, record)
    texts = {name: typed.get(name, "").replace("\r\n", "\n") for name in ("wrong", "right")}
    fields = Fields({name: text for name, text in texts.items() if text.strip()}, place="")
    payload = {
        "record": record,
        "wrong": fields.needed("wrong", fields.text, "want-correction"),
        "right": fields.needed("right", fields.text, "want-correction"),
    }
    acting.write(Draft(Kind.CORRECTED, Subject.CHECK.named(body["id"]), payload))


def record_form(ledger: Ledger, record: int, phase: str | None = None) -> bytes:
    """A record in the check form, as a file: TOML in UTF-8; it reads back to the same numbers.

    phase: `as-found` or `as-left`; None takes the one whose verdict the tool left with.
    Raises NotFound where the record has no such phase.
    """
    return check_form(ledger, record_body(ledger, record), phase)


def check_form(ledger: Ledger, body: Body, phase: str | None = None) -> bytes:
    """The same of any check with a kit set up."""
    import tomli_w

    chosen = phase or (AS_LEFT if AS_LEFT in body["verdicts"] else AS_FOUND)
    if body["setup"] is None or chosen not in (AS_FOUND, AS_LEFT):
        raise NotFound(f"{chosen}, {body['tool_number']}")
    person = ledger.names().get(body["setup"]["who"])
    table = check_table(body, chosen, person=person)
    if chosen == AS_FOUND and body["turns"]:
        table = adjusted_table(body, struck_by_turning(), person=person)
    if not table["point"]:
        raise NotFound(f"{chosen}, {body['tool_number']}")
    return tomli_w.dumps(table).encode()


def attach_photograph(
    acting: Acting, check: str, content: bytes, media_type: str, typed: Mapping[str, str]
) -> str:
    """Keep a photograph with a check in hand; returns its digest.

    content, media_type: as the darkroom made it.
    Raises RecordSealed, Conflict; InputRefused with the field `photo` or `photo_note`.
    """
    body = open_body(acting.ledger, check)
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    note = fields.text("photo_note")
    if len(body["attachments"]) >= PAGE:
        raise InputRefused("photo", None, "want-fewer-photographs", most=PAGE)
    digest = acting.ledger.keep_file(content, media_type)
    payload = {"file": digest, "bytes": len(content), "media_type": media_type, "note": note}
    write_step(acting, body, Kind.ATTACHMENT_KEPT, payload, None)
    return digest
