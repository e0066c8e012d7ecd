"""Figures of a kept content in the units a person typed; nothing is judged anew."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.at_a_glance import four_digits
from steelyard.desk.kits import LOADED
from steelyard.evaluation import Verdict, deciding_point
from steelyard.quantities import UNITS, Dimension, read_quantity
from steelyard.readings.threshold import Sides
from steelyard.tools import Kind as ToolKind


@dataclass(frozen=True)
class PointFigures:
    """A point in the unit of its target.

    places: decimals that four digits of the target need. is_load_known: the tool showed, at a torque that
    was known.
    true: torque of the first pull by the kit. pulls: each by the kit, or as the tool showed it.
    """

    unit: str
    places: int
    is_load_known: bool
    mean: float
    spread: float
    first: float
    trend: float
    true: float
    pulls: tuple[float, ...]


def point_figures(point: Mapping[str, Any], content: Mapping[str, Any]) -> PointFigures:
    """A point of a kept content, its torques in the unit of the target."""
    target = read_quantity(point["target"], Dimension.TORQUE, field="target")
    factor = float(target.unit.factor)
    is_load_known = content["kit"]["kind"] in LOADED and ToolKind(content["tool"]["kind"]).is_indicating
    counted = [pull for pull in point["pulls"] if pull["counted"]]
    name = "shown_newton_metre" if is_load_known else "torque_newton_metre"
    return PointFigures(
        unit=target.unit.symbol,
        places=four_digits(target),
        is_load_known=is_load_known,
        mean=point["mean_newton_metre"] / factor,
        spread=point["spread_newton_metre"] / factor,
        first=point["first_pull_error_newton_metre"] / factor,
        trend=point["trend_newton_metre_per_pull"] / factor,
        true=counted[0]["torque_newton_metre"] / factor,
        pulls=tuple(pull[name] / factor for pull in point["pulls"]),
    )


def content_unit(content: Mapping[str, Any]) -> str:
    """Symbol of the unit of the first target."""
    return read_quantity(content["points"][0]["target"], Dimension.TORQUE, field="target").unit.symbol


def in_unit(torque_newton_metre: float, unit: str) -> float:
    """A torque in a unit, without the dust of the conversion."""
    return float(f"{torque_newton_metre / float(UNITS[Dimension.TORQUE][unit].factor):.10g}")


def is_estimated(point: Mapping[str, Any]) -> bool:
    """A kept point has a deviation; from one side alone, all clicks or none, there is only a bound."""
    threshold = point.get("threshold")
    return threshold is None or Sides(threshold["sides"]) in (Sides.SEPARATED, Sides.MIXED)


def used_up_percent(point: Mapping[str, Any]) -> float | None:
    """(|d| + U)/limit of a kept point; None where no limit applies. [%]"""
    if point["limit_percent"] is None:
        return None
    counted = point["counted"]
    reach = abs(counted["deviation_percent"]) + counted["expanded_percent"]
    return float(100 * reach / float(point["limit_percent"]))


def deciding(content: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """The point of a kept content that made its verdict; None where no limit applies anywhere."""
    points: list[Mapping[str, Any]] = content["points"]
    place = deciding_point(
        [Verdict(point["verdict"]) for point in points], [used_up_percent(point) or 0.0 for point in points]
    )
    return points[place] if place is not None else None


def named_point(content: Mapping[str, Any]) -> Mapping[str, Any]:
    """The point a verdict is told by: the one that decided; without a limit the one farthest off."""
    points: list[Mapping[str, Any]] = content["points"]
    return deciding(content) or max(points, key=_reach_percent)


def _reach_percent(point: Mapping[str, Any]) -> float:
    """|d| + U of a kept point. [%]"""
    return float(abs(point["counted"]["deviation_percent"]) + point["counted"]["expanded_percent"])
