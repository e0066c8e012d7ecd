"""Loads from scales and marked weights: which lines they carry, and what is refused."""

import math
from collections.abc import Callable, Sequence

import pytest

from printed import agrees
from steelyard.errors import InputRefused
from steelyard.quantities import Line, Shape
from steelyard.rigs.load import Knowing, Load
from steelyard.rigs.weighing import (
    marked_mass,
    together,
    weighed_by_difference,
    weighed_directly,
    weighed_in_placements,
)
from steelyard.rigs.weighing_scale import (
    Household,
    LegalClass,
    Scale,
    Stated,
    canister_litre,
    scale_from_water,
    water_shows_kilogram,
)

SHOP = Scale("shop", 0.1, Knowing.MASS, LegalClass("III", 0.1, in_service=True))
VERIFIED = Scale("shop", 0.1, Knowing.MASS, LegalClass("III", 0.1, in_service=False))
BATHROOM = Scale("bathroom", 0.1, Knowing.FORCE, Household())
GAIN = Line("scale-gain", 0.02, 0.003, Shape.NORMAL, 7)


def widths(load: Load, name: str) -> list[float]:
    """Widths of all lines of a name, in order."""
    return [line.width for line in load.lines if line.name == name]


# French decree 91-330, annex I, tables 1 and 3 (as OIML R 76), worked here.
# Class; e, load, limit when verified, limit in service [kg]
LEGAL = [
    ("III", 0.1, 20, "0.05", "0.10"),
    ("III", 0.1, 50, "0.05", "0.10"),
    ("III", 0.1, 100, "0.10", "0.20"),
    ("IIII", 0.1, 10, "0.1", "0.2"),
    ("IIII", 0.1, 25, "0.15", "0.30"),
    ("III", 0.005, 10, "0.005", "0.010"),
]


@pytest.mark.parametrize(("scale_class", "interval", "load", "verified", "used"), LEGAL)
def test_a_load_alone_carries_the_limit_of_a_verified_scale(
    scale_class: str, interval: float, load: float, verified: str, used: str
) -> None:
    for in_service, printed in ((False, verified), (True, used)):
        scale = Scale("a", interval, Knowing.MASS, LegalClass(scale_class, interval, in_service))
        (width,) = widths(weighed_directly(scale, load), "scale")
        agrees(width, printed)


def test_a_load_alone_has_one_shared_error_and_a_rounding_of_its_own() -> None:
    load = weighed_directly(SHOP, 20.3)
    assert (load.kilogram, load.knowing) == (20.3, Knowing.MASS)
    scale, rounding = load.lines
    assert scale == Line("scale", 0.0, 0.1, Shape.RECTANGULAR, shared=True, unit="kg", detail="shop")
    assert rounding == Line("scale-rounding", 0.0, 0.05, shared=False, unit="kg", detail="shop")


def test_the_rounding_of_a_hundred_gram_step_is_29_grams() -> None:  # d/√12
    agrees(weighed_directly(BATHROOM, 20).lines[1].u, "0.029")


def test_every_load_line_is_an_additive_error_around_zero() -> None:
    placements = weighed_in_placements(SHOP, [20.0, 20.1])
    difference = weighed_by_difference(SHOP, with_kilogram=100, without_kilogram=80)
    for load in (placements, difference, marked_mass("a", 5, casting=True)):
        assert {(line.value, line.unit) for line in load.lines} == {(0.0, "kg")}


def test_a_household_scale_promises_a_thousandth_and_a_step_and_gives_a_force() -> None:
    load = weighed_directly(BATHROOM, 20)
    assert widths(load, "scale") == pytest.approx([0.12])
    assert load.knowing is Knowing.FORCE


def test_a_stated_accuracy_adds_its_parts() -> None:
    scale = Scale("crane", 0.05, Knowing.FORCE, Stated(0.005, 0.03))
    assert widths(weighed_directly(scale, 20), "scale") == pytest.approx([0.13])


