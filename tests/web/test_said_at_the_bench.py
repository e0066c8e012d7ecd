"""What the pages of the bench say to somebody who hangs weights, or writes a comma for a point."""

from collections.abc import Iterator

import pytest

from desk.bench_shop import READINGS, BenchShop, bench_shop
from steelyard.desk import (
    AS_FOUND,
    add_rig,
    add_tool,
    choose_kit,
    close_check,
    exercise,
    judge_phase,
    look_over,
    open_check,
    read_pull,
    set_up,
)
from steelyard.web.rack_words import range_words
from steelyard.words import say
from web.shop import Shop, shop

BEAM = {
    "number": "T-07",
    "kind": "beam",
    "lowest": "5",
    "highest": "30",
    "graduation": "0.5",
    "directions": "cw",
    "grip_mark": "400 ± 1",
    "own_way": "reading",
    "own_reading": "350 g",
    "own_reading_at": "400",
    "own_reading_knows": "mass",
    "limit.published": "own",
    "limit.percent": "6",
    "limit.source": "our own list",
}


@pytest.fixture
def desk() -> BenchShop:
    """A shop with an arm whose hook hangs at every pull."""
    ready = bench_shop()
    for name, value in (("M-5", "5 kg ± 3 g"), ("M-2", "2 kg ± 2 g"), ("HOOK", "310 g ± 2 g")):
        add_rig(ready.acting, "mass", {"name": name, "value": value})
    add_rig(ready.acting, "scale", {"name": "S-2", "step": "5", "knows": "mass", "within": "10"})
    return ready


@pytest.fixture
def open_shop(desk: BenchShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def hang(desk: BenchShop, *, tool: str | None = None, **setup: str) -> str:
    """Bring a check on the arm as far as its pulls; returns the page of the first point."""
    arm = add_rig(desk.acting, "hung-weight", {"name": "W-1", "always": "HOOK"})
    desk.check = open_check(desk.acting, tool or desk.tool, {"why": "due"})
    look_over(desk.acting, desk.check, {"damaged": "no"})
    choose_kit(desk.acting, desk.check, {"rig": arm, "plan": "own", "targets": "20, 30", "pulls": "2"})
    set_up(desk.acting, desk.check, {"arm": "400", "always": "HOOK", "is_ready": "yes", **setup})
    exercise(desk.acting, desk.check, {"exercise_pulls": "5"})
    return f"/bench/{desk.check}/as-found"


def test_what_hangs_at_every_pull_is_said_and_not_offered_again(desk: BenchShop, open_shop: Shop) -> None:
    text = open_shop.page(hang(desk))
    assert say("pulls-always", always="HOOK") in text
    assert 'data-mass="M-5"' in text
    assert 'data-mass="HOOK"' not in text


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ({"no_click": "M-2", "click": "M-77"}, say("want-weight-of-shop")),
        ({"click": "M-5"}, say("want-load-at-click")),
        ({"bucket": "4.8 kg on S-9"}, say("want-scale-of-shop", names="S-2")),
    ],
)
def test_a_load_that_is_not_understood_is_asked_for_in_words_of_the_page(
    desk: BenchShop, open_shop: Shop, typed: dict[str, str], wanted: str
) -> None:
    text = open_shop.send(hang(desk), 422, point="0", submission="a", **typed)
    assert wanted in text
    assert "kit.scale" not in text
    assert "with no_click" not in text


def test_a_known_load_has_its_torque_beside_the_dots_as_it_is_printed(
    desk: BenchShop, open_shop: Shop
) -> None:
    tool = add_tool(desk.acting, BEAM)
    text = open_shop.page(hang(desk, tool=tool, zeroed_tool="no", load_0="M-5", load_1="M-5 + M-2"))
    held = text.partition("the true torque is ")[2].partition(" ")[0]
    assert f">target {held}</text>" in text


def test_a_record_of_hung_weights_holds_own_weight_and_loads(desk: BenchShop, open_shop: Shop) -> None:
    tool = add_tool(desk.acting, BEAM)
    hang(desk, tool=tool, zeroed_tool="no", load_0="M-5", load_1="M-5 + M-2")
    for point, lines in enumerate((("22", "22.5"), ("30", "30.5"))):
        for line in lines:
            read_pull(desk.acting, desk.check, AS_FOUND, point, {"line": line, "sure": "yes"})
    judge_phase(desk.acting, desk.check, AS_FOUND, {})
    close_check(desk.acting, desk.check, {"next_due": "2027-11-25"})
    text = open_shop.page("/book/1")
    assert say("record-kit-tool-reading") in text
    assert "350 g" in text
    assert say("record-kit-load", target="30 N·m", direction="clockwise") in text
    assert "M-5 + M-2" in text


def test_every_figure_of_the_bench_has_the_decimal_mark_of_the_device(
    desk: BenchShop, open_shop: Shop
) -> None:
    open_shop.client.cookies.set("steelyard_mark", ",")
    desk.open()
    assert "20 N·m clockwise: known to ±2,6 %" in open_shop.page(f"/bench/{desk.check}/kit")
    desk.stand()
    desk.pull(READINGS)
    text = open_shop.page(f"/bench/{desk.check}/as-found?point=0")
    assert "inside: +2,0 % of ±4 %" in text
    assert "about +1,9 % ± 2,7 %" in text
    judge_phase(desk.acting, desk.check, AS_FOUND, {})
    text = open_shop.page(f"/bench/{desk.check}/verdict")
    assert "bolts get 1,9 % LESS than set" in text
    assert "95 % interval −0,72 to +4,61 %" in text


def test_an_empty_choice_asks_to_choose_and_names_no_code(desk: BenchShop, open_shop: Shop) -> None:
    text = open_shop.send("/bench/new", 422, tool=desk.tool)
    assert say("field-choose") in text
    assert "doubt, customer" not in text


def test_a_transducer_is_confirmed_in_words_of_its_own(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    text = open_shop.page(f"/bench/{desk.check}/set-up")
    assert say("setup-ready-hint-transducer") in text
    assert say("setup-ready-hint") not in text


@pytest.mark.parametrize(
    ("lowest", "highest", "words"),
    [
        ("20 N·m", "100 N·m", "20 to 100 N·m"),
        ("20", "100 N·m", "20 to 100 N·m"),
        ("25 N·m", "25 N·m", "25 N·m"),
        ("25", "25 N·m", "25 N·m"),
        ("1 N·m", "1 kgf·m", "1 N·m to 1 kgf·m"),
    ],
)
def test_a_range_has_its_unit_once(lowest: str, highest: str, words: str) -> None:
    assert range_words(lowest, highest) == words
