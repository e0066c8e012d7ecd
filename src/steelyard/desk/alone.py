"""What a scale or a weight knows by itself, before anything of a tool is known."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.desk.kits import MASS, SCALE, Shelf
from steelyard.desk.ports import Body
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_within
from steelyard.records import Fields, read_masses, read_scales
from steelyard.rigs import Load, Scale, weighed_directly
from steelyard.surroundings import STANDARD_GRAVITY_M_S2
from steelyard.tools import Kind as ToolKind

LOADS_KILOGRAM = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
SHARES_PERCENT = (1.0, 4.0)
"""A limit that is usual, ±4 %, and the quarter of it that a kit should not go beyond."""
STEPS_A_DECADE = 40


@dataclass(frozen=True)
class KnownLoad:
    """A load and its ± with k = 2, from its own lines alone. [kg], [%]"""

    kilogram: float
    expanded_percent: float


@dataclass(frozen=True)
class FromArm:
    """The torque a weight makes at an arm that is level. name: of the rig, or the number of the tool whose
    handle it is.

    arm: its length as typed. newton_metre: without the tool's own weight. [N·m]
    """

    name: str
    is_handle: bool
    arm: str
    newton_metre: float


@dataclass(frozen=True)
class ScaleAlone:
    """What a scale knows.

    quarter, whole: from which load on it knows all to ±1 % and to ±4 %; None for none.
    """

    loads: tuple[KnownLoad, ...]
    quarter_kilogram: float | None
    whole_kilogram: float | None


@dataclass(frozen=True)
class MassAlone:
    """What a weight is known to, and what it makes at the arms and handles of the shop."""

    known: KnownLoad
    arms: tuple[FromArm, ...]


def alone(body: Body, shelf: Shelf, tools: Sequence[Body]) -> ScaleAlone | MassAlone | None:
    """What a rig knows without any tool; None for one that is a kit of its own.

    shelf: of the shop, for its arms. tools: whose own handles may be the arm.
    """
    if body["sort"] == SCALE:
        (scale,) = read_scales(Fields({"scale": [body["table"]]}, place="kit")).values()
        loads = tuple(known for load in LOADS_KILOGRAM if (known := _weighed(scale, load)) is not None)
        return ScaleAlone(loads, *(_from(scale, share) for share in SHARES_PERCENT))
    if body["sort"] == MASS:
        (mass,) = read_masses(Fields({"mass": [body["table"]]}, place="kit")).values()
        return MassAlone(_known(mass), tuple(_arms(mass, shelf, tools)))
    return None


def _known(load: Load) -> KnownLoad:
    """U with k = 2 of a load. Source: JCGM 100:2008, 5.1.2 and 6.2.1; every line adds in kilogram."""
    u_kilogram = math.hypot(*(line.u for line in load.lines))
    return KnownLoad(load.kilogram, 100 * 2 * u_kilogram / load.kilogram)


def _weighed(scale: Scale, kilogram: float) -> KnownLoad | None:
    """A load on a scale; None below its step or where its class does not reach."""
    if kilogram < scale.step_kilogram:
        return None
    try:
        return _known(weighed_directly(scale, kilogram))
    except InputRefused:
        return None


def _from(scale: Scale, share_percent: float) -> float | None:
    """The least load from which a scale knows every load up to 100 kg to a share, in two digits. [kg]"""
    least: float | None = None
    count = math.ceil(STEPS_A_DECADE * math.log10(LOADS_KILOGRAM[-1] / scale.step_kilogram))
    for step in range(count + 1):
        load = float(f"{LOADS_KILOGRAM[-1] / 10 ** (step / STEPS_A_DECADE):.2g}")
        known = _weighed(scale, load)
        if known is None or known.expanded_percent > share_percent:
            break
        least = load
    return least


def _arms(mass: Load, shelf: Shelf, tools: Sequence[Body]) -> list[FromArm]:
    """At the arms here that have a length of their own, else at the handles of the tools."""
    arms = [
        (rig["table"]["name"], False, rig["table"]["arm"]) for rig in shelf.arms if rig["table"].get("arm")
    ]
    handles = [
        (tool["tool"]["number"], True, tool["tool"]["grip_mark"])
        for tool in tools
        if tool["tool"].get("grip_mark") and not ToolKind(tool["tool"]["kind"]).is_driver
    ]
    return [
        FromArm(name, is_handle, arm, _newton_metre(mass, arm)) for name, is_handle, arm in arms or handles
    ]


def _newton_metre(mass: Load, arm: str) -> float:
    length, _ = read_within(arm, Dimension.LENGTH, field="arm")
    return mass.kilogram * STANDARD_GRAVITY_M_S2 * length.base
