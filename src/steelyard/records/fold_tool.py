"""A tool on the rack: what is written on it, what happened to it, and what its last check said."""

from typing import Any

from steelyard.records.entry import Entry, day_there
from steelyard.records.kinds import Kind
from steelyard.records.listing import Body, Fold, Listing, natural, searchable

UNCHECKED = "unchecked"


def _written(body: Body, entry: Entry) -> dict[str, Any]:
    fresh: dict[str, Any] = {"is_retired": False, "quarantine": None, "events": [], "checks": []}
    return {**fresh, "next_due": None, "lent_to": None, **body, **entry.payload}


def _event(body: Body, entry: Entry) -> dict[str, Any]:
    event = {**_said(entry), "what": entry.payload["what"], "note": entry.payload.get("note")}
    after = {**body, "events": [*body["events"], event]}
    if entry.payload["what"] in ("lent", "back"):
        after["lent_to"] = entry.payload.get("note") or "" if entry.payload["what"] == "lent" else None
    if entry.payload.get("due"):
        after["next_due"] = entry.payload["due"]
    return after


def _retired(body: Body, entry: Entry) -> dict[str, Any]:
    return {**_noted(body, entry, "retired"), "is_retired": True}


def _returned(body: Body, entry: Entry) -> dict[str, Any]:
    return {**_noted(body, entry, "returned"), "is_retired": False}


def _quarantined(body: Body, entry: Entry) -> dict[str, Any]:
    since = day_there(entry.at, entry.offset_minutes)
    said = {"since": since, "note": entry.payload.get("note"), "record": entry.payload.get("record")}
    return {**_noted(body, entry, "quarantined"), "quarantine": said}


def _released(body: Body, entry: Entry) -> dict[str, Any]:
    return {**_noted(body, entry, "released"), "quarantine": None}


def _checked(body: Body, entry: Entry) -> dict[str, Any]:
    """In the order of their days: one kept late from a file does not go over a newer one."""
    kept = [*body["checks"], {"number": entry.number, **entry.payload}]
    checks = sorted(kept, key=lambda check: (check["day"], check["number"]))
    is_latest = checks[-1]["number"] == entry.number
    return {
        **body,
        "checks": checks,
        "next_due": entry.payload.get("next_due") if is_latest else body["next_due"],
    }


def _noted(body: Body, entry: Entry, what: str) -> dict[str, Any]:
    said = {"what": what, "note": entry.payload.get("note"), "record": entry.payload.get("record")}
    return {**body, "events": [*body["events"], {**_said(entry), **said}]}


def _said(entry: Entry) -> dict[str, Any]:
    return {"number": entry.number, "at": entry.at, "offset_minutes": entry.offset_minutes, "who": entry.who}


TOOL_FOLDS: dict[str, Fold] = {
    Kind.TOOL_ADDED: _written,
    Kind.TOOL_CHANGED: _written,
    Kind.TOOL_EVENT: _event,
    Kind.TOOL_RETIRED: _retired,
    Kind.TOOL_RETURNED: _returned,
    Kind.TOOL_CHECKED: _checked,
    Kind.QUARANTINED: _quarantined,
    Kind.RELEASED: _released,
}


def tool_state(body: Body) -> str:
    """One word: retired, quarantined, the verdict of the last check, or unchecked."""
    if body["is_retired"]:
        return "retired"
    if body["quarantine"] is not None:
        return "quarantined"
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
