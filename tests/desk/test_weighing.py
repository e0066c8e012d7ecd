"""Loads weighed well become masses with a ±; a scale that was checked with water knows mass.

Own examples where no source is named.
"""

import math
from typing import Any

import pytest

from desk.hung_shop import HungShop, hung_shop
from printed import agrees
from steelyard.desk import (
    Acting,
    add_rig,
    change_rig,
    here,
    rig_body,
    sell_rig,
    set_workshop,
    standing_weighing,
    typed_rig,
)
from steelyard.desk.weighing import (
    WorthAsked,
    better_way,
    keep_weighing,
    weigh,
    weighing_worth,
)
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.records import Fields, read_masses, read_scales
from steelyard.rigs import together
from web.shop import make_workshop

K = 1.959963984540054  # two-sided 95 % quantile of the normal distribution
VERIFIED = {"name": "S-1", "step": "100", "knows": "mass", "class": "III"}
KITCHEN = {"name": "S-2", "step": "5", "knows": "force"}
PERSON = {"with": "100.2", "without": "80.1"}
ROWS = "P-1 = 10.01; P-2 = 5.00; P-1 + P-2 = 15.02"
WATER = {"volume": "10 ± 0.02", "temperature": "20", "full": "10.572", "empty": "0.600"}


@pytest.fixture
def acting() -> Acting:
    """Somebody in a workshop with one verified scale."""
    someone = make_workshop().acting()
    set_workshop(someone, {"decimal_mark": "."})
    add_rig(someone, "scale", VERIFIED)
    return someone


def scale_id(acting: Acting, name: str = "S-1") -> str:
    return next(str(body["id"]) for body in here(acting.ledger).scales if body["table"]["name"] == name)


def mass_line(acting: Acting, rig: str) -> Any:
    """The one line of a mass as a check reads it."""
    table = rig_body(acting.ledger, rig)["table"]
    (load,) = read_masses(Fields({"mass": [table]}, place="kit")).values()
    (line,) = load.lines
    return line


def refused(acting: Acting, way: str, typed: dict[str, str]) -> InputRefused:
    """What keeping a weighing is refused for; nothing is written then."""
    before = acting.ledger.head()
    with pytest.raises(InputRefused) as trouble:
        keep_weighing(acting, way, typed)
    assert acting.ledger.head() == before
    return trouble.value


def codes(found: Any) -> list[str]:
    return [doubt.code for doubt in found.doubts]


def test_a_load_weighed_with_a_person_is_a_new_mass_with_its_plus_minus(acting: Acting) -> None:
    (rig,) = keep_weighing(acting, "difference", {**PERSON, "name": "P-20"})
    body = rig_body(acting.ledger, rig)
    assert (body["sort"], body["table"]["name"]) == ("mass", "P-20")
    # class III, e = 100 g, in service: ±100 g up to 50 kg, ±200 g to 200 kg, so twice ±200 g; two roundings
    # of ±50 g; all rectangles
    u = math.sqrt(2 * 0.2**2 / 3 + 2 * 0.05**2 / 3)
    assert mass_line(acting, rig).u == pytest.approx(u, rel=0.02)
    assert body["table"]["value"] == f"20.10 kg ± {math.sqrt(3) * u:.2f} kg"


def test_both_limits_count_as_in_the_guide_on_weighing_by_difference(acting: Acting) -> None:
    # EURACHEM QUAM A2: linearity ±0.15 mg, rectangular, counted twice: u 0.122474487 mg; here in grams
    add_rig(acting, "scale", {"name": "S-3", "step": "0.000001", "knows": "mass", "within": "0.15"})
    fine = scale_id(acting, "S-3")
    found = weigh(acting.ledger, "difference", {"scale": fine, "with": "0.1 kg", "without": "0.06 kg"})
    assert found.masses[0].known.within is not None
    agrees(1000 * found.masses[0].known.within / K, "0.122474")


def test_what_was_read_stays_with_the_mass(acting: Acting) -> None:
    (rig,) = keep_weighing(acting, "difference", {**PERSON, "name": "P-20"})
    weighing = standing_weighing(rig_body(acting.ledger, rig))
    assert weighing is not None
    assert weighing["typed"] == {"with": "100.2 kg", "without": "80.1 kg"}
    assert (weighing["way"], weighing["scale_name"]) == ("difference", "S-1")
    assert weighing["at"].startswith("2026-11-25T09:")


def test_a_mass_is_weighed_anew_and_keeps_its_notes_and_name(acting: Acting) -> None:
    rig = add_rig(acting, "mass", {"name": "GYM", "value": "20 kg", "casting": "yes", "notes": "by the door"})
    assert keep_weighing(acting, "difference", {**PERSON, "mass": rig}) == (rig,)
    body = rig_body(acting.ledger, rig)
    assert body["table"].keys() == {"name", "value"}
    assert (body["table"]["name"], body["notes"]) == ("GYM", "by the door")
    keep_weighing(acting, "placements", {"mass": rig, "shown1": "20.1", "shown2": "20.2"})
    assert [each["way"] for each in rig_body(acting.ledger, rig)["weighings"]] == ["difference", "placements"]


