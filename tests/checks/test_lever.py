"""Torque of weights on a lever: closed-form cases worked out by hand, and published tables.

[calc] = arithmetic from the formula beside it, done outside this program to 12 digits or more.
"""

import math

import pytest

from printed import agrees
from steelyard.quantities import Line
from steelyard.rigs import (
    Air,
    BeamPlace,
    HungWeight,
    Knowing,
    Lead,
    Load,
    OwnWeight,
    Pivot,
    hung_weight_reference,
    pivot_from_two_marks,
    pivoted_head_torque,
)
from steelyard.surroundings import STANDARD_GRAVITY_M_S2

NONE = OwnWeight(Line("own-mass", 0.0), Line("own-arm", 0.0))


def arm(
    length_metre: float, *, air: Air | None = None, lead: Lead = Lead.DOWN, droop_degree: float = 0.0
) -> HungWeight:
    return HungWeight(
        arm=Line("arm", length_metre),
        droop=Line("droop", math.radians(droop_degree)),
        drop=Line("drop", 0.0),
        gravity=Line("gravity", STANDARD_GRAVITY_M_S2),
        gravity_adjust=Line("gravity-adjust", 9.8),
        air=air,
        lead=lead,
    )


def own(kilogram: float, metre: float) -> OwnWeight:
    return OwnWeight(Line("own-mass", kilogram), Line("own-arm", metre))


def test_iron_in_air_on_half_a_metre() -> None:
    # [calc] 20 kg conventional, g_n, iron 7200 kg/m³, air 1.2 kg/m³, 0.5 m
    air = Air(Line("air-density", 1.2), Line("load-density", 7200.0))
    agrees(
        hung_weight_reference(arm(0.5, air=air), Load(20.0), own=NONE).torque_newton_metre(20.0),
        "98.051790025",
    )


def test_water_in_air_on_half_a_metre() -> None:
    # [calc] 10 L at 20 °C, true mass 9.98206746 kg, density 998.2067456 kg/m³ (Tanaka 2001), air 1.2, 0.5 m
    conventional = 9.98206746 * (1 - 1.2 / 998.2067456) / (1 - 1.2 / 8000)
    air = Air(Line("air-density", 1.2), Line("load-density", 998.2067456))
    reference = hung_weight_reference(arm(0.5, air=air), Load(conventional), own=NONE)
    agrees(reference.torque_newton_metre(conventional), "48.886481028")


def test_own_weight_counts() -> None:
    # own worked example: 10.150 kg at 450 mm, own weight 1.300 kg at 220 mm, level, buoyancy left out
    alone = hung_weight_reference(arm(0.45), Load(10.15), own=NONE).torque_newton_metre(10.15)
    whole = hung_weight_reference(arm(0.45), Load(10.15), own=own(1.3, 0.22)).torque_newton_metre(10.15)
    agrees(whole, "47.60")
    agrees(whole - alone, "2.80")


@pytest.mark.parametrize(
    ("kilogram", "metre", "torque"),
    [(0.9, 0.20, "1.765197"), (1.5, 0.25, "3.677494"), (0.25, 0.10, "0.245166")],  # [calc]
)
def test_own_weight_of_three_tools(kilogram: float, metre: float, torque: str) -> None:
    loaded = hung_weight_reference(arm(0.4), Load(0.0), own=own(kilogram, metre))
    agrees(loaded.torque_newton_metre(0.0), torque)


def test_led_up_own_weight_is_taken_off_and_led_across_it_is_nothing() -> None:
    # own derivation: signs of the two moments
    force = 10.0 * STANDARD_GRAVITY_M_S2 * 0.45
    weight = 1.3 * STANDARD_GRAVITY_M_S2 * 0.22
    for lead, expected in ((Lead.UP, force - weight), (Lead.ACROSS, force)):
        reference = hung_weight_reference(arm(0.45, lead=lead), Load(10.0), own=own(1.3, 0.22))
        assert reference.torque_newton_metre(10.0) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize(
    ("degree", "loss_percent"),
    [
        (1, "-0.01523"),
        (2, "-0.06092"),
        (3, "-0.13705"),
        (5, "-0.38053"),
        (10, "-1.51922"),
    ],  # [calc] cos θ − 1
)
def test_droop_takes_its_cosine(degree: float, loss_percent: str) -> None:
    level = hung_weight_reference(arm(0.5), Load(20.0), own=NONE).torque_newton_metre(20.0)
    tilted = hung_weight_reference(arm(0.5, droop_degree=degree), Load(20.0), own=NONE)
    agrees(100 * (tilted.torque_newton_metre(20.0) / level - 1), loss_percent)


