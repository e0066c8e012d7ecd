"""Yes/no trials at the bench, on a tool whose true threshold the test knows."""

import random

import pytest

from desk.hung_shop import HungShop, hung_shop
from steelyard.desk import (
    AS_FOUND,
    Trials,
    Way,
    add_rig,
    answer_trial,
    judge_phase,
    judged_phase,
    points_at_a_glance,
    set_workshop,
    strike_out,
    trials_at,
)
from steelyard.errors import InputRefused


@pytest.fixture
def shop() -> HungShop:
    ready = hung_shop()
    ready.hang(targets="60")
    return ready


def at(shop: HungShop, way: Way | None = None) -> Trials:
    return trials_at(shop.body, AS_FOUND, 0, way=way)


def say(shop: HungShop, load: str, clicked: bool, **more: str) -> int:
    typed = {"load": load, "clicked": "yes" if clicked else "no", **more}
    return answer_trial(shop.acting, shop.check, AS_FOUND, 0, typed).number


def guided(
    shop: HungShop, true_percent: float, *, trials: int, way: Way | None = None, seed: int = 1
) -> Trials:
    """Follow the advice on a tool that trips `true_percent` above its setting, scatter 0.7 %."""
    dice = random.Random(seed)
    for _ in range(trials):
        wanted = at(shop, way).next
        assert wanted is not None
        more = {"set": wanted.set_typed} if wanted.way is Way.SETTING else {}
        say(shop, wanted.load, dice.gauss(true_percent, 0.7) <= wanted.level_percent, **more)
    return at(shop, way)


def test_before_any_answer_it_names_a_load_near_the_setting(shop: HungShop) -> None:
    first = at(shop)
    assert first.next is not None
    assert abs(first.next.level_percent) < 1
    assert first.result is None
    assert first.ways[0] is Way.LOAD


def test_following_the_advice_finds_the_threshold(shop: HungShop) -> None:
    found = guided(shop, 2.5, trials=12)
    assert found.threshold.low_percent < 2.5 < found.threshold.high_percent
    assert found.threshold.u_percent < 0.6
    assert found.low_percent is not None and found.high_percent is not None
    assert found.low_percent < found.threshold.low_percent  # the kit's ± is in it
    assert found.high_percent > found.threshold.high_percent


def test_stepping_the_setting_says_the_same_as_stepping_the_load(shop: HungShop) -> None:
    found = guided(shop, -3.0, trials=12, way=Way.SETTING)
    assert found.way is Way.SETTING
    assert found.threshold.low_percent < -3.0 < found.threshold.high_percent


def test_a_poured_load_can_be_tried_too(shop: HungShop) -> None:
    found = guided(shop, 1.0, trials=8, way=Way.POURED, seed=2)
    assert found.threshold.low_percent < 1.0 < found.threshold.high_percent


def test_every_answer_is_an_entry_with_its_estimate_beside_it(shop: HungShop) -> None:
    guided(shop, 0.0, trials=3)
    assert len(shop.body["pulls"]) == 3
    assert [e["answers"] for e in shop.body["estimates"]] == [1, 2, 3]
    assert shop.body["estimates"][0]["percent"] is None  # one side alone is a bound, not an estimate


def test_a_point_is_complete_once_more_trials_would_not_change_it(shop: HungShop) -> None:
    shop.hang(targets="60", planned="40")
    found = guided(shop, 8.0, trials=8)
    assert found.enough is not None
    assert shop.body["estimates"][-1]["enough"] == found.enough.value
    assert points_at_a_glance(shop.body, AS_FOUND)[0].is_done
    strike_out(shop.acting, shop.check, shop.body["pulls"][0]["number"], {"reason": "misread"})
    assert not points_at_a_glance(shop.body, AS_FOUND)[0].is_done  # what was said before no longer holds


def test_a_load_known_less_well_is_hung_only_where_the_others_do_not_reach() -> None:
    shop = hung_shop()
    add_rig(shop.acting, "mass", {"name": "P-4", "value": "4 kg ± 80 g"})
    shop.hang(targets="20; 23")

    def hung(point: int, answers: tuple[bool, ...]) -> set[str]:
        pieces: set[str] = set()
        for clicked in answers:
            wanted = trials_at(shop.body, AS_FOUND, point, way=Way.LOAD).next
            assert wanted is not None
            pieces |= set(wanted.load.split(" + "))
            typed = {"load": wanted.load, "clicked": "yes" if clicked else "no"}
            answer_trial(shop.acting, shop.check, AS_FOUND, point, typed)
        return pieces

    assert "P-4" not in hung(0, (False, True, False, True, False, True))
    assert "P-4" in hung(1, (False,) * 6)  # without it 3.8 kg is the most that hangs beside the hook


def test_clicks_alone_are_never_an_estimate(shop: HungShop) -> None:
    for load in ("M-10 + M-2 + M-1", "M-10 + M-2 + B-500", "M-10 + M-2"):
        say(shop, load, True)
    point = judged_phase(shop.workshop.ledger, shop.body, AS_FOUND).points[0].result
    assert point.judged.cause.value == "always-clicked"
    assert point.judged.verdict.value in ("cant-tell", "out")


