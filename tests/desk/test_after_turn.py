"""Between two turns few pulls will do; after the lock in full, and first near the setting."""

from itertools import pairwise

import pytest

from desk.bench_shop import HIGH_READINGS, BenchShop, bench_shop
from desk.hung_shop import HungShop, hung_shop
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    answer_trial,
    exercise,
    goes_by_trials,
    is_read_again,
    is_turning,
    judge_phase,
    lock_adjuster,
    next_point,
    next_unread,
    running_point,
    strike_out,
    trials_at,
    turn_adjuster,
    unread_points,
    wanted_pulls,
)
from steelyard.desk.adjuster_belief import stands

THREE = tuple(" ".join(row.split()[:3]) for row in HIGH_READINGS)


@pytest.fixture
def shop() -> BenchShop:
    """Found out, and turned once."""
    shop = bench_shop()
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    turn(shop)
    return shop


@pytest.fixture
def hung() -> HungShop:
    """Found out by yes and no at 20 and 60 N·m, and turned once."""
    shop = hung_shop()
    shop.hang()
    for point, loads in ((0, ("M-2 + M-1", "M-2")), (1, ("M-10 + M-2", "M-10 + M-1"))):
        for load, clicked in zip(loads, (True, False), strict=True):
            say(shop, AS_FOUND, point, load, clicked=clicked)
    judge_phase(shop.acting, shop.check, AS_FOUND, {"incomplete": "yes"})
    turn(shop)
    return shop


def turn(shop: BenchShop) -> None:
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})


def say(shop: BenchShop, phase: str, point: int, load: str, *, clicked: bool) -> None:
    typed = {"load": load, "clicked": "yes" if clicked else "no", "sure": "yes"}
    answer_trial(shop.acting, shop.check, phase, point, typed)


def test_three_pulls_at_each_point_are_wanted_between_turns(shop: BenchShop) -> None:
    assert is_turning(shop.body)
    assert wanted_pulls(shop.body, AS_LEFT, 5) == 3
    assert wanted_pulls(shop.body, AS_LEFT, 2) == 2
    assert wanted_pulls(shop.body, AS_FOUND, 5) == 5
    shop.pull((THREE[0],), AS_LEFT)
    assert next_point(shop.body, AS_LEFT) == 1
    assert unread_points(shop.body) == (1, 2)
    assert not is_read_again(shop.body)


def test_with_three_at_each_point_the_adjuster_can_go_on(shop: BenchShop) -> None:
    shop.pull(THREE, AS_LEFT)
    assert is_read_again(shop.body)
    assert next_point(shop.body, AS_LEFT) == 0  # there is more to read for the verdict


def test_after_the_lock_every_planned_pull_is_wanted(shop: BenchShop) -> None:
    lock_adjuster(shop.acting, shop.check, {})
    assert not is_turning(shop.body)
    assert wanted_pulls(shop.body, AS_LEFT, 5) == 5
    shop.pull(THREE, AS_LEFT)
    assert not is_read_again(shop.body)


def test_a_turn_after_the_lock_loosens_it(shop: BenchShop) -> None:
    lock_adjuster(shop.acting, shop.check, {})
    turn(shop)
    assert is_turning(shop.body)


def test_the_pulls_as_left_say_that_nothing_was_exercised_since_the_lock(shop: BenchShop) -> None:
    def codes() -> list[str]:
        return [doubt.code for doubt in running_point(shop.body, AS_LEFT, 0).doubts]

    assert "lock-not-exercised" not in codes()
    lock_adjuster(shop.acting, shop.check, {})
    assert "lock-not-exercised" in codes()
    exercise(shop.acting, shop.check, {"exercise_pulls": "2"})
    assert "lock-not-exercised" in codes()
    exercise(shop.acting, shop.check, {"exercise_pulls": "1"})
    assert "lock-not-exercised" not in codes()


def test_a_point_known_by_trials_is_gone_on_with_by_trials_as_left(hung: HungShop) -> None:
    assert goes_by_trials(hung.body, AS_LEFT, 0)


def test_a_point_is_read_again_once_it_both_clicked_and_did_not(hung: HungShop) -> None:
    say(hung, AS_LEFT, 0, "M-2 + M-1", clicked=True)
    assert unread_points(hung.body) == (0, 1)
    say(hung, AS_LEFT, 0, "M-2 + B-500", clicked=False)
    assert unread_points(hung.body) == (1,)


def found_at(shop: HungShop, point: int) -> float:
    """What the answers as found said. [%]"""
    return trials_at(shop.body, AS_FOUND, point).threshold.percent


def test_between_turns_the_first_trial_is_where_the_tool_is_expected(hung: HungShop) -> None:
    found = found_at(hung, 1)  # the sense of the first turn is open: as far as anybody knows it stands there
    assert found < -5  # not near the setting
    first = trials_at(hung.body, AS_LEFT, 1).next
    assert first is not None and first.level_percent == pytest.approx(found, abs=0.8)


