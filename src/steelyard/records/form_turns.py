"""The tables [[turn]] of the check form: each turn of the adjuster, the lock, and what was read after it."""

from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.errors import InputRefused
from steelyard.records.fields import Fields
from steelyard.records.form_points import PointForm, read_points
from steelyard.records.kit import Kit
from steelyard.records.turn_size import MOST_TURNS, read_turns
from steelyard.tools import Tool

WAYS = ["in", "out", "other"]


@dataclass(frozen=True)
class TurnForm:
    """A turn, a lock, or a turn and then the lock, with what was read after it.

    turns, way: as written; None where the adjuster was only locked. is_locked: locked before the pulls.
    points: with their pulls; places: where each stands among the points of the check.
    """

    turns: str | None
    way: str | None
    is_locked: bool
    note: str | None
    points: tuple[PointForm, ...]
    places: tuple[int, ...]


def read_turn_tables(
    fields: Fields, tool: Tool, kit: Kit, points: Sequence[PointForm]
) -> tuple[TurnForm, ...]:
    """All turns in their order; a point of a turn is one of the check.

    Raises InputRefused with the field.
    """
    found: list[TurnForm] = []
    for table in fields.tables("turn"):
        found.append(_turn(table, tool, kit, points, is_first=not found))
    return tuple(found)


def _turn(fields: Fields, tool: Tool, kit: Kit, points: Sequence[PointForm], *, is_first: bool) -> TurnForm:
    is_locked = fields.flag("locked") or False
    turns = fields.text("turns")
    if turns is None and (is_first or not is_locked):
        raise InputRefused(fields.name("turns"), None, "want-turns", most=MOST_TURNS)
    way = fields.choice("way", str, WAYS)
    if turns is not None and way is None:
        raise InputRefused(fields.name("way"), None, "want-one-of", names=", ".join(WAYS))
    if turns is not None and way != WAYS[-1]:
        read_turns(turns, field=fields.name("turns"))
    read = read_points(fields, tool, kit) if fields.has("point") else ()
    known = [(point.target.exact, point.direction) for point in points]
    for point in read:
        if (point.target.exact, point.direction) not in known:
            raise InputRefused(fields.name("point"), point.name, "want-planned-point")
        if not point.pulls:
            raise InputRefused(fields.name("point"), point.name, "want-pulls")
    places = tuple(known.index((point.target.exact, point.direction)) for point in read)
    note = fields.text("note")
    fields.end()
    return TurnForm(turns, way if turns is not None else None, is_locked, note, read, places)