def test_no_click_far_above_the_limit_is_out(shop: HungShop) -> None:
    say(shop, "M-10 + M-2 + B-500 + B-200", False)
    say(shop, "M-10 + M-2 + M-1 + B-500", False)
    judged = judged_phase(shop.workshop.ledger, shop.body, AS_FOUND).points[0].result.judged
    assert judged.verdict.value == "cant-tell"  # a click that nobody heard proves nothing alone
    say(shop, "M-10 + M-2 + M-1 + B-500 + B-200", False)
    judged = judged_phase(shop.workshop.ledger, shop.body, AS_FOUND).points[0].result.judged
    assert (judged.verdict.value, judged.cause.value) == ("out", "never-clicked")


def test_a_struck_out_answer_is_as_if_never_given(shop: HungShop) -> None:
    say(shop, "M-10 + M-2 + M-1", True)
    say(shop, "M-10 + M-2", False)
    before = at(shop).threshold.percent
    wrong = say(shop, "M-10 + M-2 + M-1", False)
    assert at(shop).threshold.percent != before
    strike_out(shop.acting, shop.check, wrong, {"reason": "misread"})
    assert at(shop).threshold.percent == before


def test_a_verdict_from_answers_is_kept_with_bracket_and_estimate(shop: HungShop) -> None:
    guided(shop, 7.0, trials=10)
    assert judge_phase(shop.acting, shop.check, AS_FOUND, {}) == "out"
    point = shop.body["verdicts"][AS_FOUND]["content"]["points"][0]
    assert point["threshold"]["sides"] in ("separated", "mixed")
    assert point["threshold"]["low_percent"] < 7.0 < point["threshold"]["high_percent"]
    assert point["pulls"][0]["clicked"] in (True, False)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"clicked": "yes"}, "load"),
        ({"load": "M-10"}, "clicked"),
        ({"load": "M-10", "clicked": "perhaps"}, "clicked"),
        ({"load": "M-99", "clicked": "yes"}, "load"),
        ({"load": "M-10 + M-10", "clicked": "yes"}, "load"),
        ({"load": "M-10", "clicked": "yes", "at": "far out"}, "at"),
        ({"load": "M-10", "clicked": "yes", "set": "sixty"}, "set"),
    ],
)
def test_bad_input_is_refused_beside_its_field(shop: HungShop, typed: dict[str, str], field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        answer_trial(shop.acting, shop.check, AS_FOUND, 0, typed)
    assert refused.value.field == field
    assert shop.body["pulls"] == []


def test_setting_and_mark_are_read_by_the_decimal_mark_of_the_workshop(shop: HungShop) -> None:
    set_workshop(shop.acting, {"decimal_mark": ","})
    say(shop, "M-10 + M-2", False, set="58,375", at="449,125")
    say(shop, "M-10 + M-2 + M-1 + B-500", True, set="58,375 N·m")
    torque, level = at(shop).pulls[0].shown_newton_metre, at(shop).each[0].low_percent
    assert torque == 58.375
    assert level == pytest.approx(100 * (at(shop).pulls[0].torque_newton_metre / 58.375 - 1))


def test_a_changed_set_up_is_noticed(shop: HungShop) -> None:
    for _ in range(4):
        say(shop, "M-10 + M-2 + B-500", True)
        say(shop, "M-10 + M-2", False)
    for _ in range(4):
        say(shop, "M-10 + M-2 + M-1 + B-500", False)
    assert [d.code for d in at(shop).doubts if d.code.startswith("trials-")][0] == "trials-changed"


def test_an_answer_that_goes_badly_with_the_others_is_asked_about(shop: HungShop) -> None:
    for load, clicked in (
        ("M-10 + M-2 + M-1", True),
        ("M-10 + M-2 + B-500", False),
        ("M-10 + M-2 + M-1", True),
    ):
        say(shop, load, clicked)
    assert not [d for d in at(shop).doubts if d.code.startswith("trials-odd")]
    say(shop, "M-10 + M-2 + M-1 + B-500 + B-200", False)
    (odd,) = [d for d in at(shop).doubts if d.code.startswith("trials-odd")]
    assert odd.code == "trials-odd-no-click"
    assert odd.facts["load"] == "M-10 + M-2 + M-1 + B-500 + B-200"


def test_a_wide_gap_between_the_answers_is_said_to_say_little(shop: HungShop) -> None:
    say(shop, "M-10", False)
    say(shop, "M-10 + M-2 + M-1 + B-500 + B-200", True)
    assert "trials-mostly-usual" in [d.code for d in at(shop).doubts]
    say(shop, "M-10 + M-2 + M-1", True)
    say(shop, "M-10 + M-2 + B-500", False)
    assert "trials-mostly-usual" not in [d.code for d in at(shop).doubts]


def test_torques_well_outside_the_range_are_one_doubt_and_those_a_little_outside_none(shop: HungShop) -> None:
    shop.hang(targets="20")
    for load in ("M-2 + M-1 + B-200 + B-100", "M-2 + M-1 + B-500"):  # 4 % below the range, and inside
        say(shop, load, True)
    assert "trial-outside-range" not in [doubt.code for doubt in at(shop).doubts]
    for clicked in (True, False, True):
        say(shop, "M-2 + B-500", clicked, sure="yes")  # 38 % below it
    doubts = [doubt for doubt in at(shop).doubts if doubt.code == "trial-outside-range"]
    assert [doubt.facts for doubt in doubts] == [{"point": "20 N·m cw"}]
