"""The workshop itself: its name, place, unit, and the people in it."""

from typing import Any

from steelyard.records.entry import Entry, who_and_when
from steelyard.records.kinds import Kind
from steelyard.records.listing import Body, Fold, Listing


def _set(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "settings": {**body.get("settings", {}), **entry.payload}}


def _person_added(body: Body, entry: Entry) -> dict[str, Any]:
    person = {"key": entry.payload["key"], "digest": entry.payload["digest"], "is_forgotten": False}
    if entry.payload.get("is_borrower"):
        person["is_borrower"] = True
    return {**body, "people": [*body.get("people", []), person]}


def _person_forgotten(body: Body, entry: Entry) -> dict[str, Any]:
    gone = entry.payload["key"]
    people = [{**p, "is_forgotten": p["is_forgotten"] or p["key"] == gone} for p in body.get("people", [])]
    return {**body, "people": people}


def _record_numbered(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "records": entry.payload["record"]}


def _key_made(body: Body, entry: Entry) -> dict[str, Any]:
    """The keys this workshop signed with, the present one last."""
    return {**body, "keys": [*body.get("keys", []), {**who_and_when(entry), **entry.payload}]}


def _key_accepted(body: Body, entry: Entry) -> dict[str, Any]:
    """A key of somebody else, under the name by which it is known here; the name given last stands."""
    return {**body, "others": [*_others_but(body, entry), {**who_and_when(entry), **entry.payload}]}


def _key_dropped(body: Body, entry: Entry) -> dict[str, Any]:
    return {**body, "others": _others_but(body, entry)}


def _others_but(body: Body, entry: Entry) -> list[Body]:
    return [other for other in body.get("others", []) if other["public"] != entry.payload["public"]]


WORKSHOP_FOLDS: dict[str, Fold] = {
    Kind.WORKSHOP_SET: _set,
    Kind.PERSON_ADDED: _person_added,
    Kind.PERSON_FORGOTTEN: _person_forgotten,
    Kind.RECORD_NUMBERED: _record_numbered,
    Kind.KEY_MADE: _key_made,
    Kind.KEY_ACCEPTED: _key_accepted,
    Kind.KEY_DROPPED: _key_dropped,
}


def workshop_listing(body: Body) -> Listing:
    """There is one of it."""
    return Listing(key="", state="set" if body.get("settings") else "new")
