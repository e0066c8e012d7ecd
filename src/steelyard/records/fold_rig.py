"""What a shop measures with: scales, marked masses, arms, drums, transducers."""

from typing import Any

from steelyard.records.entry import Entry, who_and_when
from steelyard.records.kinds import Kind
from steelyard.records.listing import Body, Fold, Listing, natural, searchable


def _written(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "state": "here", **entry.payload}


def _sold(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "state": "sold", "why_sold": entry.payload.get("note")}


def _weighed(body: Body, entry: Entry) -> dict[str, Any]:
    said = {name: entry.payload[name] for name in ("way", "scale", "scale_name", "typed", "stands")}
    weighings = [*body.get("weighings", []), {**who_and_when(entry), **said}]
    return {**body, "state": "here", "table": entry.payload["table"], "weighings": weighings}


RIG_FOLDS: dict[str, Fold] = {
    Kind.RIG_ADDED: _written,
    Kind.RIG_CHANGED: _written,
    Kind.RIG_SOLD: _sold,
    Kind.WEIGHED: _weighed,
}


def standing_weighing(body: Body) -> Body | None:
    """The last weighing of a mass, or check of a scale, where what it gave still stands in the table."""
    last = body["weighings"][-1] if body.get("weighings") else None
    known = (body["table"].get("value"), body["table"].get("gain"))
    return last if last is not None and last["stands"] in known else None


def rig_listing(body: Body) -> Listing:
    """In the order of their names; due is the day on which a paper runs out.

    The document has `sort` (scale, mass, hung-weight, drum or transducer) and `table`, as in the check form.
    """
    name = str(body["table"].get("name", ""))
    paper = body["table"].get("paper") or {}
    return Listing(
        key=f"{body['sort']} {natural(name)}",
        state=body["state"],
        due=paper.get("due"),
        words=searchable(name, body["sort"]),
    )
