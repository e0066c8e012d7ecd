"""Rigs of a table that comes in: each row read as the form of a new rig, beside those above it."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from steelyard.desk.kits import DRUM, HUNG_WEIGHT, MASS, SCALE, SORTS, TRANSDUCER, Shelf, shelf_found
from steelyard.desk.ports import Body, Dice, Find
from steelyard.desk.rig_table import marked_rig, rig_table, typed_rig
from steelyard.desk.rigs import rig_namesake
from steelyard.desk.tools_in import Take, new_name
from steelyard.desk.workshop import USUAL_UNIT, Settings
from steelyard.errors import InputRefused
from steelyard.records import Draft, Fields, Kind, Subject

PLACES = {
    SCALE: "scales", MASS: "masses", HUNG_WEIGHT: "arms", DRUM: "drums", TRANSDUCER: "transducers"
}  # fmt: skip
"""Where each sort stands on a shelf."""
SOLD = "sold"
MOST_RIGS = 2000
"""In one table: each is held against all the others."""


def rigs_taken(find: Find, said: Settings, dice: Dice) -> Take:
    """Takes rigs one after the other; what always hangs from one must stand above it, or be there already.

    Raises InputRefused for a name that is in use.
    """
    shelf, gone = shelf_found(find), shelf_found(find, state=SOLD)
    names = {str(body["id"]) for body in (*shelf.everything, *gone.everything)}
    taken = 0

    def take(_row: int, typed: Mapping[str, str]) -> Draft | None:
        nonlocal shelf, taken
        payload = _payload(typed, said, shelf)
        if typed.get("state") == SOLD:
            if any(_is_same(body, payload) for body in gone.everything):
                return None
            raise InputRefused("state", SOLD, "want-row-in-use")
        namesake = rig_namesake(shelf, payload)
        if namesake is not None:
            if _is_same(namesake, payload):
                return None
            raise InputRefused("name", payload["table"]["name"], "want-rig-own-name")
        taken += 1
        if taken > MOST_RIGS:
            raise InputRefused("name", payload["table"]["name"], "want-fewer-rows", most=MOST_RIGS)
        name = new_name(dice, names)
        shelf = _on_shelf(shelf, {"id": name, **payload})
        return Draft(Kind.RIG_ADDED, Subject.RIG.named(name), payload)

    return take


def _is_same(body: Body, payload: Mapping[str, Any]) -> bool:
    """A person would type the same of both."""
    return body["sort"] == payload["sort"] and _typed(body) == _typed(payload)


def _typed(body: Body) -> dict[str, str]:
    return typed_rig(body, torque_unit=USUAL_UNIT)


def _payload(typed: Mapping[str, str], said: Settings, shelf: Shelf) -> dict[str, Any]:
    sort = typed.get("sort", "")
    if sort not in SORTS:
        raise InputRefused("sort", sort or None, "want-one-of", names=", ".join(SORTS))
    table = rig_table(sort, marked_rig(sort, typed, said.reads_by), torque_unit=said.unit, shelf=shelf)
    notes = Fields({"notes": typed["notes"]} if typed.get("notes") else {}, place="").text("notes")
    return {"sort": sort, "table": table, "notes": notes}


def _on_shelf(shelf: Shelf, body: Body) -> Shelf:
    """The shelf with one rig more; it shares what stood there."""
    place = PLACES[body["sort"]]
    return replace(shelf, **{place: (*getattr(shelf, place), body)})
