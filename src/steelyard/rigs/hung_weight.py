"""Hung weights as a reference: which formula serves which tool and set-up, and what is not known of it."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from steelyard.quantities import Line
from steelyard.rigs.load import Knowing, Load
from steelyard.rigs.reference import Reference
from steelyard.rigs.weight_torque import (
    beam_place_ratio,
    drum_torque,
    force_in_air,
    force_of_mass,
    force_of_reading,
    hung_weight_torque,
    outer_moment_kilogram_metre,
    pivoted_head_torque,
)


class Lead(StrEnum):
    """How the load reaches the handle.

    DOWN: hangs from it. UP: pulls it upward over a pulley. ACROSS: over a pulley, drive axis vertical: the
    tool's own weight does not act.
    """

    DOWN = "down"
    UP = "up"
    ACROSS = "across"


OWN_SIGN = {Lead.DOWN: 1, Lead.UP: -1, Lead.ACROSS: 0}


@dataclass(frozen=True, slots=True)
class OwnWeight:
    """First moment of the tool about its drive axis, as a mass at a distance.

    kilogram, arm: mass of the tool and its balance point, or the reading of a scale under the handle and the
        distance where it lies, arm level, square free to turn. [kg], [m]
    knowing: what the kilograms are.
    """

    kilogram: Line
    arm: Line
    knowing: Knowing = Knowing.MASS


@dataclass(frozen=True, slots=True)
class Pivot:
    """A head that trips about a pivot off the drive axis.

    place: drive axis to pivot. [m]; mark: drive axis to grip mark. [m]; tool: mass of the whole tool. [kg]
    outer_ratio: part of that mass beyond the pivot; head_place_ratio: where the rest sits, 0 axis … 1 pivot.
    """

    place: Line
    mark: Line
    tool: Line
    outer_ratio: Line
    head_place_ratio: Line


@dataclass(frozen=True, slots=True)
class BeamPlace:
    """A beam wrench loaded elsewhere than at its handle's pivot: distances of scale and mark. [m]"""

    scale: Line
    mark: Line


@dataclass(frozen=True, slots=True)
class Air:
    """Lift of the air on the load: densities of the air and of what hangs. [kg/m³]"""

    density: Line
    load_density: Line


@dataclass(frozen=True, slots=True)
class HungWeight:
    """An arm with a load on it.

    arm: drive axis to the mark where the load hangs. [m]; droop: below horizontal, under load. [rad]
    drop: suspension point below the line axis–mark. [m]
    gravity: of the shop; gravity_adjust: of the place where a force-type scale was adjusted. [m/s²]
    air: None leaves buoyancy out. pulley_loss: part of the force a pulley takes. lead: see `Lead`.
    """

    arm: Line
    droop: Line
    drop: Line
    gravity: Line
    gravity_adjust: Line
    air: Air | None = None
    pulley_loss: Line = Line("pulley", 0.0)
    lead: Lead = Lead.DOWN


@dataclass(frozen=True, slots=True)
class Drum:
    """A drum with a cord, for drivers: diameters [m] and gravity as in `HungWeight`."""

    drum: Line
    cord: Line
    gravity: Line
    gravity_adjust: Line
    air: Air | None = None


