"""The points of a check in a file, as the entries of a check keep them."""

from collections.abc import Iterator, Mapping
from datetime import date, time
from typing import Any

from steelyard.desk.kits import LOADED
from steelyard.quantities import Dimension, read_quantities
from steelyard.tools import Kind as ToolKind

LARGEST_WHOLE = 2**53 - 1
"""Beyond it a whole number of JSON is not exact (RFC 8785, 3.2.2.3)."""


def planned_point(table: Mapping[str, Any], point: Mapping[str, Any]) -> dict[str, Any]:
    """The point as it is planned: without its pulls, which are as many as were meant."""
    kept = {key: value for key, value in point.items() if key != "pulls"}
    direction = table["tool"].get("directions", ["cw"])[0]
    return {"direction": direction, "planned_pulls": len(pull_texts(table, point)), **kept}


def kept_pulls(
    table: Mapping[str, Any], point: Mapping[str, Any], *, place: int, phase: str
) -> Iterator[dict[str, Any]]:
    """Every pull of a point as it is kept. place: of the point in the plan."""
    for written in pull_texts(table, point):
        pull = {key: value for key, value in written.items() if key != "struck_out"}
        struck = written.get("struck_out")
        yield {"phase": phase, "point": place, "pull": pull, "struck_out": struck}


def pull_texts(table: Mapping[str, Any], point: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The pulls one by one, in the words of the form; a row of values is taken apart."""
    weighs = table["kit"]["kind"] in LOADED and not ToolKind(table["tool"]["kind"]).is_indicating
    pulls = point["pulls"]
    if isinstance(pulls, str):
        row = read_quantities(pulls, Dimension.MASS if weighs else Dimension.TORQUE, field="pulls")
        pulls = [quantity.typed for quantity in row]
    name = "bucket" if weighs else "reading"
    return [{name: pull} if isinstance(pull, str) else dict(pull) for pull in pulls]


def plain(value: Any) -> Any:
    """A table of a file in JSON types: dates and numbers with a point as the texts they were."""
    if isinstance(value, Mapping):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, float) or (isinstance(value, int) and abs(value) > LARGEST_WHOLE):
        return repr(value)
    return value
