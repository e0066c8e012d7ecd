"""What a shop measures with: scales, marked masses, arms, drums, transducers."""

from typing import Any

from steelyard.records.entry import Entry
from steelyard.records.kinds import Kind
from steelyard.records.listing import Body, Fold, Listing, natural, searchable


def _written(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "state": "here", **entry.payload}


def _sold(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "state": "sold", "why_sold": entry.payload.get("note")}


RIG_FOLDS: dict[str, Fold] = {Kind.RIG_ADDED: _written, Kind.RIG_CHANGED: _written, Kind.RIG_SOLD: _sold}


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
