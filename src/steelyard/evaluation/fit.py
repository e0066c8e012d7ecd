"""Which formula of a kit fits a tool: own weight, pivot, beam, zero; and what is assumed for the rest."""

from steelyard.errors import InputRefused
from steelyard.quantities import Line
from steelyard.rigs import (
    BeamPlace,
    Drum,
    HungWeight,
    Knowing,
    Lead,
    Load,
    OwnActs,
    OwnWeight,
    Pivot,
    Reference,
    Transducer,
    drum_reference,
    hung_weight_reference,
    transducer_reference,
)
from steelyard.tools import Kind, Tool

PIVOT_UNKNOWN = Line("pivot", 0.020, 0.020, unit="m")  # click heads: 10–40 mm is usual, 0 is possible
OUTER_RATIO = Line("outer-mass", 0.8, 0.2)  # part of the tool's mass beyond the pivot, our assumption
HEAD_PLACE = Line("head-place", 0.5, 0.5)  # where the rest sits between drive axis and pivot, our assumption
BALANCE_RATIO = 0.5  # balance point over grip mark, where only the moment is known, our assumption
BALANCE_WITHIN = 0.3  # half-width of the tool's mass so guessed, as a ratio
NOTHING = Line("own-mass", 0.0, unit="kg")
SAME_PLACE_METRE = 0.0005  # load and grip mark this close count as one place


def reference_for_load(tool: Tool, rig: HungWeight | Drum, load: Load) -> Reference:
    """The torque of a hung load on this tool.

    Raises InputRefused where own weight, grip mark or beam scale are missing, or the pivot is too far out.
    """
    if isinstance(rig, Drum):
        return drum_reference(rig, load)
    own = own_weight(tool, is_needed=rig.lead is not Lead.ACROSS and not tool.is_zeroed)
    return hung_weight_reference(
        rig,
        load,
        own=own or OwnWeight(NOTHING, NOTHING),
        zeroed=tool.is_zeroed,
        pivot=_pivot(tool, rig, own),
        beam=_beam(tool, rig),
    )


def reference_for_indication(
    tool: Tool,
    transducer: Transducer,
    indication_newton_metre: float,
    *,
    own_acts: OwnActs,
    gravity: Line,
    droop: Line,
) -> Reference:
    """The torque behind an indication of a transducer with this tool on it."""
    own = own_weight(tool, is_needed=own_acts is not OwnActs.NOT)
    return transducer_reference(
        transducer, indication_newton_metre, own=own, own_acts=own_acts, gravity=gravity, droop=droop
    )


def own_weight(tool: Tool, *, is_needed: bool) -> OwnWeight | None:
    """The tool's own weight as a mass at a distance; refused where it acts and nobody gave it."""
    if tool.own_mass is None or tool.own_arm is None:
        if is_needed:
            raise InputRefused("tool", None, "want-own-weight")
        return None
    return OwnWeight(tool.own_mass, tool.own_arm, Knowing.FORCE if tool.own_by_force else Knowing.MASS)


def _pivot(tool: Tool, rig: HungWeight, own: OwnWeight | None) -> Pivot | None:
    """A pivot off the drive axis where the tool may have one; None where it cannot matter."""
    if not tool.kind.trips_about_a_pivot or tool.length_independent:
        return None
    place = tool.pivot if tool.pivot is not None else PIVOT_UNKNOWN
    if place.value == 0.0 and place.width == 0.0:
        return None
    mark = tool.grip_mark
    if mark is None:
        raise InputRefused("tool.grip_mark", None, "want-unit", example="450 mm")
    if place.value + place.width >= min(mark.value, rig.arm.value):
        raise InputRefused("tool.pivot", f"{place.value + place.width:.4g} m", "want-short-pivot")
    return Pivot(place, mark, _mass(tool, own, mark), OUTER_RATIO, HEAD_PLACE)


def _mass(tool: Tool, own: OwnWeight | None, mark: Line) -> Line:
    """Mass of the whole tool: given, or guessed from its moment; none where its weight is left out."""
    moment = own.kilogram.value * own.arm.value if own is not None else 0.0
    if tool.mass is not None and moment > 0.0:
        return Line("tool-mass", tool.mass.value, tool.mass.width, tool.mass.shape, unit="kg")
    guess = moment / (BALANCE_RATIO * mark.value)
    return Line("tool-mass", guess, guess * BALANCE_WITHIN, unit="kg")


def _beam(tool: Tool, rig: HungWeight) -> BeamPlace | None:
    """A beam wrench loaded off its handle's pivot."""
    if tool.kind is not Kind.BEAM:
        return None
    mark = tool.grip_mark
    if mark is None:
        raise InputRefused("tool.grip_mark", None, "want-unit", example="450 mm")
    if abs(mark.value - rig.arm.value) < SAME_PLACE_METRE:
        return None
    if tool.beam_scale is None:
        raise InputRefused("tool.beam_scale", None, "want-beam-scale")
    return BeamPlace(tool.beam_scale, mark)
