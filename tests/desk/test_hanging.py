"""What hangs at a point and what should, and what is odd about a load the moment it is taken."""

from typing import Any

import pytest

from desk.bench_shop import BenchShop, bench_shop
from desk.hung_shop import BEAM, GOOD, HungShop, hung_shop
from forms import BEAM as BEAM_FORM
from forms import HUNG, changed
from steelyard.desk import (
    AS_FOUND,
    Hanging,
    add_rig,
    add_tool,
    check_content,
    judge_check,
    judge_phase,
    read_pull,
    running_point,
    set_up,
    setup_fields,
    strike_out,
    take_back,
)
from steelyard.errors import InputRefused

NEAR = "M-2 + M-1 + B-500 + B-200"
"""Just inside the upper limit of 20 N·m ± 4 %."""


@pytest.fixture
def shop() -> HungShop:
    return hung_shop()


def hanging(shop: HungShop, point: int = 0) -> Hanging:
    hangs = shop.at(point).hanging
    assert hangs is not None
    return hangs


# ---------------------------------------------------------------- counted twice


def test_a_pull_that_names_what_always_hangs_is_doubted_at_once_and_in_the_verdict(shop: HungShop) -> None:
    shop.hang(targets="20")
    shop.take(GOOD)
    assert "names-always-pull" not in shop.codes()
    shop.take({"bucket": "HOOK + 3.25 kg on S-2", "sure": "yes"})
    assert shop.codes().count("names-always-pull") == 1
    judge_phase(shop.acting, shop.check, AS_FOUND, {"incomplete": "yes"})
    doubts = shop.body["verdicts"][AS_FOUND]["content"]["doubts"]
    (kept,) = [doubt for doubt in doubts if doubt["code"] == "names-always-pull"]
    assert (kept["facts"]["pull"], kept["facts"]["piece"]) == (2, "HOOK")


def test_a_piece_weighed_for_every_pull_is_known_again_by_its_words(shop: HungShop) -> None:
    shop.hang(always="0.35 kg on S-2 + HOOK")
    shop.take({"bucket": "M-2 + M-1 + 0.35 kg on S-2"})
    assert shop.codes() == ["names-always-pull"]


def test_a_struck_out_pull_is_not_doubted_for_what_it_names(shop: HungShop) -> None:
    shop.hang()
    number = shop.take({**GOOD, "click": f"{GOOD['no_click']} + HOOK"})
    assert "names-always-pull" in shop.codes()
    strike_out(shop.acting, shop.check, number, {"reason": "misread"})
    assert shop.codes() == []


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"no_click": "M-2", "click": "M-2 + M-1 + M-2"}, "click"),
        ({"no_click": "M-1 + M-1", "click": "M-10"}, "no_click"),
        ({"bucket": "B-200 + B-200 + 3.2 kg on S-2"}, "bucket"),
    ],
)
def test_one_piece_cannot_hang_twice_in_one_load(shop: HungShop, typed: dict[str, str], field: str) -> None:
    shop.hang()
    with pytest.raises(InputRefused) as refused:
        shop.take(typed)
    assert (refused.value.field, refused.value.wanted) == (field, "want-each-piece-once")
    assert refused.value.facts["piece"] in {"M-2", "M-1", "B-200"}
    assert shop.body["pulls"] == []


def test_the_same_weighing_twice_may_be_two_things(shop: HungShop) -> None:
    shop.hang()
    shop.take({"bucket": "1.75 kg on S-2 + 1.75 kg on S-2"})
    assert shop.codes() == []


def test_a_file_that_counts_a_piece_twice_is_read_and_doubted() -> None:
    text = changed(HUNG, '{ bucket = "10.15 kg" },', '{ bucket = "M-10 + B-100 + B-100" },')
    codes = [doubt["code"] for doubt in content(text)["doubts"]]
    assert codes.count("names-twice-pull") == 1


def test_a_known_load_that_names_what_always_hangs_is_doubted_before_any_pull(shop: HungShop) -> None:
    shop.hang_beam(load_0="M-2 + HOOK", load_1="M-2 + M-1")
    assert (shop.codes(0), shop.codes(1)) == (["names-always-load"], [])


def test_a_mark_far_beyond_the_grip_is_doubted_at_the_pull_and_in_the_verdict(shop: HungShop) -> None:
    shop.hang(arm="670")
    assert shop.codes() == []
    shop.hang(arm="680")  # 1.5 times the 450 mm of the grip is 675 mm
    assert shop.codes() == ["arm-far-out"]
    text = changed(HUNG, 'arm = "450 mm', 'arm = "680 mm')
    assert "arm-far-out" in [doubt["code"] for doubt in content(text)["doubts"]]