@pytest.mark.parametrize(
    ("pivot", "mark", "place", "ratio"),
    [
        (0.030, 0.40, 0.30, "1.027777778"),
        (0.030, 0.40, 0.35, "1.011718750"),
        (0.030, 0.40, 0.39, "1.002083333"),
        (0.030, 0.40, 0.41, "0.998026316"),
        (0.030, 0.40, 0.45, "0.991071429"),
        (0.030, 0.40, 0.50, "0.984042553"),
        (0.015, 0.25, 0.20, "1.016216216"),
    ],  # [calc] T(L)/T(L0) = [L/(L − p)]·[(L0 − p)/L0]; own derivation, no published formula found
)
def test_a_hand_nearer_to_the_head_makes_more_torque(
    pivot: float, mark: float, place: float, ratio: str
) -> None:
    force = 100.0
    at_mark = pivoted_head_torque(
        force,
        place,
        drop_metre=0.0,
        cosine=1.0,
        sine=0.0,
        outer_newton_metre=0.0,
        pivot_metre=pivot,
        mark_metre=mark,
    )
    agrees(force * place / at_mark, ratio)


def test_a_click_head_off_its_axis_is_worth_what_it_is_set_to() -> None:
    # [calc] set 50 N·m, L = L0 = 0.40 m, p 0.03 m, 0.7 kg at 0.23 m beyond the pivot, 0.9 kg at 0.20 m:
    # it trips at 121.28937567567567 N; the parts inside the pivot then are 0.2 kg at 0.095 m.
    force = 121.28937567567567
    head_place = (0.9 * 0.20 - 0.7 * 0.23) / 0.2 / 0.03
    pivot = Pivot(
        Line("pivot", 0.03),
        Line("grip-mark", 0.40),
        Line("tool-mass", 0.9),
        Line("outer-mass", 0.7 / 0.9),
        Line("head-place", head_place),
    )
    load = force / STANDARD_GRAVITY_M_S2
    reference = hung_weight_reference(arm(0.40), Load(load), own=own(0.9, 0.20), pivot=pivot)
    agrees(reference.torque_newton_metre(load), "50.0000000")
    plain = hung_weight_reference(arm(0.40), Load(load), own=own(0.9, 0.20))
    agrees(plain.torque_newton_metre(load), "50.28094727")


def test_a_scale_adjusted_elsewhere_brings_the_gravity_of_that_place() -> None:
    # own derivation: F = reading · g_adjust · (1 − 1.2/8000)
    load = Load(10.0, knowing=Knowing.FORCE)
    reference = hung_weight_reference(arm(0.45), load, own=NONE)
    assert reference.torque_newton_metre(10.0) == pytest.approx(10 * 9.8 * (1 - 1.2 / 8000) * 0.45, rel=1e-14)


def test_a_beam_loaded_off_its_pivot_shows_more() -> None:
    # deflection of a cantilever with an end load at s: F s²(3L − s)/6EI (handbook), the torque being the same
    beam = BeamPlace(Line("beam-scale", 0.25), Line("grip-mark", 0.30))
    force = 10.0 * STANDARD_GRAVITY_M_S2

    def shown(length: float) -> float:
        return 0.25**2 * (3 * length - 0.25) * force * 0.30 / length

    reference = hung_weight_reference(arm(0.35), Load(10.0), own=NONE, beam=beam)
    expected = force * 0.35 * shown(0.35) / shown(0.30)
    assert reference.torque_newton_metre(10.0) == pytest.approx(expected, rel=1e-12)


def test_two_marks_find_the_pivot() -> None:
    # own derivation: F(L − p) is the same at both marks
    moment, pivot = 46.25, 0.03
    near, far = moment / (0.30 - pivot), moment / (0.45 - pivot)
    agrees(pivot_from_two_marks(near, 0.30, force_far_newton=far, arm_far_metre=0.45), "0.0300000000")
