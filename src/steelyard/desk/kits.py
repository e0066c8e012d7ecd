"""From the rigs of a shop to the table [kit] of a check: what is joined, what is asked when it is set up."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.desk.ports import Body, Find, Ledger, Wanted
from steelyard.desk.typed_table import Column, typed_table
from steelyard.records import Subject, standing_weighing
from steelyard.tools import Kind as ToolKind

SCALE, MASS, HUNG_WEIGHT, DRUM, TRANSDUCER = SORTS = ("scale", "mass", "hung-weight", "drum", "transducer")
LOADED = (HUNG_WEIGHT, DRUM)
KITS = (*LOADED, TRANSDUCER)
AT_ONCE = 200
ALWAYS_ASKED = ("axis", "zeroed")  # an answer nobody gave must not go on record
FALLS_AFTER_ITS_CLICK = {
    ToolKind.CLICK_ADJUSTABLE,
    ToolKind.CLICK_PRESET,
    ToolKind.CLICK_NO_SCALE,
    ToolKind.SPLIT_BEAM,
    ToolKind.BREAK_OVER,
}

_HANGING = (Column("always", "text"), Column("dribble", "g"))
SETUP_COLUMNS: Mapping[str, tuple[Column, ...]] = {
    HUNG_WEIGHT: (Column("arm", "mm"), Column("droop", "°"), Column("drop", "mm"), *_HANGING),
    DRUM: _HANGING,
    TRANSDUCER: (
        Column("axis", "text"),
        Column("zeroed", "text"),
        Column("pull", "text"),
        Column("mode", "text"),
        Column("zero_reading", "torque"),
    ),
}


@dataclass(frozen=True)
class Shelf:
    """The rigs a shop has, sold ones left out; each in the order of its name."""

    scales: tuple[Body, ...]
    masses: tuple[Body, ...]
    arms: tuple[Body, ...]
    drums: tuple[Body, ...]
    transducers: tuple[Body, ...]

    @property
    def kits(self) -> tuple[Body, ...]:
        """What can be a kit on its own, with the scales and masses beside it."""
        return (*self.arms, *self.drums, *self.transducers)

    @property
    def everything(self) -> tuple[Body, ...]:
        """All of them."""
        return (*self.scales, *self.masses, *self.kits)


def here(ledger: Ledger) -> Shelf:
    """The rigs that are not sold."""
    return shelf_found(ledger.documents)


def shelf_found(find: Find, *, state: str = "here") -> Shelf:
    """The rigs in a state. find: looks them up, perhaps within a transaction."""
    found: dict[str, list[Body]] = {sort: [] for sort in SORTS}
    for body in _rigs(find, state):
        found[body["sort"]].append(body)
    return Shelf(*(tuple(found[sort]) for sort in SORTS))


def sold(ledger: Ledger) -> Shelf:
    """The rigs that are no longer here."""
    return shelf_found(ledger.documents, state="sold")


def _rigs(find: Find, state: str) -> Iterator[Body]:
    after: str | None = None
    while True:
        listed = find(Wanted(Subject.RIG, states=(state,), after=after, most=AT_ONCE))
        yield from (item.body for item in listed)
        if len(listed) < AT_ONCE:
            return
        after = listed[-1].key


def kit_table(
    rig_body: Body, *, scales: Sequence[Body], masses: Sequence[Body], setup: Mapping[str, Any]
) -> dict[str, Any]:
    """The table [kit] of the check form.

    scales, masses: all the shop has; they are joined to a kit on which something hangs.
    setup: as `setup_table` makes it; goes over the rig's own, and an empty text takes the rig's own away.
    """
    sort = rig_body["sort"]
    table: dict[str, Any] = {"kind": sort, **rig_body["table"], **setup}
    if sort in LOADED:
        table["scale"] = [dict(body["table"]) for body in scales]
        table["mass"] = [_as_weighed(body) for body in masses]
    return {name: value for name, value in table.items() if value not in ("", [])}


def _as_weighed(mass: Body) -> dict[str, Any]:
    """The table of a mass; of one whose weighing stands, with the scale it was weighed on."""
    weighing = standing_weighing(mass)
    on = {"weighed_on": weighing["scale_name"]} if weighing is not None else {}
    return {**mass["table"], **on}


def setup_table(sort: str, typed: Mapping[str, str], *, torque_unit: str) -> dict[str, Any]:
    """What was said when a rig was set up; a field that was shown and left empty stays as an empty text."""
    columns = SETUP_COLUMNS[sort]
    emptied = {column.name: "" for column in columns if typed.get(column.name, "-").strip() == ""}
    return {**emptied, **typed_table(typed, columns, torque_unit=torque_unit)}


def usual_setup(sort: str, rig_body: Body, tool_body: Body) -> dict[str, Any]:
    """What stands in before the set-up is made: texts as typed.

    Arm: the rig's own, else the tool's grip mark; left out where neither is there. A transducer stands with
    its axis upright and is zeroed with the tool on, so that the tool's own weight does not act; a click is
    caught at its first peak, what is shown is followed.
    """
    own, tool = rig_body["table"], tool_body["tool"]
    if sort == HUNG_WEIGHT:
        arm = own.get("arm") or tool.get("grip_mark")
        usual = {"arm": arm, "always": own.get("always")}
        return {name: text for name, text in usual.items() if text}
    if sort == DRUM:
        return {"always": own["always"]} if own.get("always") else {}
    return {"axis": "vertical", "zeroed": "with-tool", "mode": _mode(ToolKind(tool["kind"]))}


def offered_setup(sort: str, rig_body: Body, tool_body: Body) -> dict[str, Any]:
    """What stands in the fields of a set-up nobody has made yet: as usual, but axis and zero are asked."""
    usual = usual_setup(sort, rig_body, tool_body)
    return {name: text for name, text in usual.items() if name not in ALWAYS_ASKED}


def _mode(kind: ToolKind) -> str:
    if kind in FALLS_AFTER_ITS_CLICK:
        return "first-peak"
    return "track" if kind.is_indicating else "peak"


def fits(rig_body: Body, tool_body: Body) -> bool:
    """The rig can be a kit for this kind of tool: a drum for drivers only, an arm for all but drivers."""
    sort, is_driver = rig_body["sort"], ToolKind(tool_body["tool"]["kind"]).is_driver
    return sort == TRANSDUCER or (sort == DRUM and is_driver) or (sort == HUNG_WEIGHT and not is_driver)