@pytest.mark.parametrize("indication", [0.0, -1.0, math.nan, math.inf])
def test_an_indication_is_an_ordinary_number_above_zero(indication: float) -> None:
    for scale in (SHOP, BATHROOM, Scale("crane", 0.05, Knowing.FORCE, Stated(0, 0.1))):
        with pytest.raises(InputRefused):
            weighed_directly(scale, indication)


def test_a_load_beyond_the_class_is_refused() -> None:
    with pytest.raises(InputRefused):
        weighed_directly(SHOP, 1000.1)


def test_a_difference_can_be_out_by_both_limits() -> None:
    load = weighed_by_difference(SHOP, with_kilogram=100, without_kilogram=80)
    assert load.kilogram == 20
    assert widths(load, "scale") == [0.2, 0.2]
    assert widths(load, "scale-rounding") == [0.05, 0.05]
    assert len({(line.name, line.detail) for line in load.lines}) == 4


def test_a_difference_counts_the_limit_of_each_indication() -> None:
    load = weighed_by_difference(VERIFIED, with_kilogram=60, without_kilogram=40)
    assert widths(load, "scale") == [0.1, 0.05]


def test_a_known_gain_acts_on_the_difference_alone() -> None:
    load = weighed_by_difference(SHOP.corrected(GAIN), with_kilogram=100, without_kilogram=79.6)
    assert load.kilogram == pytest.approx(20.0)
    assert widths(load, "scale") == pytest.approx([20 * 0.003 / 1.02])
    assert len(widths(load, "scale-rounding")) == 2


@pytest.mark.parametrize(("heavy", "light"), [(80, 80), (80, 100), (100, -1), (100, math.nan), (math.inf, 1)])
def test_a_difference_needs_more_with_than_without(heavy: float, light: float) -> None:
    with pytest.raises(InputRefused):
        weighed_by_difference(SHOP, with_kilogram=heavy, without_kilogram=light)


def test_placements_give_their_mean_and_s_over_root_n() -> None:
    load = weighed_in_placements(SHOP, [20.0, 20.2, 20.4])
    spread = load.lines[2]
    assert load.kilogram == pytest.approx(20.2)
    assert (spread.name, spread.shape, spread.dof, spread.shared) == ("scale-spread", Shape.NORMAL, 2, False)
    assert spread.u == pytest.approx(0.2 / math.sqrt(3))


def test_placements_that_show_the_same_keep_the_rounding() -> None:
    load = weighed_in_placements(SHOP, [20.1, 20.1, 20.1])
    assert widths(load, "scale-spread") == [0.0]
    assert widths(load, "scale-rounding") == [0.05]


def test_placements_about_a_step_of_the_limit_take_the_larger_one() -> None:  # 500 e
    assert widths(weighed_in_placements(SHOP, [50.0, 50.1]), "scale") == [0.2]


def test_one_placement_is_no_spread() -> None:
    with pytest.raises(InputRefused):
        weighed_in_placements(SHOP, [20.1])


def test_a_checked_scale_is_corrected_and_weighs_masses() -> None:
    checked = BATHROOM.corrected(GAIN)
    load = weighed_directly(checked, 20.4)
    assert load.kilogram == pytest.approx(20.0)
    assert load.knowing is Knowing.MASS
    error = load.lines[0]
    assert (error.name, error.shape, error.dof, error.shared) == ("scale", Shape.NORMAL, 7, True)
    assert error.width == pytest.approx(20 * 0.003 / 1.02)


@pytest.mark.parametrize("gain", [-1.0, 0.51, 1.2046, math.nan])
def test_a_gain_that_shows_another_unit_is_refused(gain: float) -> None:
    with pytest.raises(InputRefused):
        BATHROOM.corrected(Line("scale-gain", gain, 0.01))


@pytest.mark.parametrize("step", [0.0, -0.1, math.nan])
def test_a_scale_has_a_step(step: float) -> None:
    with pytest.raises(InputRefused):
        Scale("a", step, Knowing.MASS, Household())


@pytest.mark.parametrize(("ratio", "kilogram"), [(-0.01, 0), (0.01, -1), (math.nan, 0), (0, math.inf)])
def test_a_stated_accuracy_is_zero_or_more(ratio: float, kilogram: float) -> None:
    with pytest.raises(InputRefused):
        Stated(ratio, kilogram)


