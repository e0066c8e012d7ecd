"""A tool on the rack: what is written on it, what happened to it, and what its last check said."""

from collections.abc import Mapping
from typing import Any

from steelyard.records.entry import Entry, day_there, who_and_when
from steelyard.records.kinds import Kind
from steelyard.records.listing import Body, Fold, Listing, natural, searchable

UNCHECKED = "unchecked"
CHECK_FIRST = "check-first"
"""It fell or was overloaded, and nobody checked it since."""


def _written(body: Body, entry: Entry) -> dict[str, Any]:
    fresh: dict[str, Any] = {"is_retired": False, "quarantine": None, "events": [], "checks": []}
    return {**fresh, "next_due": None, "lent_to": None, **body, **entry.payload}


def _event(body: Body, entry: Entry) -> dict[str, Any]:
    event = {**who_and_when(entry), "what": entry.payload["what"], "note": entry.payload.get("note")}
    if entry.payload.get("to"):
        event["to"] = entry.payload["to"]
    after = {**body, "events": [*body["events"], event]}
    if entry.payload["what"] in ("lent", "back"):
        after.pop("borrower", None)
        after["lent_to"] = _said_of_a_loan(entry.payload) if entry.payload["what"] == "lent" else None
    if entry.payload.get("to"):
        after["borrower"] = entry.payload["to"]
    if entry.payload.get("due"):
        after["next_due"] = entry.payload["due"]
    if entry.payload.get("is_check_first"):
        after["check_first"] = entry.payload["what"]
    return after


def _said_of_a_loan(payload: Mapping[str, Any]) -> str:
    """What stands for who has it; empty where the key of a name does."""
    return "" if payload.get("to") else str(payload.get("note") or "")


def _retired(body: Body, entry: Entry) -> dict[str, Any]:
    return {**_noted(body, entry, "retired"), "is_retired": True}


def _returned(body: Body, entry: Entry) -> dict[str, Any]:
    return {**_noted(body, entry, "returned"), "is_retired": False}


def _quarantined(body: Body, entry: Entry) -> dict[str, Any]:
    since = day_there(entry.at, entry.offset_minutes)
    said = {"since": since, "note": entry.payload.get("note"), "record": entry.payload.get("record")}
    return {**_noted(body, entry, "quarantined"), "quarantine": {**said, **_seen_in(entry)}}


def _released(body: Body, entry: Entry) -> dict[str, Any]:
    next_due = entry.payload.get("due") or body["next_due"]
    return {**_noted(body, entry, "released"), "quarantine": None, "next_due": next_due}


def _checked(body: Body, entry: Entry) -> dict[str, Any]:
    """In the order of their days: one kept late from a file does not go over a newer one."""
    kept = [*body["checks"], {"number": entry.number, **entry.payload}]
    checks = sorted(kept, key=lambda check: (check["day"], check["number"]))
    if checks[-1]["number"] != entry.number:
        return {**body, "checks": checks}
    next_due = entry.payload.get("next_due")
    after = {**body, "checks": checks, "next_due": next_due}
    if next_due is None or next_due != entry.payload["day"]:  # due that very day: it fell after its last pull
        after.pop("check_first", None)
    return after


def _pivot_found(body: Body, entry: Entry) -> dict[str, Any]:
    stands = entry.payload["pivot"]
    after = {**_noted(body, entry, "pivot-found"), "tool": {**body["tool"], "pivot": stands}}
    after["events"][-1]["pivot"] = {"pivot": stands, **entry.payload["typed"]}
    return after


def _history_kept(body: Body, entry: Entry) -> dict[str, Any]:
    """A line of an old notebook, in the order of their days: neither a check nor a verdict of this program.

    The day on which the latest line says it is due stands in as long as nothing else was ever said of it.
    """
    rows = [*body.get("history", ()), {"number": entry.number, **entry.payload}]
    rows.sort(key=lambda row: (row["day"], row["number"]))
    after = {**body, "history": rows}
    said = next((row["next_due"] for row in reversed(rows) if row["next_due"]), None)
    is_free = body["next_due"] in (None, body.get("history_due")) and not body["checks"]
    if said is not None and is_free and not body.get("check_first"):
        after |= {"next_due": said, "history_due": said}
    return after


def _noted(body: Body, entry: Entry, what: str) -> dict[str, Any]:
    said = {"what": what, "note": entry.payload.get("note"), "record": entry.payload.get("record")}
    return {**body, "events": [*body["events"], {**who_and_when(entry), **said, **_seen_in(entry)}]}


def _seen_in(entry: Entry) -> dict[str, Any]:
    """The check in whose look-over damage was seen; nothing where a record or a person brought it about."""
    is_seen = entry.kind == Kind.QUARANTINED and "record" not in entry.payload and entry.payload.get("check")
    return {"seen_in": entry.payload["check"]} if is_seen else {}


TOOL_FOLDS: dict[str, Fold] = {
    Kind.TOOL_ADDED: _written,
    Kind.TOOL_CHANGED: _written,
    Kind.TOOL_EVENT: _event,
    Kind.TOOL_RETIRED: _retired,
    Kind.TOOL_RETURNED: _returned,
    Kind.TOOL_CHECKED: _checked,
    Kind.PIVOT_FOUND: _pivot_found,
    Kind.QUARANTINED: _quarantined,
    Kind.RELEASED: _released,
    Kind.HISTORY_KEPT: _history_kept,
}


def tool_state(body: Body) -> str:
    """One word: retired, quarantined, check-first, the verdict of the last check, or unchecked."""
    if body["is_retired"]:
        return "retired"
    if body["quarantine"] is not None:
        return "quarantined"
    if body.get("check_first"):
        return CHECK_FIRST
    return str(body["checks"][-1]["verdict"]) if body["checks"] else UNCHECKED


def tool_listing(body: Body) -> Listing:
    """In the order of the shop's own numbers; a retired tool is never due."""
    table = body["tool"]
    return Listing(
        key=natural(str(table["number"])),
        state=tool_state(body),
        due=None if body["is_retired"] else body["next_due"],
        words=searchable(table["number"], table["kind"], table.get("make"), body.get("notes")),
    )
