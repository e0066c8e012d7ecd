"""Between two turns few pulls will do; after the lock in full, and first near the setting."""

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
    running_point,
    trials_at,
    turn_adjuster,
    unread_points,
    wanted_pulls,
)

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


def test_as_left_it_first_brackets_the_setting_by_half_the_limit(hung: HungShop) -> None:
    first = trials_at(hung.body, AS_LEFT, 1).next
    assert first is not None and first.level_percent == pytest.approx(
        -2, abs=0.8
    )  # of ±4 %, as near as these weights come
    say(hung, AS_LEFT, 1, first.load, clicked=False)
    second = trials_at(hung.body, AS_LEFT, 1).next
    assert second is not None and second.level_percent == pytest.approx(2, abs=0.8)


def test_where_the_load_below_clicks_nothing_above_is_tried(hung: HungShop) -> None:
    first = trials_at(hung.body, AS_LEFT, 1).next
    assert first is not None
    say(hung, AS_LEFT, 1, first.load, clicked=True)
    second = trials_at(hung.body, AS_LEFT, 1).next
    assert second is not None and second.level_percent < first.level_percent
