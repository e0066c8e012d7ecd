"""Which points a check takes, and how many pulls at each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.desk.ports import Body
from steelyard.desk.typed_table import with_unit
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, Quantity, read_quantities
from steelyard.records import Fields, default_points, read_tool
from steelyard.tools import Tool

FULL, QUICK, OWN = "full", "quick", "own"
PLANS = (FULL, QUICK, OWN)
FULL_PULLS, QUICK_PULLS = 5, 3
MOST_POINTS, MOST_PULLS = 12, 100


@dataclass(frozen=True)
class Plan:
    """Targets in each direction, and the pulls at each.

    name: `full` (lowest, 60 %, 100 %; five pulls), `quick` (the highest alone, three pulls) or `own`.
    """

    name: str
    targets: tuple[Quantity, ...]
    directions: tuple[str, ...]
    pulls: int

    def begins_with(self, points: Sequence[Mapping[str, Any]]) -> bool:
        """The points that were planned before are still the first of this plan, pulls apart."""
        ours = [(p["target"], p["direction"]) for p in planned_points(self)]
        return ours[: len(points)] == [(p["target"], p["direction"]) for p in points]


def read_plan(typed: Mapping[str, str], tool: Body, *, unit: str, decimal_mark: str | None = None) -> Plan:
    """The plan a person chose.

    decimal_mark: of the workshop, None where it never said one.

    Raises InputRefused with the field `plan`, `targets` or `pulls`.
    """
    name = typed.get("plan", "").strip() or FULL
    if name not in PLANS:
        raise InputRefused("plan", name, "want-one-of", names=", ".join(PLANS))
    read = read_tool(Fields(tool["tool"], place=""))
    if name == QUICK:
        return Plan(name, (read.highest,), read.directions[:1], QUICK_PULLS)
    if name == FULL:
        usual = tuple(dict.fromkeys(point.target for point in default_points(read)))
        return Plan(name, usual, read.directions, FULL_PULLS)
    return _own(typed, read, unit, decimal_mark)


def _own(typed: Mapping[str, str], tool: Tool, unit: str, decimal_mark: str | None) -> Plan:
    lowest, highest = tool.lowest, tool.highest
    text = typed.get("targets", "").strip()
    if not text:
        raise InputRefused("targets", None, "want-unit", example=f"20; 60; 100 {unit}")
    targets = read_quantities(
        with_unit(text, unit),
        Dimension.TORQUE,
        field="targets",
        decimal_mark=decimal_mark,
        largest=highest.exact,
    )
    if len(targets) > MOST_POINTS:
        raise InputRefused("targets", text, "want-fewer-values", most=MOST_POINTS)
    if len({target.exact for target in targets}) < len(targets):
        raise InputRefused("targets", text, "want-new-point")
    for target in targets:
        if not lowest.exact <= target.exact <= highest.exact:
            facts = {"lowest": lowest.typed, "highest": highest.typed}
            raise InputRefused("targets", target.typed, "want-target-in-range", **facts)
    pulls = typed.get("pulls", "").strip() or str(FULL_PULLS)
    if not (pulls.isascii() and pulls.isdigit() and 2 <= int(pulls) <= MOST_PULLS):
        raise InputRefused("pulls", pulls, "want-whole", least=2, most=MOST_PULLS)
    return Plan(OWN, targets, tool.directions, int(pulls))


def planned_points(plan: Plan) -> list[dict[str, Any]]:
    """The points as tables of the check form, direction by direction, rising as typed."""
    return [
        {"target": target.typed, "direction": direction, "planned_pulls": plan.pulls}
        for direction in plan.directions
        for target in plan.targets
    ]
