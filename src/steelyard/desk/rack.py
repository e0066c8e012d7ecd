"""What a person does with the tools of a shop: add, change, note what happened, take out of use, retire."""

from collections.abc import Mapping
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.every import every
from steelyard.desk.ports import Body, Find, Guard, Wanted
from steelyard.desk.record import STOPPED
from steelyard.desk.tool_fields import tool_document
from steelyard.desk.workshop import borrower, settings
from steelyard.errors import InputRefused
from steelyard.records import CHECK_FIRST, UNCHECKED, Draft, Fields, Kind, Subject, subject_name

DUE_AT_ONCE = ("dropped", "overloaded", "repaired", "back", "adjusted-elsewhere")
"""After these nobody knows what the tool delivers until it is checked again."""
DOUBTFUL = ("dropped", "overloaded")
"""After these it must not be used before it is checked; its state says so until then."""
HAPPENINGS = ("dropped", "overloaded", "lent", "back", "repaired", "adjusted-elsewhere")
STATES_IN_USE = (CHECK_FIRST, UNCHECKED, "in", "out", "cant-tell", "no-limit", STOPPED, "quarantined")
"""The states of every tool that is not retired."""
LOOKED_AT_ONCE = 200


def add_tool(acting: Acting, typed: Mapping[str, str]) -> str:
    """Put a tool on the rack; returns its name in the ledger.

    typed: as in `tool_document`.
    Raises InputRefused with the field; `number` where a tool in use has that number.
    """
    document = _document(acting, typed)
    draft = Draft(Kind.TOOL_ADDED, Subject.TOOL.named(acting.dice.name()), document)
    number = document["tool"]["number"]
    (entry, *_) = acting.write(draft, guard=_no_namesake(number))
    return subject_name(entry.subject)


def change_tool(acting: Acting, tool: str, typed: Mapping[str, str], seen: int | None = None) -> None:
    """Write a tool's fields afresh; checks, events and the next date stay.

    seen: last entry the page knew of it. Raises InputRefused with the field, Conflict, NotFound.
    """
    acting.body(Subject.TOOL, tool)
    document = _document(acting, typed)
    guard = _no_namesake(document["tool"]["number"], but=tool)
    _write(acting, tool, Kind.TOOL_CHANGED, document, seen, guard=guard)


def tool_event(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Note what happened to a tool; after a fall, an overload, a repair or a loan a check is due at once.

    typed: `what` of HAPPENINGS, `note` or nothing; with `lent` perhaps `to`: the name goes into the side
        table of names, the entry holds its key.
    Raises InputRefused with the field, also for a retired tool; Conflict, NotFound.
    """
    body = acting.body(Subject.TOOL, tool)
    fields = _said(typed, "what", "note", "to")
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
    if what in DOUBTFUL:
        payload["is_check_first"] = True
    to = fields.text("to") if what == "lent" else None
    if to is None:
        _write(acting, tool, Kind.TOOL_EVENT, payload, seen)
        return
    payload["to"], drafts, names = borrower(acting, to)
    subject = Subject.TOOL.named(tool)
    known = {subject: seen} if seen is not None else None
    acting.write(Draft(Kind.TOOL_EVENT, subject, payload), *drafts, seen=known, names=names)


def quarantine(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Take a tool out of use until somebody releases it.

    typed: `reason`; needed. Raises InputRefused with the field, Conflict, NotFound.
    """
    acting.body(Subject.TOOL, tool)
    _write(acting, tool, Kind.QUARANTINED, {"note": _reason(typed)}, seen)


def release_tool(acting: Acting, tool: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Back into use; nothing is written where it is not in quarantine.

    A check is due at once where nobody knows it good: it was out or damaged when it was last looked at and no
    later day is set. typed: `reason`; needed. Raises InputRefused with the field, Conflict, NotFound.
    """
    reason = _reason(typed)
    body = acting.body(Subject.TOOL, tool)
    if body["quarantine"] is not None:
        due = {"due": acting.today().isoformat()} if _is_not_known_good(body) else {}
        _write(acting, tool, Kind.RELEASED, {"note": reason, **due}, seen)


def _is_not_known_good(body: Body) -> bool:
    """Released as it stands, it would be used although its last check, or the last look at it, speaks
    against it."""
    if "seen_in" in body["quarantine"]:
        return True
    last = body["checks"][-1]["verdict"] if body["checks"] else None
    return last in ("out", STOPPED) and body["next_due"] is None


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
        guard = _no_namesake(body["tool"]["number"], but=tool)
        _write(acting, tool, Kind.TOOL_RETURNED, {"note": note}, seen, guard=guard)


def _document(acting: Acting, typed: Mapping[str, str]) -> dict[str, Any]:
    said = settings(acting.ledger)
    return tool_document(typed, usual_unit=said.unit, decimal_mark=said.reads_by)


def _write(
    acting: Acting, tool: str, kind: Kind, payload: Body, seen: int | None, *, guard: Guard | None = None
) -> None:
    subject = Subject.TOOL.named(tool)
    known = {subject: seen} if seen is not None else None
    acting.write(Draft(kind, subject, payload), seen=known, guard=guard)


def _said(typed: Mapping[str, str], *names: str) -> Fields:
    """These fields, those left empty as if they were not there."""
    texts = {name: typed.get(name, "").replace("\r\n", "\n").strip() for name in names}
    return Fields({name: text for name, text in texts.items() if text}, place="")


def _reason(typed: Mapping[str, str]) -> str:
    fields = _said(typed, "reason")
    return fields.needed("reason", fields.text, "want-reason")


def _no_namesake(number: str, but: str | None = None) -> Guard:
    """Refuses to write while another tool in use has that number."""

    def guard(find: Find) -> None:
        if namesake(find, number, but=but) is not None:
            raise InputRefused("number", number, "want-new-tool-number", number=number)

    return guard


def namesake(
    find: Find, number: str, *, but: str | None = None, states: tuple[str, ...] = STATES_IN_USE
) -> str | None:
    """The subject of a tool in one of some states that has a number; case does not tell two apart."""
    wanted = Wanted("tool", states=states, words=number, most=LOOKED_AT_ONCE)
    for listed in every(find, wanted):
        is_same = str(listed.body["tool"]["number"]).casefold() == number.casefold()
        if is_same and subject_name(listed.subject) != but:
            return listed.subject
    return None
