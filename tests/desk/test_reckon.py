"""Quick questions: the numbers they give, the ± beside them, and what they refuse."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from printed import agrees
from steelyard.desk.figures import Known, figure, known
from steelyard.desk.reckon import (
    Answer,
    HungQuestion,
    reckon_adapter,
    reckon_gravity,
    reckon_hung,
    reckon_insert,
    reckon_mass,
    reckon_torque,
    reckon_water,
)
from steelyard.desk.typed_lines import latitude_line
from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, Line
from steelyard.words import say

K = 1.959963984540054  # two-sided 95 % quantile of the normal distribution
ON_HAND = HungQuestion(
    load="10.15 kg", arm="450 mm", own_mass="1.3 kg", balance="220 mm", gravity="9.80665 m/s²", buoyancy=False
)
FORTY_POUNDS = HungQuestion(load="40 lb", arm="15 in", own_zero=True, gravity="standard", buoyancy=False)


def spoken(answer: Answer) -> str:
    """All sentences of an answer in one text."""
    said = [say(code, **facts) for code, facts in answer.lines]
    return "\n".join([*said, *(say(each.code, **each.facts) for each in answer.findings)])


def value(answer: Answer, key: str) -> float:
    return float(answer.numbers[key])


# SP 811 B.8 and exact definitions of lb, in, g_n; worked out in rational arithmetic.
TORQUES = (
    ("100 lbf·ft", "torque_newton_metre", "135.58179483314"),
    ("80 ft-lb", "torque_newton_metre", "108.46543586651"),
    ("100 Nm", "torque_pound_force_foot", "73.756214928"),
    ("100 Nm", "torque_pound_force_inch", "885.07457913"),
    ("100 Nm", "torque_kilogram_force_centimetre", "1019.7162130"),
    ("20 N·m", "torque_pound_force_foot", "14.751242986"),
)


@pytest.mark.parametrize(("typed", "key", "printed"), TORQUES)
def test_a_torque_in_other_units(typed: str, key: str, printed: str) -> None:
    agrees(value(reckon_torque(typed), key), printed)


def test_a_torque_is_shown_in_every_other_unit() -> None:
    answer = reckon_torque("80 ft-lb")
    assert spoken(answer).startswith("80 ft-lb = 108.465 N·m")
    assert len(answer.lines) == len(UNITS[Dimension.TORQUE]) - 1
    assert len(answer.numbers) == len(UNITS[Dimension.TORQUE])


def test_a_torque_in_one_unit_comes_with_both_ways() -> None:
    text = spoken(reckon_torque("80 ± 2 ft-lb", unit="Nm"))
    assert text == "80 ± 2 ft-lb = 108.5 N·m ± 2.7 N·m\n1 lbf·ft is 1.35582 N·m; 1 N·m is 0.737562 lbf·ft."


@pytest.mark.parametrize(("typed", "unit"), [("80", None), ("80 nm", None), ("80 Nm", "m"), ("", None)])
def test_a_torque_is_never_guessed(typed: str, unit: str | None) -> None:
    with pytest.raises(InputRefused):
        reckon_torque(typed, unit=unit)


def test_what_to_set_with_an_adapter() -> None:  # TM 1-1500-204-23-9, fig. 8-16
    answer = reckon_adapter(wanted="300 in-lb", tool_length="10 in", adapter="4 in")
    assert "Set the tool to 214.3 lbf·in" in spoken(answer)
    assert "14.00 in instead of 10.00 in" in spoken(answer)


def test_what_the_bolt_gets_is_the_way_back() -> None:
    there = reckon_adapter(wanted="100 N·m", tool_length="400 mm", adapter="50 mm", angle="30°")
    setting = value(there, "setting_newton_metre")
    back = reckon_adapter(setting=f"{setting:.12f} N·m", tool_length="400 mm", adapter="50 mm", angle="30°")
    assert value(back, "torque_newton_metre") == pytest.approx(100, rel=1e-10)


def test_a_right_angle_is_said_to_change_nothing() -> None:
    answer = reckon_adapter(wanted="100 N·m", tool_length="400 mm", adapter="50 mm", angle="90 deg")
    assert "changes nothing" in spoken(answer)
    assert value(answer, "setting_newton_metre") == pytest.approx(100)


def test_the_plus_minus_of_a_setting_is_that_of_the_lever() -> None:
    answer = reckon_adapter(wanted="100 N·m", tool_length="400 mm ± 2 mm", adapter="50 mm ± 1 mm")
    tool = 100 * 0.05 / 0.45**2 * 0.002  # ∂/∂L of T·L/(L + E)
    beyond = 100 * 0.4 / 0.45**2 * 0.001  # ∂/∂E
    within = K * math.hypot(tool, beyond) / math.sqrt(3)
    assert value(answer, "setting_within_newton_metre") == pytest.approx(within, rel=1e-4)
    assert "88.89 N·m ± 0.23 N·m" in spoken(answer)
    assert "comes from --tool-length, --adapter; taken as exact: --wanted, --angle" in spoken(answer)


def test_an_angle_about_zero_is_not_taken_as_harmless() -> None:
    answer = reckon_adapter(wanted="100 N·m", tool_length="40 cm", adapter="50 mm", angle="0° ± 10°")
    furthest = 100 * 0.4 / (0.4 + 0.05 * math.cos(math.radians(10))) - 100 * 0.4 / 0.45
    assert 0.7 * furthest < value(answer, "setting_within_newton_metre") < 1.1 * furthest


def test_an_insert_counts_by_the_difference_of_stand_off() -> None:
    answer = reckon_insert(
        wanted="90 N·m", tool_length="400 mm", standoff="70 mm", reference_standoff="20 mm"
    )
    agrees(value(answer, "setting_newton_metre"), "80.00000000")
    back = reckon_insert(setting="80 N·m", tool_length="400 mm", standoff="70 mm", reference_standoff="20 mm")
    agrees(value(back, "torque_newton_metre"), "90.00000000")


ADAPTERS = (
    ({"wanted": None}, "--wanted"),
    ({"setting": "80 N·m"}, "--wanted"),
    ({"tool_length": None}, "--tool-length"),
    ({"tool_length": "400 mm ± 500 mm"}, "--tool-length"),
    ({"adapter": None}, "--adapter"),
    ({"adapter": "-5 mm"}, "--adapter"),
    ({"adapter": "400 mm", "angle": "180°"}, "--adapter"),
    ({"angle": "30"}, "--angle"),
    ({"flexes": True}, "--flexes"),
)


@pytest.mark.parametrize(("change", "field"), ADAPTERS)
def test_an_adapter_that_cannot_be_reckoned_is_refused(change: dict[str, str | None], field: str) -> None:
    asked = {"wanted": "100 N·m", "tool_length": "400 mm", "adapter": "50 mm"} | change
    with pytest.raises(InputRefused) as refused:
        reckon_adapter(**asked)  # type: ignore[arg-type]
    assert refused.value.field == field


def test_a_hung_load_with_the_tool_s_own_weight() -> None:
    # (10.15·0.45 + 1.3·0.22)·9.80665, own arithmetic
    answer = reckon_hung(ON_HAND)
    agrees(value(answer, "torque_newton_metre"), "47.60")
    agrees(value(answer, "own_newton_metre"), "2.80")
    assert value(answer, "torque_newton_metre") == pytest.approx((10.15 * 0.45 + 1.3 * 0.22) * 9.80665)
    text = spoken(answer)
    assert text.startswith("47.60 N·m (35.11 lbf·ft) at the drive.\nOf the torque, 2.80 N·m")
    assert "No ± was given" in text


def test_own_weight_zero_on_purpose_says_what_it_leaves_out() -> None:
    answer = reckon_hung(FORTY_POUNDS)
    text = spoken(answer)
    assert text.startswith("50.00 lbf·ft (67.79 N·m) at the drive.")
    assert "leaves out the tool's own weight, usually 2 to 9 %" in text


def test_own_weight_not_given_is_refused_with_the_ways_to_give_it() -> None:
    with pytest.raises(InputRefused, match="--own-zero to leave it out on purpose") as refused:
        reckon_hung(replace(FORTY_POUNDS, own_zero=False))
    assert refused.value.field == "--own-mass"


def test_own_weight_by_a_reading_is_that_moment() -> None:
    by_reading = replace(ON_HAND, own_mass=None, balance=None, own_reading="0.65 kg", own_at="440 mm")
    got = value(reckon_hung(by_reading), "own_newton_metre")
    assert got == pytest.approx(0.65 * 0.44 * 9.80665)


def test_droop_takes_its_cosine_off_load_and_own_weight() -> None:
    level, low = reckon_hung(ON_HAND), reckon_hung(replace(ON_HAND, droop="5°"))
    ratio = value(low, "torque_newton_metre") / value(level, "torque_newton_metre")
    assert ratio == pytest.approx(math.cos(math.radians(5)))
    assert "5° below level" in spoken(low)


def test_the_lift_of_the_air_takes_150_millionths_off_the_load() -> None:
    # −150 ppm in air of 1.2 kg/m³, whatever the load is made of: conventional mass, OIML D 28
    without, lifted = reckon_hung(FORTY_POUNDS), reckon_hung(replace(FORTY_POUNDS, buoyancy=True))
    ratio = value(lifted, "torque_newton_metre") / value(without, "torque_newton_metre")
    agrees((ratio - 1) * 1e6, "-150.00")


def test_gravity_of_the_place_counts_with_its_plus_minus() -> None:
    answer = reckon_hung(replace(ON_HAND, gravity=None, latitude="51.5", height="0 m"))
    agrees(value(answer, "gravity_m_s2"), "9.812033575")  # WGS 84, library boule 0.6
    expected = value(answer, "torque_newton_metre") * 5e-5 * K
    assert value(answer, "torque_within_newton_metre") == pytest.approx(expected, rel=1e-3)
    assert "comes from --latitude" in spoken(answer)


def test_the_plus_minus_of_a_torque_adds_its_parts_in_squares() -> None:
    answer = reckon_hung(replace(FORTY_POUNDS, load="10 kg ± 0.1 kg", arm="500 ± 2 mm"))
    torque = 10 * 0.5 * 9.80665
    expected = K * torque * math.hypot(0.01, 0.004) / math.sqrt(3)
    assert value(answer, "torque_within_newton_metre") == pytest.approx(expected, rel=1e-4)
    assert spoken(answer).startswith("49.03 N·m ± 0.60 N·m (36.17 lbf·ft ± 0.44 lbf·ft)")


@given(torque=st.floats(5, 500), arm=st.floats(0.2, 1.5), droop=st.floats(-10, 10))
def test_what_to_hang_is_the_way_back(torque: float, arm: float, droop: float) -> None:
    place = replace(ON_HAND, arm=f"{arm:.7f} m", droop=f"{droop:.6f} °")
    there = reckon_hung(replace(place, load=None, wanted=f"{torque:.7f} N·m"))
    mass = value(there, "mass_kilogram")
    back = reckon_hung(replace(place, load=f"{mass:.15f} kg"))
    assert value(back, "torque_newton_metre") == pytest.approx(torque, rel=1e-6)


def test_what_to_hang_carries_its_plus_minus() -> None:
    wanted = replace(FORTY_POUNDS, load=None, wanted="49.03325 N·m", arm="500 mm ± 2 mm")
    answer = reckon_hung(wanted)
    assert value(answer, "mass_kilogram") == pytest.approx(10)
    expected = K * 10 * 0.004 / math.sqrt(3)
    assert value(answer, "mass_within_kilogram") == pytest.approx(expected, rel=1e-4)


def test_cautions_stand_with_every_load_and_a_heavy_one_has_its_own() -> None:
    codes = [each.code for each in reckon_hung(ON_HAND).findings]
    assert codes == ["caution-feet", "caution-hook", "caution-jump"]
    heavy = reckon_hung(replace(ON_HAND, load="25.1 kg"))
    assert "more than 25 kg" in spoken(heavy)
    assert "more than 25 kg" not in spoken(reckon_hung(replace(ON_HAND, load="25 kg")))


HUNG = (
    ({"load": None}, "--load"),
    ({"wanted": "50 N·m"}, "--load"),
    ({"load": "0 kg"}, "--load"),
    ({"arm": None}, "--arm"),
    ({"arm": "450"}, "--arm"),
    ({"balance": None}, "--balance"),
    ({"own_mass": None}, "--own-mass"),
    ({"own_zero": True}, "--own-mass"),
    ({"own_reading": "0.5 kg", "own_at": "40 cm"}, "--own-mass"),
    ({"gravity": None}, "--gravity"),
    ({"gravity": "1.62 m/s²"}, "--gravity"),
    ({"latitude": "51.5"}, "--gravity"),
    ({"gravity": None, "latitude": "51.5"}, "--height"),
    ({"gravity": None, "height": "35 m"}, "--latitude"),
    ({"droop": "11°"}, "--droop"),
    ({"unit": "kg"}, "--to"),
    ({"load": None, "wanted": "2.7 N·m"}, "--wanted"),
)


@pytest.mark.parametrize(("change", "field"), HUNG)
def test_a_hung_load_that_cannot_be_reckoned_is_refused(change: dict[str, str | None], field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        reckon_hung(replace(ON_HAND, **change))  # type: ignore[arg-type]
    assert refused.value.field == field


# WGS 84 with the second-order term in height, library ahrs 0.4, 11 digits; difference to g_n worked out.
PLACES = (
    ("45", "0 m", "9.806197769", "-0.005"),
    ("51.5", "0 m", "9.812033575", "0.055"),
    ("19.43° N", "2240 m", "9.77912980114", "-0.281"),
    ("39.74", "1609 m", "9.79650207059", "-0.103"),
    ("45 S", "1000 m", "9.80311294355", "-0.036"),
)


@pytest.mark.parametrize(("latitude", "height", "gravity", "percent"), PLACES)
def test_gravity_at_a_place(latitude: str, height: str, gravity: str, percent: str) -> None:
    answer = reckon_gravity(latitude=latitude, height=height)
    agrees(value(answer, "gravity_m_s2"), gravity)
    agrees(value(answer, "difference_from_standard_percent"), percent)
    assert value(answer, "gravity_within_m_s2") == pytest.approx(K * 5e-5 * float(gravity))


def test_a_latitude_known_roughly_widens_gravity() -> None:  # 1° at 45° changes gravity by 92 ppm
    answer = reckon_gravity(latitude="45° N ± 1°", height="0 m")
    expected = K * math.hypot(5e-5, 92e-6 / math.sqrt(3)) * 9.8062
    assert value(answer, "gravity_within_m_s2") == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(
    ("typed", "degree"),
    [("33.9 S", -33.9), ("33.9° n", 33.9), ("-33.9", -33.9), ("0.5 rad", 28.64788975654116)],
)
def test_a_latitude_is_north_unless_it_says_south(typed: str, degree: float) -> None:
    assert latitude_line(typed, field="--latitude").value == pytest.approx(degree)


@pytest.mark.parametrize("latitude", ["95", "-33.9 S", "N", "", "51.5 E", "51 N 30 S"])
def test_a_latitude_that_is_none_is_refused(latitude: str) -> None:
    with pytest.raises(InputRefused) as refused:
        reckon_gravity(latitude=latitude, height="0 m")
    assert refused.value.field == "--latitude"


def test_a_mass_by_difference_counts_both_limits_and_both_roundings() -> None:
    # class III, e = 100 g in use, at 100 kg (1000 e) ± 2 e, at 80 kg (800 e) ± 2 e; own arithmetic
    answer = reckon_mass(step="100 g", scale_class="III", with_it="100 kg", without_it="80 kg")
    expected = K * math.sqrt((0.2**2 + 0.2**2 + 0.05**2 + 0.05**2) / 3)
    agrees(value(answer, "mass_kilogram"), "20.0000000")
    assert value(answer, "mass_within_kilogram") == pytest.approx(expected)
    assert answer.findings == ()


def test_a_stated_accuracy_counts_at_both_weighings_and_is_doubted() -> None:
    answer = reckon_mass(step="100 g", accuracy="0.1 % + 50 g", with_it="100 kg", without_it="80 kg")
    expected = K * math.sqrt((0.15**2 + 0.13**2 + 0.05**2 + 0.05**2) / 3)
    assert value(answer, "mass_within_kilogram") == pytest.approx(expected)
    assert "adjusted elsewhere" in spoken(answer)


def test_a_household_scale_is_taken_as_such_scales_usually_are() -> None:  # ±(0.1 % + 1 step), a review site
    usual = reckon_mass(step="100 g", accuracy="household", with_it="100 kg", without_it="80 kg")
    stated = reckon_mass(step="100 g", accuracy="0.1 % + 100 g", with_it="100 kg", without_it="80 kg")
    assert usual.numbers == stated.numbers


MASSES = (
    ({"scale_class": None}, "--class"),
    ({"accuracy": "1 g"}, "--class"),
    ({"scale_class": "II"}, "--class"),
    ({"step": None}, "--step"),
    ({"step": "0 g"}, "--step"),
    ({"with_it": None}, "--with"),
    ({"with_it": "80 kg"}, "--with"),
    ({"without_it": "-1 kg"}, "--without"),
    ({"with_it": "2000 kg"}, "--with"),
    ({"scale_class": None, "accuracy": "good"}, "--accuracy"),
    ({"scale_class": None, "accuracy": "-1 %"}, "--accuracy"),
)


@pytest.mark.parametrize(("change", "field"), MASSES)
def test_a_mass_that_cannot_be_reckoned_is_refused(change: dict[str, str | None], field: str) -> None:
    asked = {"step": "100 g", "scale_class": "III", "with_it": "100 kg", "without_it": "80 kg"} | change
    with pytest.raises(InputRefused) as refused:
        reckon_mass(**asked)
    assert refused.value.field == field


# Water of Tanaka et al. 2001 on a scale, conventional mass, air 1.2 kg/m³, for 10.000 L; library chempy
# for the density, own arithmetic for the scale.
WATER = {5: "9.9891662", 10: "9.9865250", 15: "9.9805228", 20: "9.9715632", 25: "9.9599642", 30: "9.9459799"}


@pytest.mark.parametrize("celsius", WATER)
def test_what_a_right_scale_shows_under_ten_litres(celsius: int) -> None:
    answer = reckon_water(volume="10 L", temperature=f"{celsius} °C", air_density="1.2 kg/m³")
    agrees(value(answer, "expected_kilogram"), WATER[celsius])
    assert "not gauged: ± 1 %" in spoken(answer)


def test_the_plus_minus_of_water_is_that_of_volume_and_temperature() -> None:
    answer = reckon_water(volume="10 L ± 0.02 L", temperature="20 °C ± 5 °C", air_density="1.2 kg/m³")
    warmer = 9.9715632 - 9.9599642  # 25 °C against 20 °C, table above; the larger change of both sides
    expected = K * math.hypot(0.02 * 0.99715632, warmer) / math.sqrt(3)
    assert value(answer, "expected_within_kilogram") == pytest.approx(expected, rel=1e-4)


def test_water_says_what_is_wrong_with_a_scale() -> None:
    asked = {"volume": "10 L ± 0.02 L", "temperature": "20 °C", "air_density": "1.2 kg/m³", "step": "10 g"}
    low = reckon_water(**asked, shows="9.9 kg")
    agrees(value(low, "scale_error_percent"), "-0.718")  # 9.9/9.9715632 − 1
    assert "too little: divide what it shows by 0.9928" in spoken(low)
    assert "too much" in spoken(reckon_water(**asked, shows="10.1 kg"))
    assert "does not show the scale wrong" in spoken(reckon_water(**asked, shows="9.98 kg"))


def test_a_scale_is_judged_with_volume_roundings_and_temperature() -> None:
    answer = reckon_water(
        volume="10 L ± 0.02 L",
        temperature="20 °C ± 5 °C",
        air_density="1.2 kg/m³",
        shows="9.9 kg",
        step="10 g",
    )
    shown = 9.9 / 9.9715632
    parts = (shown * 0.002, 0.005 / 9.9715632, 0.005 / 9.9715632, 9.9 / 9.9599642 - shown)
    expected = 100 * K * math.hypot(*parts) / math.sqrt(3)
    assert value(answer, "scale_error_within_percent") == pytest.approx(expected, rel=1e-3)


WATERS = (
    ({"volume": None}, "--volume"),
    ({"volume": "0 L"}, "--volume"),
    ({"temperature": "50 °C"}, "--temperature"),
    ({"temperature": "1 °C ± 2 °C"}, "--temperature"),
    ({"air_density": None}, "--height"),
    ({"height": "35 m"}, "--air-density"),
    ({"air_density": "12 kg/m³"}, "--air-density"),
    ({"air_density": None, "height": "12000 m"}, "--height"),
    ({"shows": "9.9 kg"}, "--step"),
)


@pytest.mark.parametrize(("change", "field"), WATERS)
def test_water_that_cannot_be_reckoned_is_refused(change: dict[str, str | None], field: str) -> None:
    asked = {"volume": "10 L", "temperature": "20 °C", "air_density": "1.2 kg/m³"} | change
    with pytest.raises(InputRefused) as refused:
        reckon_water(**asked)
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("number", "within", "printed"),
    [
        (47.6, None, "47.60 N·m"),
        (1234.56, None, "1235 N·m"),
        (123456.0, None, "123456 N·m"),
        (0.0, None, "0 N·m"),
        (99.99999, None, "100.0 N·m"),
        (47.616, 0.147, "47.62 N·m ± 0.15 N·m"),
        (47.616, 0.0996, "47.62 N·m ± 0.10 N·m"),
        (1234.5, 120.0, "1230 N·m ± 120 N·m"),
        (-5.0, 0.1, "-5.00 N·m ± 0.10 N·m"),
    ],
)
def test_the_plus_minus_decides_the_digits(number: float, within: float | None, printed: str) -> None:
    assert figure(Known(number, within), UNITS[Dimension.TORQUE]["N·m"]) == printed


def test_a_curve_without_slope_still_has_a_plus_minus() -> None:
    got = known(lambda maths, angle: maths.cos(angle), [Line("angle", 0.0, 0.1)])
    # exact root mean square of 1 − cos x over a rectangle ± w is w²/√20 for small w
    assert got.within == pytest.approx(K * 0.01 / math.sqrt(20), rel=0.01)