def hung_weight_reference(
    rig: HungWeight,
    load: Load,
    *,
    own: OwnWeight,
    zeroed: bool = False,
    pivot: Pivot | None = None,
    beam: BeamPlace | None = None,
) -> Reference:
    """The torque of a hung load for one tool, as a model of the load.

    own: the tool's own weight; a moment of zero only on purpose.
    zeroed: an indicating tool zeroed in the measuring position, its own weight acting: only the change by
        droop remains.
    pivot: of a click head; None where the torque does not depend on where the hand is.
    beam: where a beam wrench is loaded off its handle's pivot.
    Source: domain rules in docs/explanation/hung-weight.md.
    """
    force, own_force = _force(load.knowing, rig.air), own.knowing is Knowing.FORCE
    sign, level = OWN_SIGN[rig.lead], 1 if zeroed else 0

    def model(maths: Any, raw: Any, *v: Any) -> Any:
        gravity, adjust, air, dense, loss, arm, droop, drop, own_kg, own_m = v[:10]
        cosine, sine = maths.cos(droop), maths.sin(droop)
        pull = force(raw + sum(v[shaped:]), gravity, adjust, air, dense) * (1 - loss)
        tilt = sign * (adjust if own_force else gravity) * (cosine - level)
        return shape(pull, arm, drop, cosine, sine, tilt, own_kg * own_m, v[10:shaped])

    shape, extra = _shape(pivot, beam)
    shaped = 10 + len(extra)
    lines = (
        *_force_lines(rig),
        rig.pulley_loss,
        rig.arm,
        rig.droop,
        rig.drop,
        own.kilogram,
        own.arm,
        *extra,
        *load.lines,
    )
    return Reference(model, lines)


def drum_reference(rig: Drum, load: Load) -> Reference:
    """The torque of a load on a cord round a drum, as a model of the load."""
    force = _force(load.knowing, rig.air)

    def model(maths: Any, raw: Any, *v: Any) -> Any:
        gravity, adjust, air, dense, drum, cord = v[:6]
        pull = force(raw + sum(v[6:]), gravity, adjust, air, dense)
        return drum_torque(pull, drum, cord_metre=cord)

    return Reference(model, (*_force_lines(rig), rig.drum, rig.cord, *load.lines))


def _force_lines(rig: HungWeight | Drum) -> tuple[Line, Line, Line, Line]:
    if rig.air is None:
        unused = Line("air-density", 0.0)
        return rig.gravity, rig.gravity_adjust, unused, unused
    return rig.gravity, rig.gravity_adjust, rig.air.density, rig.air.load_density


def _force(knowing: Knowing, air: Air | None) -> Any:
    """The force formula that fits how the load is known."""
    if knowing is Knowing.FORCE:
        return lambda kg, _g, adjust, _air, _dense: force_of_reading(kg, adjust)
    if air is None:
        return lambda kg, g, _adjust, _air, _dense: force_of_mass(kg, g)
    return lambda kg, g, _adjust, air_density, dense: force_in_air(
        kg, g, air_kg_m3=air_density, density_kg_m3=dense
    )


def _shape(pivot: Pivot | None, beam: BeamPlace | None) -> tuple[Any, tuple[Line, ...]]:
    """The torque formula that fits the tool's head, and the lines it needs beyond those of every arm."""
    if pivot is not None:
        return _pivoted, (
            pivot.place,
            pivot.mark,
            pivot.tool,
            pivot.outer_ratio,
            pivot.head_place_ratio,
        )
    if beam is not None:
        return _beam, (beam.scale, beam.mark)
    return _plain, ()


def _plain(pull: Any, arm: Any, drop: Any, cosine: Any, sine: Any, tilt: Any, own: Any, _extra: Any) -> Any:
    return hung_weight_torque(
        pull, arm, drop_metre=drop, cosine=cosine, sine=sine, own_newton_metre=own * tilt
    )


def _pivoted(pull: Any, arm: Any, drop: Any, cosine: Any, sine: Any, tilt: Any, own: Any, extra: Any) -> Any:
    place, mark, tool, outer, head = extra
    moment = outer_moment_kilogram_metre(
        own, tool, outer_ratio=outer, head_place_ratio=head, pivot_metre=place
    )
    return pivoted_head_torque(
        pull,
        arm,
        drop_metre=drop,
        cosine=cosine,
        sine=sine,
        outer_newton_metre=moment * tilt,
        pivot_metre=place,
        mark_metre=mark,
    )


def _beam(pull: Any, arm: Any, drop: Any, cosine: Any, sine: Any, tilt: Any, own: Any, extra: Any) -> Any:
    scale, mark = extra
    torque = _plain(pull, arm, drop, cosine, sine, tilt, own, None)
    return torque * beam_place_ratio(arm, scale_metre=scale, mark_metre=mark)