def test_a_known_load_cannot_name_a_piece_twice(shop: HungShop) -> None:
    with pytest.raises(InputRefused) as refused:
        shop.hang_beam(load_0="M-2", load_1="M-2 + M-2")
    assert (refused.value.field, refused.value.wanted) == ("load_1", "want-each-piece-once")


def test_a_known_load_of_a_file_that_counts_a_piece_twice_is_doubted() -> None:
    load = next(line for line in BEAM_FORM.splitlines() if line.startswith("load = "))
    name = load.partition('"')[2].partition('"')[0].split(" + ")[0]
    text = changed(BEAM_FORM, load, f'load = "{name} + {name}"')
    assert "names-twice-load" in [doubt["code"] for doubt in content(text)["doubts"]]


def content(text: str) -> dict[str, Any]:
    return check_content(judge_check(text.encode()))


# ---------------------------------------------------------------- a step too coarse


def test_a_step_over_the_limit_is_doubted_with_the_step_that_would_do(shop: HungShop) -> None:
    shop.hang()
    shop.take({"no_click": "M-2 + M-1 + B-500", "click": "M-2 + M-1 + B-500 + B-200 + B-100"})
    (doubt,) = shop.at().doubts
    assert doubt.code == "step-too-coarse"
    assert doubt.facts["step_kilogram"] == pytest.approx(0.3)
    # by hand: 19.43 to 20.75 N·m about 20.09; half a step of a quarter of 4 % is about 0.09 kg in all
    assert doubt.facts["enough_kilogram"] == pytest.approx(0.091, abs=0.002)


@pytest.mark.parametrize(
    "typed",
    [
        GOOD,  # both loads inside
        {"no_click": "M-2", "click": "M-2 + M-1"},  # both outside on one side
        {"no_click": f"{NEAR} + 40 g ± 1 g", "click": f"{NEAR} + B-100"},  # over the limit, but fine already
        {"bucket": "3.9 kg on S-2"},
    ],
)
def test_a_step_that_decides_or_is_fine_already_is_not_doubted(shop: HungShop, typed: dict[str, str]) -> None:
    shop.hang()
    shop.take(typed)
    assert "step-too-coarse" not in shop.codes()


# ---------------------------------------------------------------- how much to hang


def test_the_load_for_a_click_makes_the_target(shop: HungShop) -> None:
    shop.hang()
    hangs = hanging(shop)
    assert hangs.target_kilogram is not None
    shop.take({"bucket": f"{hangs.target_kilogram - hangs.always_kilogram:.5f} kg ± 1 g"})
    assert shop.at().pulls[0].torque_newton_metre == pytest.approx(20, rel=1e-4)


def test_a_pull_begins_at_own_masses_a_tenth_below_the_click(shop: HungShop) -> None:
    shop.hang()
    hangs = hanging(shop)
    assert hangs.target_kilogram is not None and hangs.begin_kilogram is not None
    assert hangs.begin == "M-2 + M-1 + B-200"
    assert hangs.begin_kilogram == pytest.approx(3.2 + 0.31)
    assert hangs.begin_kilogram <= 0.9 * hangs.target_kilogram


def test_where_masses_do_not_reach_a_pull_begins_at_just_so_much(shop: HungShop) -> None:
    shop.hang(targets="90")
    hangs = hanging(shop)
    assert hangs.target_kilogram is not None
    assert hangs.begin == ""
    assert hangs.begin_kilogram == pytest.approx(0.9 * hangs.target_kilogram)


def test_a_known_load_is_said_in_all_beside_what_its_target_asks_for(shop: HungShop) -> None:
    shop.hang_beam(load_0="M-2", load_1="M-2 + M-1")
    hangs = hanging(shop)
    assert hangs.load == "M-2"
    assert hangs.load_kilogram == pytest.approx(2.31)
    assert hangs.target_kilogram == pytest.approx(10 / 9.8148 / 0.45, rel=2e-3)  # zeroed: g at 54.3° by hand
    assert hangs.begin_kilogram is None


def test_a_transducer_has_nothing_hanging() -> None:
    shop = bench_shop()
    shop.stand()
    assert running_point(shop.body, AS_FOUND, 0).hanging is None


