"""The pull page where weights hang: what to hang, what a load comes to, what is refused and doubted."""

import json
from collections.abc import Iterator
from html import unescape
from typing import Any

import pytest

from desk.bench_shop import bench_shop
from desk.hung_shop import BEAM, GOOD, HungShop, hung_shop
from steelyard.desk import add_tool
from steelyard.words import CAUTIONS, cautions, say
from web.forms_on_page import read_page
from web.shop import Shop, shop

CLICK = GOOD["click"]


@pytest.fixture
def desk() -> HungShop:
    return hung_shop()


@pytest.fixture
def open_shop(desk: HungShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def page(desk: HungShop, open_shop: Shop, point: int = 0) -> str:
    return unescape(open_shop.page(f"/bench/{desk.check}/as-found?point={point}"))


def send(desk: HungShop, open_shop: Shop, status: int = 422, /, **typed: str) -> str:
    return unescape(open_shop.send(f"/bench/{desk.check}/as-found", status, point="0", **typed))


def values(text: str) -> dict[str, str]:
    (form,) = [form for form in read_page(text).forms if "bucket" in form.texts]
    return form.values


# ---------------------------------------------------------------- what to hang


def test_a_click_is_expected_at_a_load_and_begun_below_it(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    text = page(desk, open_shop)
    assert "The click is expected at about 3.92 kg in all: 3.61 kg beside HOOK." in text
    assert "Begin with M-2 + M-1 + B-200: 3.51 kg in all." in text
    assert 'data-load="M-2 + M-1 + B-200" data-into="no_click"' in text


def test_after_a_click_the_next_pull_begins_there(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    assert values(page(desk, open_shop))["no_click"] == ""
    desk.take(GOOD)
    text = page(desk, open_shop)
    assert (values(text)["no_click"], values(text)["click"]) == (GOOD["no_click"], "")
    assert say("hang-last-between", **GOOD) in text
    assert f'data-load="{CLICK}" data-into="click"' in text
    assert "Begin with" not in text


def test_after_a_bucket_no_load_of_steps_is_offered(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    desk.take({"bucket": "3.6 kg on S-2"})
    text = page(desk, open_shop)
    assert values(text)["no_click"] == ""
    assert say("hang-last-at", load="3.6 kg on S-2") in text


def test_a_known_load_says_what_hangs_and_what_the_target_asks_for(desk: HungShop, open_shop: Shop) -> None:
    desk.hang_beam(load_0="M-2", load_1="M-2 + M-1")
    text = page(desk, open_shop)
    assert "Hang M-2 beside HOOK: 2.31 kg in all." in text
    assert "For 10 N·m just right: about 2.26 kg in all: 1.95 kg beside HOOK." in text


def test_the_plan_and_the_set_up_say_what_to_hang(desk: HungShop, open_shop: Shop) -> None:
    desk.hang(ready=False)
    assert "; hang about 3.92 kg in all: 3.61 kg beside HOOK" in page_of(desk, open_shop, "kit")
    desk.hang(tool=add_tool(desk.acting, BEAM), targets="10; 20", ready=False)
    text = page_of(desk, open_shop, "set-up")
    assert "Zeroed as it stands: hang about 2.26 kg in all" in text
    assert "Not zeroed: about 1.96 kg in all" in text


def page_of(desk: HungShop, open_shop: Shop, step: str) -> str:
    return unescape(open_shop.page(f"/bench/{desk.check}/{step}"))


def test_before_the_first_pull_the_target_stands_where_the_reading_will(
    desk: HungShop, open_shop: Shop
) -> None:
    desk.hang()
    text = page(desk, open_shop)
    assert 'class="reading is-target"' in text
    assert say("pulls-target-ahead") in text
    assert 'data-digits="2">20</span>' in text
    desk.take(GOOD)
    assert "is-target" not in page(desk, open_shop)


# ---------------------------------------------------------------- what a load comes to


def test_a_load_is_summed_below_its_field_after_sending(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    text = send(desk, open_shop, no_click="M-2 + 0.35 kg on S-2", click="M-77")
    assert "= 2.350 kg; with HOOK 2.660 kg in all" in text
    assert 'data-sum="click"></p>' in text


def test_a_script_gets_every_mass_and_scale_to_sum_with(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    known = json.loads(page(desk, open_shop).partition('data-known="')[2].partition('" data-sum-words')[0])
    assert (known["mass"]["B-200"], known["scale"], known["always"]) == (0.2, {"S-2": 1.0}, 0.31)


def test_a_pull_in_the_list_says_what_hung_in_all(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    desk.take(GOOD)
    assert "3.860 ± 0.050 kg in all" in page(desk, open_shop)


# ---------------------------------------------------------------- refused, asked about, doubted


def test_a_piece_named_twice_is_refused_beside_its_field(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    text = send(desk, open_shop, no_click="M-2", click="M-2 + M-2")
    assert say("want-each-piece-once", piece="M-2") in text
    assert text.count(say("want-each-piece-once", piece="M-2")) == 2  # in the box above and beside the field
    assert values(text)["click"] == "M-2 + M-2"


@pytest.mark.parametrize(
    "typed",
    [
        {"no_click": "M-2", "click": "M-77"},
        {"no_click": "M-2", "click": "M-2 + M-2"},
        {"bucket": "3.6 kg on S-9"},
        {"bucket": "many"},
    ],
)
def test_a_load_that_is_only_misspelt_is_not_asked_whether_it_was_read_so(
    desk: HungShop, open_shop: Shop, typed: dict[str, str]
) -> None:
    desk.hang()
    assert 'name="sure"' not in send(desk, open_shop, **typed)


def test_a_load_far_from_the_target_is_asked_about_in_words_of_loads(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    text = send(desk, open_shop, bucket="40 kg on S-2")
    assert 'name="sure"' in text
    assert say("want-load-near-target", target="20 N·m") in text
    send(desk, open_shop, 303, bucket="40 kg on S-2", sure="yes")
    assert len(desk.body["pulls"]) == 1


def test_a_reading_that_cannot_be_read_is_not_asked_whether_it_was_read_so() -> None:
    ready = bench_shop()
    ready.stand()
    with shop(ready.workshop) as opened:
        text = opened.send(f"/bench/{ready.check}/as-found", 422, point="0", line="nineteen")
    assert 'name="sure"' not in text


def test_more_than_a_hand_lifts_is_warned_of_before_and_after_it_hangs(
    desk: HungShop, open_shop: Shop
) -> None:
    desk.hang(targets="20; 100", arm="350")
    warning = "An arm of 410 mm or longer would do"  # 100 N·m / (25 kg · 9.80665 m/s²) = 0.408 m
    assert warning in page(desk, open_shop, point=1) and "is more than 25 kg" not in page(desk, open_shop)
    desk.take({"bucket": "26 kg on S-2", "sure": "yes"})
    assert "26.3 kg is more than 25 kg" in page(desk, open_shop)


def test_a_load_counted_twice_is_doubted_above_the_field(desk: HungShop, open_shop: Shop) -> None:
    desk.hang()
    desk.take({"bucket": "M-2 + M-1 + HOOK"})
    above = page(desk, open_shop).partition('id="pull-form"')[0]
    assert "names HOOK, which is counted by itself at every pull" in above


def test_a_program_is_told_of_a_load_counted_twice_and_of_what_to_hang(
    desk: HungShop, open_shop: Shop
) -> None:
    desk.hang()
    sent = {"bucket": "M-2 + M-1 + HOOK"}
    answer = open_shop.client.post(f"/api/checks/{desk.check}/as-found/0", json=sent)
    told: dict[str, Any] = answer.json()
    (doubt,) = told["doubts"]
    assert (doubt["code"], doubt["facts"]["piece"]) == ("names-always-pull", "HOOK")
    assert told["pulls"][0]["loads"] == ["M-2 + M-1 + HOOK"]
    assert told["pulls"][0]["kilogram"] == pytest.approx(3.62)
    assert told["hanging"]["target_kilogram"] == pytest.approx(3.92, abs=0.01)
    assert (told["hanging"]["always"], told["hanging"]["begin"]) == ("HOOK", "M-2 + M-1 + B-200")


def test_a_program_is_offered_what_to_hang_at_the_set_up(desk: HungShop, open_shop: Shop) -> None:
    desk.hang(tool=add_tool(desk.acting, BEAM), targets="10; 20", ready=False)
    offers = open_shop.client.get(f"/api/checks/{desk.check}/offers").json()
    assert offers["set_up"]["hang_kilogram"] == [
        pytest.approx(2.265, abs=0.01),
        pytest.approx(4.53, abs=0.02),
    ]


# ---------------------------------------------------------------- cautions


def test_a_tool_that_shows_its_torque_is_not_said_to_jump(desk: HungShop, open_shop: Shop) -> None:
    jumps = say("caution-jump")
    desk.hang(ready=False)
    assert jumps in page_of(desk, open_shop, "set-up")
    beam = add_tool(desk.acting, BEAM)
    desk.hang(tool=beam, targets="10", ready=False)
    text = page_of(desk, open_shop, "set-up")
    assert jumps not in text and say("caution-feet") in text
    assert jumps not in unescape(open_shop.page(f"/rigs/{desk.rig}?tool={beam}"))
    assert jumps in unescape(open_shop.page(f"/rigs/{desk.rig}?tool={desk.tool}"))
    assert set(CAUTIONS) - set(cautions(signals=False)) == {"caution-jump"}
