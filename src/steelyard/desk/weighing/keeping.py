"""A weighing is kept: a new mass, one that was weighed anew, a scale that was checked with water."""

from collections.abc import Mapping
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.kits import MASS, SCALE, Shelf, here
from steelyard.desk.ports import Body
from steelyard.desk.rig_table import rig_table, typed_rig
from steelyard.desk.rigs import joined, refuse_if_hanging, rig_namesake, without
from steelyard.desk.weighing.ways import WEIGH_FIELDS, weigh
from steelyard.desk.weighing.weighed import WeighedMass, Weighing
from steelyard.desk.workshop import settings
from steelyard.errors import Conflict, InputRefused
from steelyard.records import Draft, Kind, Subject, subject_name

NOT_MARKED = {"class": "", "casting": ""}
"""What was believed of a mass before it was weighed."""


def keep_weighing(
    acting: Acting, way: str, typed: Mapping[str, str], seen: int | None = None
) -> tuple[str, ...]:
    """Write what a weighing gave into the rigs, with all that was read off the scale; returns their ids.

    typed: as in `weigh`; for a new mass by difference or in placements `name` besides.
    seen: last entry that was known of the mass that is weighed anew, or of the scale that was checked.
    Raises NotFound, Conflict; InputRefused with the field, `name` where a new mass has none or another rig
        has it.
    """
    weighing = weigh(acting.ledger, way, typed)
    shelf = here(acting.ledger)
    if weighing.checked is not None:
        return _written(acting, _scale_drafts(acting, weighing, shelf), seen)
    drafts = _mass_drafts(acting, weighing, typed, shelf)
    namesakes = [same for draft in drafts if (same := _namesake(shelf, draft)) is not None]
    if not namesakes:
        return _written(acting, drafts, seen)
    try:  # refused, unless this very submission wrote it before: then the answer of then
        return _written(acting, drafts, 0, namesakes[0])
    except Conflict:
        raise InputRefused("name", namesakes[0]["table"]["name"], "want-rig-own-name") from None


def _namesake(shelf: Shelf, draft: Draft) -> Body | None:
    return rig_namesake(shelf, draft.payload) if draft.kind == Kind.RIG_ADDED else None


def _written(
    acting: Acting, drafts: tuple[Draft, ...], seen: int | None, rig: Body | None = None
) -> tuple[str, ...]:
    """Write them; seen: last entry known of `rig`, or of the one rig that all of them are about."""
    subjects = {draft.subject for draft in drafts} if rig is None else {Subject.RIG.named(rig["id"])}
    known = dict.fromkeys(subjects, seen) if seen is not None and len(subjects) == 1 else None
    entries = acting.write(*drafts, seen=known)
    return tuple(dict.fromkeys(subject_name(entry.subject) for entry in entries))


def _mass_drafts(
    acting: Acting, weighing: Weighing, typed: Mapping[str, str], shelf: Shelf
) -> tuple[Draft, ...]:
    drafts: list[Draft] = []
    field = "rows" if weighing.way == "combinations" else "name"
    for mass in weighing.masses:
        if mass.rig is not None:
            drafts.append(_anew(acting, weighing, mass, shelf))
            continue
        name = mass.name or typed.get("name", "")
        subject = Subject.RIG.named(acting.dice.name())
        try:
            table = _table(acting, MASS, {"name": name, "value": mass.stands}, shelf)
        except InputRefused as refused:
            at = field if refused.field == "name" else WEIGH_FIELDS[weighing.way][0]
            raise InputRefused(at, refused.given, refused.wanted, **refused.facts) from None
        drafts.append(Draft(Kind.RIG_ADDED, subject, {"sort": MASS, "table": table, "notes": None}))
        drafts.append(_draft(subject, weighing, mass.stands, table))
    return tuple(drafts)


def _anew(acting: Acting, weighing: Weighing, mass: WeighedMass, shelf: Shelf) -> Draft:
    if mass.rig is None:
        raise ValueError("nothing to weigh anew")
    body, unit = mass.rig, settings(acting.ledger).unit
    typed = {**typed_rig(body, torque_unit=unit), **NOT_MARKED, "value": mass.stands}
    table = _table(acting, MASS, typed, without(shelf, body["id"]))
    return _draft(Subject.RIG.named(body["id"]), weighing, mass.stands, table)


def _scale_drafts(acting: Acting, weighing: Weighing, shelf: Shelf) -> tuple[Draft, ...]:
    if weighing.checked is None:
        raise ValueError("no scale was checked")
    body, unit = weighing.scale, settings(acting.ledger).unit
    others = without(shelf, body["id"])
    gain = {"gain": weighing.checked.stands, "knows": "mass"}
    table = _table(acting, SCALE, {**typed_rig(body, torque_unit=unit), **gain}, others)
    refuse_if_hanging(body, joined(others, {**body, "table": table}), "full")
    return (_draft(Subject.RIG.named(body["id"]), weighing, weighing.checked.stands, table),)


def _table(acting: Acting, sort: str, typed: Mapping[str, str], shelf: Shelf) -> dict[str, Any]:
    """The table as a check reads it; what was worked out here reads one way, whatever the decimal mark."""
    return rig_table(sort, typed, torque_unit=settings(acting.ledger).unit, shelf=shelf)


def _draft(subject: str, weighing: Weighing, stands: str, table: Body) -> Draft:
    payload = {
        "way": weighing.way,
        "scale": weighing.scale["id"],
        "scale_name": weighing.scale["table"]["name"],
        "typed": dict(weighing.typed),
        "stands": stands,
        "table": dict(table),
    }
    return Draft(Kind.WEIGHED, subject, payload)
