"""The rigs of a shop: added, changed, sold, and how long their papers last."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from enum import StrEnum
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.kits import SORTS, TRANSDUCER, Shelf, here
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.rig_table import marked_rig, rig_table, still_reads
from steelyard.desk.standing import standing
from steelyard.desk.usual import DUE_SOON
from steelyard.desk.workshop import settings
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.records import Draft, Fields, Kind, Subject, subject_name


class PaperState(StrEnum):
    """What the paper of a rig is worth today.

    NOT_ASKED: no transducer. NONE: without a paper. NO_NUMBER: a paper without a certificate's number.
    NO_END: no day on which it runs out. SOON: within `DUE_SOON`. OVER: it has run out. GOOD: none of these.
    """

    NOT_ASKED = "not-asked"
    NONE = "none"
    NO_NUMBER = "no-number"
    NO_END = "no-end"
    SOON = "soon"
    OVER = "over"
    GOOD = "good"


def rig_body(ledger: Ledger, rig: str) -> Body:
    """The document of a rig. Raises NotFound."""
    return standing(ledger, Subject.RIG, rig)


def add_rig(acting: Acting, sort: str, typed: Mapping[str, str]) -> str:
    """Keep a new rig; returns its id.

    sort, typed: as in `rig_table`. Raises NotFound for another sort, InputRefused with the field.
    """
    if sort not in SORTS:
        raise NotFound(f"rig {sort}")
    shelf = here(acting.ledger)
    payload = _payload(acting, sort, typed, shelf)
    namesake = rig_namesake(shelf, payload)
    seen = {Subject.RIG.named(namesake["id"]): 0} if namesake is not None else None
    try:  # refused, unless this very submission wrote it before: then the answer of then
        entries = acting.write(
            Draft(Kind.RIG_ADDED, Subject.RIG.named(acting.dice.name()), payload), seen=seen
        )
    except Conflict:
        raise InputRefused("name", payload["table"]["name"], "want-rig-own-name") from None
    return subject_name(entries[0].subject)


def change_rig(acting: Acting, rig: str, typed: Mapping[str, str], seen: int | None) -> None:
    """Write a rig anew; one that was sold is here again.

    seen: last entry that was known of it. Raises NotFound, Conflict, InputRefused with the field.
    """
    body = acting.body(Subject.RIG, rig)
    others = without(here(acting.ledger), rig)
    payload = _payload(acting, body["sort"], typed, others)
    if rig_namesake(others, payload) is not None:
        raise InputRefused("name", payload["table"]["name"], "want-rig-own-name")
    refuse_if_hanging(body, joined(others, {**body, **payload}), "name")
    _write(acting, Draft(Kind.RIG_CHANGED, Subject.RIG.named(rig), payload), seen)


def sell_rig(acting: Acting, rig: str, typed: Mapping[str, str], seen: int | None) -> None:
    """It is no longer here; what was checked with it keeps its copy.

    typed: `note`, optional. Raises NotFound, Conflict, InputRefused where it always hangs from another one.
    """
    body = acting.body(Subject.RIG, rig)
    note = _text(typed, "note")
    refuse_if_hanging(body, without(here(acting.ledger), rig), "note")
    _write(acting, Draft(Kind.RIG_SOLD, Subject.RIG.named(rig), {"note": note} if note else {}), seen)


def paper_state(body: Body, today: date) -> PaperState:
    """What the paper of a rig is worth on a day."""
    if body["sort"] != TRANSDUCER:
        return PaperState.NOT_ASKED
    paper = body["table"].get("paper")
    if paper is None:
        return PaperState.NONE
    due = Fields(paper, place="").day("due")
    if due is not None and due < today:
        return PaperState.OVER
    if not paper.get("certificate"):
        return PaperState.NO_NUMBER
    if due is None:
        return PaperState.NO_END
    return PaperState.SOON if due - today <= DUE_SOON else PaperState.GOOD


def without(shelf: Shelf, rig: str) -> Shelf:
    """The shelf with one rig taken off."""
    return Shelf(*(tuple(body for body in group if body["id"] != rig) for group in _groups(shelf)))


def _groups(shelf: Shelf) -> tuple[tuple[Body, ...], ...]:
    return shelf.scales, shelf.masses, shelf.arms, shelf.drums, shelf.transducers


def joined(shelf: Shelf, body: Body) -> Shelf:
    """The shelf with a rig put on it."""
    if body["sort"] == "scale":
        return replace(shelf, scales=(*shelf.scales, body))
    return replace(shelf, masses=(*shelf.masses, body)) if body["sort"] == "mass" else shelf


def _payload(acting: Acting, sort: str, typed: Mapping[str, str], shelf: Shelf) -> dict[str, Any]:
    said = settings(acting.ledger)
    marked = marked_rig(sort, typed, said.reads_by)
    table = rig_table(sort, marked, torque_unit=said.unit, shelf=shelf)
    return {"sort": sort, "table": table, "notes": _text(typed, "notes")}


def _text(typed: Mapping[str, str], field: str) -> str | None:
    return Fields({field: typed[field]} if typed.get(field, "").strip() else {}, place="").text(field)


def rig_namesake(shelf: Shelf, payload: Mapping[str, Any]) -> Body | None:
    """The rig on a shelf that has the name of a table already; case does not tell two apart."""
    name = payload["table"]["name"].casefold()
    return next((body for body in shelf.everything if body["table"]["name"].casefold() == name), None)


def refuse_if_hanging(body: Body, after: Shelf, field: str) -> None:
    """Raise where a rig from which something always hangs could not be read any more afterwards."""
    for other in (*after.arms, *after.drums):
        if other["table"].get("always") and not still_reads(other, after):
            raise InputRefused(field, None, "want-rig-not-hanging", rig=other["table"]["name"])


def _write(acting: Acting, draft: Draft, seen: int | None) -> None:
    acting.write(draft, seen={draft.subject: seen} if seen is not None else None)