# Tanaka et al., Metrologia 38 (2001), and the conventional mass (OIML D 28, from memory): what 10 L show [kg]
WATER = [
    (5, "9.9891662"),
    (10, "9.9865250"),
    (15, "9.9805228"),
    (20, "9.9715632"),
    (25, "9.9599642"),
    (30, "9.9459799"),
]


@pytest.mark.parametrize(("celsius", "printed"), WATER)
def test_ten_litres_of_water_on_a_right_scale(celsius: float, printed: str) -> None:
    agrees(water_shows_kilogram(10, water_celsius=celsius, air_kg_m3=1.2), printed)


def test_a_us_gallon_shows_less_than_the_rule_of_thumb() -> None:  # 231 in³; 8.321673 lb, own arithmetic
    shown = water_shows_kilogram(3.785411784, water_celsius=20, air_kg_m3=1.2)
    agrees(shown / 0.45359237, "8.321673")


def test_thin_air_lifts_the_water_less_than_the_scale_weights_tell() -> None:
    mass = 10 * 0.9982067456  # [kg], Tanaka
    lifted = mass * (1 - 0.9 / 998.2067456) / (1 - 0.9 / 8000)
    assert water_shows_kilogram(10, water_celsius=20, air_kg_m3=0.9) == pytest.approx(lifted, rel=1e-9)


def water(indication: float, volume: Line) -> Line:
    """The gain of the bathroom scale."""
    return scale_from_water(
        volume_litre=volume,
        water_celsius=20,
        indication_kilogram=indication,
        air_kg_m3=1.2,
        scale=BATHROOM,
    )


def test_water_shows_the_gain_error_of_a_scale() -> None:
    gain = water(10.1, canister_litre(10))
    agrees(gain.value, "0.01288")  # 10.1/9.9715632 − 1
    assert (gain.name, gain.shape, gain.detail) == ("scale-gain", Shape.NORMAL, "bathroom")
    canister, roundings = 1.01288 * 0.01 / math.sqrt(3), 0.1 / math.sqrt(6) / 9.9715632
    assert gain.u == pytest.approx(math.hypot(canister, roundings), rel=1e-5)


def test_a_corrected_scale_shows_the_water_right() -> None:
    checked = BATHROOM.corrected(water(10.1, canister_litre(10)))
    agrees(weighed_directly(checked, 10.1).kilogram, "9.9715632")


def test_a_canister_is_off_by_a_percent_unless_gauged() -> None:
    assert canister_litre(20) == Line("canister-volume", 20, 0.2, Shape.RECTANGULAR, unit="L")
    assert canister_litre(20.1, gauged_within_litre=0.02).width == 0.02


@pytest.mark.parametrize(("litre", "within"), [(0, None), (math.nan, None), (10, -0.1), (10, math.inf)])
def test_a_canister_has_a_volume(litre: float, within: float | None) -> None:
    with pytest.raises(InputRefused):
        canister_litre(litre, gauged_within_litre=within)


@pytest.mark.parametrize(("indication", "litre"), [(0.0, 10.0), (math.nan, 10.0), (10.0, 0.0)])
def test_water_needs_an_indication_and_a_volume(indication: float, litre: float) -> None:
    with pytest.raises(InputRefused):
        water(indication, Line("canister-volume", litre, 0.1))


# OIML R 111-1:2004, table 1, as quoted in a weight supplier's sheet: class, nominal [kg], limit [kg]
MARKED = [("M1", 5, "0.000250"), ("M2", 20, "0.003000"), ("M3", 20, "0.010000"), ("M3", 50, "0.025000")]


@pytest.mark.parametrize(("weight_class", "nominal", "limit"), MARKED)
def test_a_classed_weight_lies_within_its_limit(weight_class: str, nominal: float, limit: str) -> None:
    load = marked_mass("M-5", nominal, weight_class=weight_class)
    (line,) = load.lines
    agrees(line.width, limit)
    assert (line.name, line.detail, line.shape) == ("mass", "M-5", Shape.RECTANGULAR)
    assert (load.kilogram, load.knowing) == (nominal, Knowing.MASS)


