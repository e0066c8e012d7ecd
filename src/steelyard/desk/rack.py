"""What a person does with the tools of a shop: add, change, note what happened, take out of use, retire."""

from collections.abc import Mapping
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.ports import Body, Ledger, Wanted
from steelyard.desk.record import STOPPED
from steelyard.desk.tool_fields import tool_document
from steelyard.desk.workshop import settings
from steelyard.errors import Conflict, InputRefused
from steelyard.records import UNCHECKED, Draft, Entry, Fields, Kind, Subject, subject_name

DUE_AT_ONCE = ("dropped", "overloaded", "repaired", "back", "adjusted-elsewhere")
"""After these nobody knows what the tool delivers until it is checked again."""
HAPPENINGS = ("dropped", "overloaded", "lent", "back", "repaired", "adjusted-elsewhere")
STATES_IN_USE = (UNCHECKED, "in", "out", "cant-tell", "no-limit", STOPPED, "quarantined")
"""The states of every tool that is not retired."""
LOOKED_AT_ONCE = 200


def add_tool(acting: Acting, typed: Mapping[str, str]) -> str:
    """Put a tool on the rack; returns its name in the ledger.

    typed: as in `tool_document`.
    Raises InputRefused with the field; `number` where a tool in use has that number.
    """
    document = tool_document(typed, usual_unit=settings(acting.ledger).unit)
    draft = Draft(Kind.TOOL_ADDED, Subject.TOOL.named(acting.dice.name()), document)
    number = document["tool"]["number"]
    found = namesake(acting.ledger, number)
    if found is None:
        return _subject_of(acting.write(draft))
    try:  # refused, unless this very submission wrote it before: then the answer of then
        return _subject_of(acting.write(draft, seen={found: 0}))
    except Conflict:
        raise InputRefused("number", number, "want-new-tool-number", number=number) from None


def change_tool(acting: Acting, tool: str, typed: Mapping[str, str], seen: int | None = None) -> None:
    """Write a tool's fields afresh; checks, events and the next date stay.

    seen: last entry the page knew of it. Raises InputRefused with the field, Conflict, NotFound.
    """
    acting.body(Subject.TOOL, tool)
    document = tool_document(typed, usual_unit=settings(acting.ledger).unit)
    _refuse_namesake(acting.ledger, document["tool"]["number"], tool)
    _write(acting, tool, Kind.TOOL_CHANGED, document, seen)


def tool_event(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Note what happened to a tool; after a fall, an overload, a repair or a loan a check is due at once.

    typed: `what` of HAPPENINGS, `note` or nothing; of `lent` the note says to whom.
    Raises InputRefused with the field, also for a retired tool; Conflict, NotFound.
    """
    body = acting.body(Subject.TOOL, tool)
    fields = _said(typed, "what", "note")
    what = fields.needed(
        "what",
        lambda f: fields.choice(f, str, list(HAPPENINGS)),
        "want-one-of",
        names=", ".join(HAPPENINGS),
    )
    if body["is_retired"]:
        raise InputRefused("what", what, "want-tool-in-use")
    payload: dict[str, Any] = {"what": what, "note": fields.text("note")}
    if what in DUE_AT_ONCE:
        today = acting.today().isoformat()
        payload["due"] = min(today, body["next_due"] or today)
    _write(acting, tool, Kind.TOOL_EVENT, payload, seen)


def quarantine(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Take a tool out of use until somebody releases it.

    typed: `reason`; needed. Raises InputRefused with the field, Conflict, NotFound.
    """
    acting.body(Subject.TOOL, tool)
    _write(acting, tool, Kind.QUARANTINED, {"note": _reason(typed)}, seen)


def release_tool(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Back into use; nothing is written where it is not in quarantine.

    typed: `reason`; needed. Raises InputRefused with the field, Conflict, NotFound.
    """
    reason = _reason(typed)
    if acting.body(Subject.TOOL, tool)["quarantine"] is not None:
        _write(acting, tool, Kind.RELEASED, {"note": reason}, seen)


def retire_tool(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Take a tool off the rack for good; its records stay. Nothing is written where it is retired already.

    typed: `why` or nothing. Raises InputRefused with the field, Conflict, NotFound.
    """
    note = _said(typed, "why").text("why")
    if not acting.body(Subject.TOOL, tool)["is_retired"]:
        _write(acting, tool, Kind.TOOL_RETIRED, {"note": note}, seen)


def return_tool(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Put a retired tool back on the rack; nothing is written where it is there already.

    typed: `why` or nothing. Raises InputRefused with the field, `number` where another tool in use took that
    number meanwhile; Conflict, NotFound.
    """
    note = _said(typed, "why").text("why")
    body = acting.body(Subject.TOOL, tool)
    if body["is_retired"]:
        _refuse_namesake(acting.ledger, body["tool"]["number"], tool)
        _write(acting, tool, Kind.TOOL_RETURNED, {"note": note}, seen)


def _write(acting: Acting, tool: str, kind: Kind, payload: Body, seen: int | None) -> None:
    subject = Subject.TOOL.named(tool)
    acting.write(Draft(kind, subject, payload), seen={subject: seen} if seen is not None else None)


def _subject_of(entries: tuple[Entry, ...]) -> str:
    return subject_name(entries[0].subject)


def _said(typed: Mapping[str, str], *names: str) -> Fields:
    """These fields, those left empty as if they were not there."""
    texts = {name: typed.get(name, "").replace("\r\n", "\n").strip() for name in names}
    return Fields({name: text for name, text in texts.items() if text}, place="")


def _reason(typed: Mapping[str, str]) -> str:
    fields = _said(typed, "reason")
    return fields.needed("reason", fields.text, "want-reason")


def _refuse_namesake(ledger: Ledger, number: str, tool: str) -> None:
    if namesake(ledger, number, but=tool) is not None:
        raise InputRefused("number", number, "want-new-tool-number", number=number)


def namesake(
    ledger: Ledger, number: str, *, but: str | None = None, states: tuple[str, ...] = STATES_IN_USE
) -> str | None:
    """The subject of a tool in one of some states that has a number; case does not tell two apart."""
    after = None
    while True:
        wanted = Wanted("tool", states=states, words=number, after=after, most=LOOKED_AT_ONCE)
        found = ledger.documents(wanted)
        for listed in found:
            is_same = str(listed.body["tool"]["number"]).casefold() == number.casefold()
            if is_same and subject_name(listed.subject) != but:
                return listed.subject
        if len(found) < LOOKED_AT_ONCE:
            return None
        after = found[-1].key
