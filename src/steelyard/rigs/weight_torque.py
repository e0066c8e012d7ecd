"""The formulas of a weight on a handle. Each is written once, for floats, complex numbers and arrays."""

from typing import Any

from steelyard.surroundings import CONVENTIONAL_AIR_KG_M3, CONVENTIONAL_DENSITY_KG_M3

CONVENTIONAL_LIFT = 1 - CONVENTIONAL_AIR_KG_M3 / CONVENTIONAL_DENSITY_KG_M3


def force_of_mass(kilogram: Any, gravity_m_s2: Any) -> Any:
    """m·g: weight without the lift of the air. [N] Left out: buoyancy, 0.015 %."""
    return kilogram * gravity_m_s2


def force_in_air(kilogram: Any, gravity_m_s2: Any, *, air_kg_m3: Any, density_kg_m3: Any) -> Any:
    """Force of a conventional mass hanging in air.

    kilogram: conventional mass. [kg]; gravity_m_s2: where it hangs. [m/s²]
    air_kg_m3, density_kg_m3: of the air and of the load. [kg/m³]
    Returns m_c·g·(1 − 1.2/8000)·(1 − ρ_air/ρ)/(1 − 1.2/ρ). [N]
    Source: conventional mass as in OIML D 28 (from memory); check values CIPM/OIML, tests/checks.
    """
    lift = (1 - air_kg_m3 / density_kg_m3) / (1 - CONVENTIONAL_AIR_KG_M3 / density_kg_m3)
    return kilogram * gravity_m_s2 * CONVENTIONAL_LIFT * lift


def force_of_reading(kilogram: Any, gravity_m_s2: Any) -> Any:
    """Force of a load by the reading of a force-type scale.

    kilogram: reading. [kg]; gravity_m_s2: of the place where the scale was adjusted. [m/s²]
    Returns reading·g_adjust·(1 − 1.2/8000): the gravity of the shop cancels when weighed and hung there. [N]
    Source: own derivation, docs/explanation/hung-weight.md.
    """
    return kilogram * gravity_m_s2 * CONVENTIONAL_LIFT


def hung_weight_torque(
    force_newton: Any,
    arm_metre: Any,
    *,
    drop_metre: Any,
    cosine: Any,
    sine: Any,
    own_newton_metre: Any,
) -> Any:
    """Torque about the drive from a load hung on the handle, own weight of the tool included.

    force_newton: of everything that hangs. [N]; arm_metre: drive axis to the mark, along the arm. [m]
    drop_metre: suspension point below the line axis–mark. [m]
    cosine, sine: of the droop of the arm below horizontal, under load.
    own_newton_metre: of the tool itself about the drive axis, at this droop. [N m]
    Returns F·(L·cos θ − h·sin θ) + T_own. [N m]
    Source: own derivation, docs/explanation/hung-weight.md. Left out: bending of the arm, friction, the pivot
    of a click head (see `pivoted_head_torque`).
    """
    return force_newton * (arm_metre * cosine - drop_metre * sine) + own_newton_metre


def pivoted_head_torque(
    force_newton: Any,
    arm_metre: Any,
    *,
    drop_metre: Any,
    cosine: Any,
    sine: Any,
    outer_newton_metre: Any,
    pivot_metre: Any,
    mark_metre: Any,
) -> Any:
    """Drive torque at the trip, pulled at the grip mark, of a head with its pivot off the drive axis.

    pivot_metre: drive axis to the pivot, p. [m] < L and L0
    mark_metre: drive axis to the grip mark, L0. [m]
    outer_newton_metre: moment about the *pivot* of the parts beyond it: m_o·g·(x_o − p)·cos θ. [N m]
    Others as in `hung_weight_torque`.
    Returns [F(L·cos θ − h·sin θ − p·cos θ) + M_o]·L0/(L0 − p). [N m]
    Source: own derivation, docs/explanation/hung-weight.md; no published formula was found.
    Left out: friction of the pivot.
    """
    moment = (
        force_newton * (arm_metre * cosine - drop_metre * sine - pivot_metre * cosine) + outer_newton_metre
    )
    return moment * mark_metre / (mark_metre - pivot_metre)


def outer_moment_kilogram_metre(
    own_kilogram_metre: Any, tool_kilogram: Any, *, outer_ratio: Any, head_place_ratio: Any, pivot_metre: Any
) -> Any:
    """First moment about the pivot of the parts of a tool that lie beyond it, arm level.

    own_kilogram_metre: first moment of the whole tool about the drive axis. [kg m]
    tool_kilogram: mass of the whole tool. [kg]
    outer_ratio: part of it beyond the pivot; head_place_ratio: where the rest sits, 0 axis, 1 pivot.
    Returns M_own − (1 − f)·m·k·p − f·m·p. [kg m]
    Source: own derivation, docs/explanation/hung-weight.md.
    """
    head = (1 - outer_ratio) * tool_kilogram * head_place_ratio * pivot_metre
    return own_kilogram_metre - head - outer_ratio * tool_kilogram * pivot_metre


def beam_place_ratio(arm_metre: Any, *, scale_metre: Any, mark_metre: Any) -> Any:
    """How much more a beam wrench shows when loaded at L instead of L0, the torque being the same.

    scale_metre: drive axis to the scale the pointer is read on. [m] < L, L0
    Returns (3 − s/L)/(3 − s/L0).
    Source: deflection of a cantilever (handbook); own derivation, docs/explanation/hung-weight.md.
    """
    return (3 - scale_metre / arm_metre) / (3 - scale_metre / mark_metre)


def drum_torque(force_newton: Any, drum_metre: Any, *, cord_metre: Any) -> Any:
    """Torque of a load on a cord round a drum: F·(D + d_cord)/2. [N m]

    drum_metre, cord_metre: diameters. [m]
    Source: lever arm to the middle of the cord (handbook). Left out: side load on the bearing, stiff cord.
    """
    return force_newton * (drum_metre + cord_metre) / 2


def pivot_from_two_marks(
    force_near_newton: Any, arm_near_metre: Any, *, force_far_newton: Any, arm_far_metre: Any
) -> Any:
    """Place of the pivot from the loads at the click at two marks, arm level: (F1·L1 − F2·L2)/(F1 − F2). [m]

    Source: own derivation, docs/explanation/hung-weight.md: own weight cancels. Poor where F1 ≈ F2.
    """
    return (force_near_newton * arm_near_metre - force_far_newton * arm_far_metre) / (
        force_near_newton - force_far_newton
    )