def test_a_mass_that_was_written_over_no_longer_counts_as_weighed(acting: Acting) -> None:
    (rig,) = keep_weighing(acting, "difference", {**PERSON, "name": "P-20"})
    fields = typed_rig(rig_body(acting.ledger, rig), torque_unit="N·m")
    change_rig(acting, rig, {**fields, "notes": "yellow"}, None)
    assert standing_weighing(rig_body(acting.ledger, rig)) is not None
    change_rig(acting, rig, {**fields, "value": "20 ± 0.1"}, None)
    assert standing_weighing(rig_body(acting.ledger, rig)) is None
    assert len(rig_body(acting.ledger, rig)["weighings"]) == 1


def test_three_decimals_are_read_as_they_were_weighed(acting: Acting) -> None:
    fine = add_rig(acting, "scale", {"name": "S-2", "step": "5", "knows": "mass", "within": "10"})
    for mark in (".", ","):
        set_workshop(acting, {"decimal_mark": mark})
        typed = {"scale": fine, "shown1": f"9{mark}970", "shown2": f"9{mark}970", "name": f"P{ord(mark)}"}
        (rig,) = keep_weighing(acting, "placements", typed)
        table = rig_body(acting.ledger, rig)["table"]
        (load,) = read_masses(Fields({"mass": [table]}, place="kit")).values()
        assert load.kilogram == pytest.approx(9.97)
        fields = typed_rig(rig_body(acting.ledger, rig), torque_unit="N·m")
        change_rig(acting, rig, fields, None)
        assert rig_body(acting.ledger, rig)["table"] == table


def test_placements_count_limit_rounding_and_spread(acting: Acting) -> None:
    fine = add_rig(acting, "scale", {"name": "S-2", "step": "10", "knows": "mass", "within": "50"})
    shown = {"shown1": "9.62", "shown2": "9.63", "shown3": "9.61"}
    found = weigh(acting.ledger, "placements", {"scale": fine, **shown})
    assert found.spread_kilogram == pytest.approx(0.01)
    spread = 0.01 / math.sqrt(3)
    u = math.sqrt((0.05**2 + 0.005**2) / 3 + spread**2)
    assert found.masses[0].known.within == pytest.approx(K * u, rel=0.01)


def test_few_placements_that_spread_widen_what_the_rigs_keep(acting: Acting) -> None:
    fine = add_rig(acting, "scale", {"name": "S-2", "step": "1", "knows": "mass", "within": "1"})
    found = weigh(acting.ledger, "placements", {"scale": fine, "shown1": "9.60", "shown2": "9.70"})
    within = found.masses[0].known.within or 0.0
    assert within > 5 * K * 0.05  # t with one degree of freedom, 12.7 instead of 1.96
    (rig,) = keep_weighing(
        acting, "placements", {"scale": fine, "shown1": "9.60", "shown2": "9.70", "name": "P"}
    )
    assert mass_line(acting, rig).u == pytest.approx(within / K, rel=0.02)
    assert codes(found)[0] == "weighing-spread"


def test_placements_that_all_show_the_same_say_so(acting: Acting) -> None:
    found = weigh(acting.ledger, "placements", {"shown1": "9.6", "shown2": "9.6"})
    assert "weighing-same" in codes(found)


def test_combinations_keep_every_mass_at_once_new_ones_and_old(acting: Acting) -> None:
    old = add_rig(acting, "mass", {"name": "P-2", "value": "5 kg ± 1 g"})
    before = acting.ledger.head().number
    rigs = keep_weighing(acting, "combinations", {"rows": ROWS})
    assert len(rigs) == 2
    assert old in rigs
    new = next(rig for rig in rigs if rig != old)
    # least squares: the residual of 0.01 kg in thirds, P-1 10.01 + 0.01/3, P-2 5.00 + 0.01/3
    assert rig_body(acting.ledger, new)["table"]["value"].startswith("10.01 kg ± ")
    assert rig_body(acting.ledger, old)["table"]["value"].startswith("5.00 kg ± ")
    assert acting.ledger.head().number == before + 3