def test_a_casting_is_within_five_percent_and_a_known_weight_within_what_is_known() -> None:
    assert widths(marked_mass("plate", 20, casting=True), "mass") == [1.0]
    assert widths(marked_mass("plate", 20, known_within_kilogram=0.03), "mass") == [0.03]


def test_a_weight_needs_exactly_one_reason_to_be_believed() -> None:
    with pytest.raises(InputRefused):
        marked_mass("plate", 20)
    with pytest.raises(InputRefused):
        marked_mass("plate", 20, weight_class="M3", casting=True)


@pytest.mark.parametrize(("nominal", "within"), [(0, 0.1), (math.nan, 0.1), (20, -0.1), (20, math.nan)])
def test_a_weight_and_its_half_width_are_ordinary_numbers(nominal: float, within: float) -> None:
    with pytest.raises(InputRefused):
        marked_mass("plate", nominal, known_within_kilogram=within)


def test_loads_add_with_all_their_lines() -> None:
    parts = [marked_mass("one", 5, weight_class="M3"), marked_mass("two", 10, weight_class="M3")]
    both = together(parts)
    assert both.kilogram == 15
    assert both.lines == (*parts[0].lines, *parts[1].lines)


def test_one_scale_has_one_error_under_several_loads_and_rounds_each() -> None:
    loads = [weighed_directly(SHOP, 20), weighed_directly(SHOP, 10), weighed_directly(SHOP, 5)]
    both = together(loads)
    assert widths(both, "scale") == pytest.approx([0.3])
    assert widths(both, "scale-rounding") == [0.05] * 3
    assert len({(line.name, line.detail) for line in both.lines}) == 4


def test_sums_of_sums_keep_every_line_apart() -> None:
    first = together([weighed_directly(SHOP, 20), weighed_directly(SHOP, 10)])
    both = together([first, weighed_directly(SHOP, 5), first])
    assert both.kilogram == 65
    assert len(widths(both, "scale-rounding")) == 5


def test_weights_that_were_weighed_on_one_scale_err_together_those_of_two_apart() -> None:
    one, two, three = (
        marked_mass(name, 5, known_within_kilogram=0.03, weighed_on=scale)
        for name, scale in (("a", "S-1"), ("b", "S-1"), ("c", "S-2"))
    )
    lines = together([one, two, three]).lines
    assert [(line.detail, line.width) for line in lines] == [("S-1", 0.06), ("S-2", 0.03)]
    assert {line.name for line in lines} == {"weighed-mass"}


def test_an_order_of_loads_does_not_matter_to_what_is_known() -> None:
    loads = [weighed_directly(SHOP, 20), marked_mass("one", 5, weight_class="M3")]
    forth, back = together(loads), together(loads[::-1])
    assert sorted(line.u for line in forth.lines) == sorted(line.u for line in back.lines)


@pytest.mark.parametrize(
    "loads",
    [
        [],
        [weighed_directly(SHOP, 20), weighed_directly(BATHROOM, 20)],
        [weighed_directly(SHOP, 20), weighed_directly(SHOP.corrected(GAIN), 20)],
    ],
)
def test_nothing_two_knowings_and_one_name_for_two_errors_are_refused(loads: Sequence[Load]) -> None:
    with pytest.raises(InputRefused):
        together(loads)


REFUSALS: list[tuple[Callable[[], object], str]] = [
    (lambda: marked_mass("plate", 20), "weight plate: nothing is given; wanted is one of these"),
    (lambda: weighed_in_placements(SHOP, [1.0]), "wanted is 2 or more placements"),
    (lambda: together([weighed_directly(SHOP, 2), weighed_directly(BATHROOM, 2)]), "known in one way"),
    (
        lambda: BATHROOM.corrected(Line("g", 1.2)),
        "“120 %” cannot be used; wanted is a number from -50 to 50 %",
    ),
]


@pytest.mark.parametrize(("deed", "part"), REFUSALS)
def test_a_refusal_is_a_sentence_with_one_clear_wish(deed: Callable[[], object], part: str) -> None:
    with pytest.raises(InputRefused) as caught:
        deed()
    assert part in caught.value.sentence
