"""What the set-up page of a check asks, and what stands in its fields."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from steelyard.desk.bench import setup_payload
from steelyard.desk.hanging import Hanging, planned_hanging
from steelyard.desk.kits import LOADED, SETUP_COLUMNS, here, offered_setup
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.typed_table import typed_again
from steelyard.errors import InputRefused, NotFound
from steelyard.records import Subject
from steelyard.tools import Kind as ToolKind


@dataclass(frozen=True)
class SetupFields:
    """The set-up of one check.

    sort: of the rig. names: of the fields to be asked. values: what stands in them.
    hangs: something hangs, so cautions are shown. is_indicating: the tool shows a torque; is_set: it is set
    on a scale. points: of the plan. masses: names of the shop's marked masses; scales: of its scales.
    planned: what must hang at each point, as far as kit and tool are known, the tool zeroed in place where
    nobody said yet; then planned_not_zeroed is the same of one that is not, its own weight acting. Empty
    where that cannot be reckoned, or no load is asked.
    """

    rig: Body
    sort: str
    names: tuple[str, ...]
    values: Mapping[str, str]
    hangs: bool
    is_indicating: bool
    is_set: bool
    points: tuple[Mapping[str, Any], ...]
    masses: tuple[str, ...]
    scales: tuple[str, ...]
    planned: tuple[Hanging, ...] = ()
    planned_not_zeroed: tuple[Hanging, ...] = ()

    @property
    def asks_loads(self) -> bool:
        """The load is known beforehand, so it is asked for each point."""
        return self.hangs and self.is_indicating


def setup_fields(ledger: Ledger, body: Body) -> SetupFields:
    """The fields for the rig that was chosen; what was said before goes over what is usual.

    Raises NotFound where the rig is gone.
    """
    rig = ledger.document(Subject.RIG.named(body["choice"]["rig"] or ""))
    tool = ledger.document(Subject.TOOL.named(body["tool"]))
    if rig is None or tool is None:
        raise NotFound(f"rig {body['choice']['rig']}")
    sort, kind, shelf = str(rig["sort"]), ToolKind(tool["tool"]["kind"]), here(ledger)
    columns = SETUP_COLUMNS[sort]
    said = body["setup"] or {}
    before = {**offered_setup(sort, rig, tool), **(said.get("form", {}).get("kit", {}))}
    fields = SetupFields(
        rig=rig,
        sort=sort,
        names=tuple(column.name for column in columns),
        values={**typed_again(before, columns), **_handling(said, tool), **_loads(said)},
        hangs=sort in LOADED,
        is_indicating=kind.is_indicating,
        is_set=kind.is_adjustable,
        points=tuple(body["choice"]["points"]),
        masses=tuple(str(mass["table"]["name"]) for mass in shelf.masses),
        scales=tuple(str(scale["table"]["name"]) for scale in shelf.scales),
    )
    if not fields.asks_loads:
        return fields
    zeroed = fields.values["zeroed_tool"]
    return replace(
        fields,
        planned=_planned(ledger, body, fields, zeroed=zeroed or "yes"),
        planned_not_zeroed=() if zeroed else _planned(ledger, body, fields, zeroed="no"),
    )


def _planned(ledger: Ledger, body: Body, fields: SetupFields, *, zeroed: str) -> tuple[Hanging, ...]:
    try:
        form = setup_payload(ledger, body, {**fields.values, "zeroed_tool": zeroed})["form"]
        return planned_hanging({"steelyard_check": 1, "date": body["day"], **form}, fields.points)
    except InputRefused:
        return ()


def _handling(said: Mapping[str, Any], tool: Body) -> dict[str, str]:
    """How the tool is handled and how warm the room is, as said before or as the tool says."""
    form = said.get("form", {})
    table = form.get("tool", tool["tool"])
    values = {
        "zeroed_tool": "yes" if table.get("zeroed") else "no" if said else "",
        "set_each_time": "yes" if table.get("set_each_time") else "no",
        "load_time": form.get("load_time", ""),
    }
    place = form.get("place", {})
    return values | {name: place.get(name, "") for name in ("room_temperature", "room_change")}


def _loads(said: Mapping[str, Any]) -> dict[str, str]:
    points = said.get("points", [])
    return {f"load_{i}": str(point["load"]) for i, point in enumerate(points) if point.get("load")}