def test_a_check_with_water_gives_the_scale_its_gain_and_makes_it_know_mass(acting: Acting) -> None:
    kitchen = add_rig(acting, "scale", KITCHEN)
    assert keep_weighing(acting, "water", {"scale": kitchen, **WATER}) == (kitchen,)
    table = rig_body(acting.ledger, kitchen)["table"]
    assert table["knows"] == "mass"
    (scale,) = read_scales(Fields({"scale": [table]}, place="kit")).values()
    assert scale.gain_ratio is not None
    # water of 20 °C: 10 L show 9.9715632 kg in air of 1.2 kg/m³ (physics check values, section 4); here 9.972
    assert scale.gain_ratio.value == pytest.approx(9.972 / 9.9715632 - 1, abs=5e-5)
    # the canister ±0.02 L and two roundings of half of 5 g, all rectangles
    u = math.hypot(0.002 / math.sqrt(3), math.sqrt(2) * 0.0025 / math.sqrt(3) / 9.97)
    assert scale.gain_ratio.u == pytest.approx(u, rel=0.03)
    weighing = standing_weighing(rig_body(acting.ledger, kitchen))
    assert weighing is not None
    assert weighing["typed"]["volume"] == "10 ± 0.02 L"


def test_a_checked_scale_lets_its_error_act_on_the_difference_only(acting: Acting) -> None:
    kitchen = add_rig(acting, "scale", {**KITCHEN, "step": "100"})
    before = weigh(acting.ledger, "difference", {"scale": kitchen, **PERSON}).masses[0]
    keep_weighing(acting, "water", {"scale": kitchen, **WATER, "full": "10.6", "empty": "0.6"})
    after = weigh(acting.ledger, "difference", {"scale": kitchen, **PERSON}).masses[0]
    assert (after.known.within or 0) < (before.known.within or 0)


def test_a_canister_nobody_gauged_can_make_it_worse_and_says_so(acting: Acting) -> None:
    good = add_rig(acting, "scale", {"name": "S-9", "step": "1", "knows": "mass", "within": "5"})
    found = weigh(acting.ledger, "water", {"scale": good, **WATER, "volume": "10"})
    assert codes(found) == ["weighing-water-worse"]
    gauged = weigh(acting.ledger, "water", {"scale": good, **WATER, "volume": "10 ± 0.001"})
    assert codes(gauged) == []


def test_a_scale_that_knows_force_gives_a_mass_by_gravity_there_and_here(acting: Acting) -> None:
    kitchen = add_rig(acting, "scale", KITCHEN)
    set_workshop(acting, {"gravity": "9.8145"})
    found = weigh(acting.ledger, "placements", {"scale": kitchen, "shown1": "5.0", "shown2": "5.0"})
    # adjusted anywhere on Earth, 9.780 … 9.834, our own range
    assert found.masses[0].known.value == pytest.approx(5 * 9.807 / 9.8145)
    gravity = 0.027 / math.sqrt(3) / 9.807
    scale = math.hypot(0.01, 0.0025) / math.sqrt(3) / 5  # 0.1 % and one step, and half a step
    assert found.masses[0].percent == pytest.approx(100 * K * math.hypot(gravity, scale), rel=0.01)
    assert "weighing-force" in codes(found)


def test_a_mass_that_stood_otherwise_before_is_doubted(acting: Acting) -> None:
    wrong = add_rig(acting, "mass", {"name": "M-10", "value": "10 kg ± 10 g"})
    assert "weighing-differs" in codes(weigh(acting.ledger, "difference", {**PERSON, "mass": wrong}))
    right = add_rig(acting, "mass", {"name": "M-20", "value": "20 kg ± 10 g"})
    assert "weighing-differs" not in codes(weigh(acting.ledger, "difference", {**PERSON, "mass": right}))


def test_each_way_is_reckoned_before_and_the_best_named(acting: Acting) -> None:
    asked: WorthAsked = weighing_worth(acting.ledger, {"load": "20"})
    within = {worth.way: worth.within_kilogram or 0.0 for worth in asked.ways}
    assert within["difference"] == pytest.approx(K * math.sqrt(2 * (0.2**2 + 0.05**2) / 3), rel=1e-6)
    assert within["placements"] == pytest.approx(K * math.sqrt((0.1**2 + 0.05**2) / 3), rel=1e-6)
    assert asked.best is not None
    assert asked.best.way == "placements"
    better = better_way(acting.ledger, weigh(acting.ledger, "difference", PERSON))
    assert better is not None
    assert better.way == "placements"


def test_no_way_is_called_better_where_little_is_gained(acting: Acting) -> None:
    assert (
        better_way(acting.ledger, weigh(acting.ledger, "placements", {"shown1": "20", "shown2": "20"}))
        is None
    )


def test_a_way_beyond_the_class_of_the_scale_is_none(acting: Acting) -> None:
    small = add_rig(acting, "scale", {"name": "S-4", "step": "1", "knows": "mass", "class": "III"})
    asked = weighing_worth(acting.ledger, {"scale": small, "load": "2"})
    assert {w.way for w in asked.ways if w.within_kilogram is None} == {"difference"}