def test_the_set_up_is_told_what_to_hang_zeroed_or_not_until_that_is_said(shop: HungShop) -> None:
    shop.hang(tool=add_tool(shop.acting, BEAM), targets="10; 20", ready=False)
    fields = setup_fields(shop.workshop.ledger, shop.body)
    (zeroed, _), (not_zeroed, _) = fields.planned, fields.planned_not_zeroed
    assert zeroed.target_kilogram is not None and not_zeroed.target_kilogram is not None
    # 0.9 kg at 150 mm hang with it where it is not zeroed
    assert zeroed.target_kilogram - not_zeroed.target_kilogram == pytest.approx(0.9 * 150 / 450, rel=1e-2)
    said = {"zeroed_tool": "yes", "load_0": "M-2", "load_1": "M-2 + M-1", "is_ready": "yes"}
    set_up(shop.acting, shop.check, {"arm": "450", "always": "HOOK", **said})
    fields = setup_fields(shop.workshop.ledger, shop.body)
    assert (len(fields.planned), fields.planned_not_zeroed) == (2, ())


def test_an_arm_off_the_pivot_of_a_beam_is_refused_at_the_set_up(shop: HungShop) -> None:
    tool = add_tool(shop.acting, BEAM)
    with pytest.raises(InputRefused) as refused:
        shop.hang(tool=tool, targets="10", zeroed_tool="yes", load_0="M-2", arm="400")
    assert (refused.value.field, refused.value.wanted) == ("arm", "want-rig-beam-scale")


def test_the_sum_of_a_load_counts_every_piece_and_nothing_that_is_unknown(shop: HungShop) -> None:
    shop.hang()
    hangs = hanging(shop)
    assert hangs.sum_kilogram("M-2 + 0.35 kg on S-2 + 100 g ± 1 g") == pytest.approx(2.45)
    assert hangs.sum_kilogram("M-2 + M-77") is None


def test_the_next_pull_begins_where_the_last_one_did_not_click(shop: HungShop) -> None:
    shop.hang()
    assert shop.at().last_loads == ()
    shop.take(GOOD)
    struck = shop.take({"no_click": "M-2", "click": "M-2 + M-1"})
    strike_out(shop.acting, shop.check, struck, {"reason": "slipped"})
    assert shop.at().last_loads == (GOOD["no_click"], GOOD["click"])
    shop.take({"bucket": "3.6 kg on S-2"})
    assert shop.at().last_loads == ("3.6 kg on S-2",)


# ---------------------------------------------------------------- struck out


def paper_shop() -> BenchShop:
    """A shop whose adapter has a paper from 20 to 100 N·m with errors that change, accuracy stated beside."""
    shop = bench_shop()
    paper = {"paper.states": "error", "paper.worked_shows": "100", "paper.worked_true": "101.01"}
    rows = {"row1_at": "20", "row1_stated": "3", "row2_at": "100", "row2_stated": "-1"}
    more = {"row1_U": "0.3", "row1_k": "2", "row2_U": "0.3", "row2_k": "2"}
    adapter = {"name": "A-2", "resolution": "0.1", "stated_of_reading": "0.5"}
    shop.rig = add_rig(shop.acting, "transducer", adapter | paper | rows | more)
    shop.stand()
    return shop


@pytest.mark.parametrize("lines", [("19.6",), ("19.2", "22.4"), ("20.4", "20.6", "22.4")])
def test_a_struck_out_pull_shows_the_figure_it_had_while_it_counted(lines: tuple[str, ...]) -> None:
    shop = paper_shop()
    for line in lines:
        number = read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": line}).number
    before = running_point(shop.body, AS_FOUND, 0).pulls[-1].torque_newton_metre
    strike_out(shop.acting, shop.check, number, {"reason": "misread"})
    assert running_point(shop.body, AS_FOUND, 0).pulls[-1].torque_newton_metre == before
    take_back(shop.acting, shop.check, number)
    assert running_point(shop.body, AS_FOUND, 0).pulls[-1].torque_newton_metre == before


@pytest.mark.parametrize(
    "typed",
    [{"no_click": "M-10 + M-2 + M-1", "click": "M-10 + M-2 + M-1 + B-500"}, {"bucket": "40 kg on S-2"}],
)
def test_an_odd_load_is_asked_about_beside_its_own_field(shop: HungShop, typed: dict[str, str]) -> None:
    shop.hang()
    with pytest.raises(InputRefused) as refused:
        shop.take(typed)
    assert (refused.value.field, refused.value.wanted) == (list(typed)[-1], "want-sure")