@pytest.mark.parametrize("clicked", [True, False])
def test_it_goes_on_to_the_side_that_is_left_in_growing_steps_until_both_answered(
    hung: HungShop, clicked: bool
) -> None:
    levels = []
    for _ in range(3):
        wanted = trials_at(hung.body, AS_LEFT, 1).next
        assert wanted is not None
        levels.append(wanted.level_percent)
        say(hung, AS_LEFT, 1, wanted.load, clicked=clicked)
    side = -1 if clicked else 1
    near, far = (side * (later - sooner) for sooner, later in pairwise(levels))
    assert 0 < near < far
    enclosing = trials_at(hung.body, AS_LEFT, 1).next
    assert enclosing is not None
    say(hung, AS_LEFT, 1, enclosing.load, clicked=not clicked)
    ended = trials_at(hung.body, AS_LEFT, 1)
    assert ended.threshold.is_two_sided and ended.next is not None
    between = sorted((levels[-1], enclosing.level_percent))
    assert between[0] - 1 < ended.next.level_percent < between[1] + 1


def test_a_tool_that_a_turn_moved_far_off_is_followed_there(hung: HungShop) -> None:
    assert found_at(hung, 0) < -15  # farther than trials go otherwise
    first = trials_at(hung.body, AS_LEFT, 0).next
    assert first is not None and first.level_percent == pytest.approx(found_at(hung, 0), abs=1.6)
    say(hung, AS_LEFT, 0, first.load, clicked=True)
    second = trials_at(hung.body, AS_LEFT, 0).next
    assert second is not None and second.level_percent < first.level_percent


def test_where_it_is_expected_does_not_enter_what_the_answers_say(hung: HungShop) -> None:
    for load, clicked in (("M-10 + M-2", True), ("M-10 + M-1", False)):
        say(hung, AS_LEFT, 1, load, clicked=clicked)
    found, left = (trials_at(hung.body, phase, 1).threshold for phase in (AS_FOUND, AS_LEFT))
    assert (left.percent, left.u_percent) == (found.percent, found.u_percent)


def test_with_a_click_and_a_no_click_at_each_point_no_point_is_left(hung: HungShop) -> None:
    say(hung, AS_LEFT, 0, "M-2 + M-1", clicked=True)
    say(hung, AS_LEFT, 0, "M-2 + B-500", clicked=False)
    say(hung, AS_LEFT, 1, "M-10 + M-2", clicked=True)
    assert next_unread(hung.body, AS_LEFT) == 1
    say(hung, AS_LEFT, 1, "M-10 + M-1", clicked=False)
    assert next_unread(hung.body, AS_LEFT) is None


@pytest.fixture
def locked(hung: HungShop) -> HungShop:
    """Turned until 60 N·m stands within the limit, above the setting, read, and locked."""
    say(hung, AS_LEFT, 1, "M-10 + M-2 + B-500 + B-200 + B-100", clicked=False)
    say(hung, AS_LEFT, 1, "M-10 + M-2 + M-1 + B-200 + B-100", clicked=True)
    lock_adjuster(hung.acting, hung.check, {})
    return hung


def test_after_the_lock_it_brackets_where_the_tool_stood_inside_the_limit(locked: HungShop) -> None:
    stood = stands(locked.body, 1)
    assert stood.percent is not None and 0.5 < stood.percent < 3 and stood.is_locked
    first = trials_at(locked.body, AS_LEFT, 1).next
    assert first is not None
    assert first.level_percent == pytest.approx(stood.percent - 2, abs=0.8)  # of ±4 %, as the weights come
    say(locked, AS_LEFT, 1, first.load, clicked=False)
    second = trials_at(locked.body, AS_LEFT, 1).next
    assert second is not None
    assert second.level_percent == pytest.approx(min(stood.percent + 2, 3.6), abs=0.8)
    assert second.level_percent < 4  # so that a click shows that the limit holds


def test_after_the_lock_it_brackets_the_setting_where_nobody_knows_where_it_stood(hung: HungShop) -> None:
    for pull in [p for p in hung.body["pulls"] if p["point"] == 1]:
        strike_out(hung.acting, hung.check, pull["number"], {"reason": "misread"})
    lock_adjuster(hung.acting, hung.check, {})
    assert stands(hung.body, 1).percent is None
    first = trials_at(hung.body, AS_LEFT, 1).next
    assert first is not None and first.level_percent == pytest.approx(
        -2, abs=0.8
    )  # of ±4 %, as near as these weights come
    say(hung, AS_LEFT, 1, first.load, clicked=False)
    second = trials_at(hung.body, AS_LEFT, 1).next
    assert second is not None and second.level_percent == pytest.approx(2, abs=0.8)


def test_where_the_load_below_clicks_nothing_above_is_tried(locked: HungShop) -> None:
    first = trials_at(locked.body, AS_LEFT, 1).next
    assert first is not None
    say(locked, AS_LEFT, 1, first.load, clicked=True)
    second = trials_at(locked.body, AS_LEFT, 1).next
    assert second is not None and second.level_percent < first.level_percent