REFUSED: list[tuple[str, dict[str, str], str]] = [
    ("difference", {}, "with"),
    ("difference", {"with": "100"}, "without"),
    ("difference", {"with": "eighty", "without": "80"}, "with"),
    ("difference", {"with": "80", "without": "80"}, "with"),
    ("difference", {"with": "80", "without": "-1"}, "without"),
    ("difference", {"with": "5000", "without": "80"}, "with"),
    ("difference", {"with": "80.3", "without": "80.1"}, "with"),
    ("difference", {**PERSON, "scale": "nobody"}, "scale"),
    ("difference", {**PERSON, "mass": "nobody"}, "mass"),
    ("difference", PERSON, "name"),
    ("difference", {**PERSON, "name": "S-1"}, "name"),
    ("difference", {**PERSON, "name": "2 kg"}, "name"),
    ("placements", {"shown1": "9.6"}, "shown2"),
    ("placements", {"shown3": "9.6"}, "shown1"),
    ("placements", {"shown1": "9.6", "shown2": "0"}, "shown2"),
    ("placements", {"shown1": "9.6", "shown4": "1e9"}, "shown4"),
    ("combinations", {}, "rows"),
    ("combinations", {"rows": "P-1 + P-2 = 5"}, "rows"),
    ("combinations", {"rows": "P-1 = 5; p-1 = 5"}, "rows"),
    ("combinations", {"rows": "S-1 = 5; S-1 = 5"}, "rows"),
    ("combinations", {"rows": "5 kg = 5"}, "rows"),
    ("combinations", {"rows": "\n".join(["P-1 = 5"] * 101)}, "rows"),
    ("water", {}, "volume"),
    ("water", {**WATER, "volume": "0"}, "volume"),
    ("water", {**WATER, "temperature": "-3"}, "temperature"),
    ("water", {**WATER, "temperature": ""}, "temperature"),
    ("water", {**WATER, "empty": "11"}, "full"),
    ("water", {**WATER, "full": "22"}, "full"),
]


@pytest.mark.parametrize(("way", "typed", "field"), REFUSED)
def test_what_cannot_be_is_refused_at_its_field(
    acting: Acting, way: str, typed: dict[str, str], field: str
) -> None:
    assert refused(acting, way, typed).field == field


def test_without_a_scale_it_says_what_comes_first() -> None:
    with pytest.raises(InputRefused) as trouble:
        weighing_worth(make_workshop().ledger, {})
    assert (trouble.value.field, trouble.value.wanted) == ("scale", "want-weigh-a-scale")


def test_another_way_is_not_there(acting: Acting) -> None:
    with pytest.raises(NotFound):
        weigh(acting.ledger, "by-eye", PERSON)


def test_a_scale_that_is_gone_cannot_weigh(acting: Acting) -> None:
    sell_rig(acting, scale_id(acting), {}, None)
    assert refused(acting, "difference", PERSON).field == "scale"


def test_the_same_submission_weighs_once() -> None:
    workshop = make_workshop()
    add_rig(workshop.acting(), "scale", VERIFIED)
    first = keep_weighing(workshop.acting(submission="once"), "difference", {**PERSON, "name": "P-20"})
    head = workshop.ledger.head()
    assert (
        keep_weighing(workshop.acting(submission="once"), "difference", {**PERSON, "name": "P-20"}) == first
    )
    assert workshop.ledger.head() == head


def test_somebody_who_wrote_meanwhile_is_not_written_over(acting: Acting) -> None:
    rig = add_rig(acting, "mass", {"name": "GYM", "value": "20 kg", "casting": "yes"})
    seen = rig_body(acting.ledger, rig)["last"]
    change_rig(acting, rig, {"name": "GYM", "value": "20 kg ± 0.5 kg"}, None)
    with pytest.raises(Conflict):
        keep_weighing(acting, "difference", {**PERSON, "mass": rig}, seen)


def test_weights_of_one_scale_err_together_in_a_check() -> None:
    shop: HungShop = hung_shop()
    for name in ("P-1", "P-2"):
        keep_weighing(shop.acting, "placements", {"shown1": "5", "shown2": "5", "name": name})
    shop.hang(targets="60", droop="0 ± 1", drop="0 ± 5")
    shop.take({"no_click": "P-1 + P-2", "click": "P-1 + P-2 + M-1"})
    kit = shop.body["setup"]["form"]["kit"]
    assert [m.get("weighed_on") for m in kit["mass"] if m["name"].startswith("P")] == ["S-2", "S-2"]
    loads = read_masses(Fields({"mass": kit["mass"]}, place="kit"))
    assert loads["P-1"].lines[0].name == "weighed-mass"
    both = together([loads["P-1"], loads["P-2"]])
    assert [line.width for line in both.lines] == [2 * loads["P-1"].lines[0].width]
