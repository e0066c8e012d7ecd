"""Guidance at the adjuster, on a tool whose adjuster the test knows."""

import random

import pytest

from desk.bench_shop import BenchShop, bench_shop
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Guide,
    close_check,
    correct_turn,
    exercise,
    guide,
    judge_phase,
    lock_adjuster,
    read_pull,
    take_back,
    turn_adjuster,
)
from steelyard.desk.adjuster_belief import Question
from steelyard.desk.guide import learned_gain
from steelyard.desk.turns import said_turns
from steelyard.errors import InputRefused

TARGETS = (20.0, 60.0, 100.0)


class Adjustable:
    """A wrench at the bench, with an adjuster of its own. gain: of a turn "in", at every point. [N m]"""

    def __init__(self, shop: BenchShop, *, off: float, gain: float, slope: float = 0.0) -> None:
        self.shop, self.off, self.gain, self.slope = shop, off, gain, slope
        self.dice = random.Random(4)

    def pulls(self, phase: str, count: int = 3) -> None:
        """Read every point."""
        for point, target in enumerate(TARGETS):
            for _ in range(count):
                true = target + self.off + self.slope * target
                line = f"{true * (1 + 0.004 * self.dice.gauss(0, 1)):.2f}"
                read_pull(self.shop.acting, self.shop.check, phase, point, {"line": line})

    def found(self) -> None:
        """As found, with its verdict."""
        self.shop.stand()
        self.pulls(AS_FOUND, 5)
        judge_phase(self.shop.acting, self.shop.check, AS_FOUND, {})

    def guide(self) -> Guide:
        """What the guide says now."""
        said = guide(self.shop.workshop.ledger, self.shop.body)
        assert said is not None
        return said

    def turn(self, turns: float, way: str, *, really: str = "") -> None:
        """Log a turn, and do it."""
        typed = {"turns": said_turns(turns), "way": way}
        turn_adjuster(self.shop.acting, self.shop.check, typed)
        self.off += self.gain * turns * (1 if (really or way) == "in" else -1)

    def follow(self, *, most: int = 8) -> int:
        """Do as advised until it says stay; the number of turns."""
        for done in range(most):
            said = self.guide()
            assert said.advice is not None
            if not said.way:
                return done
            self.turn(abs(said.advice.turns), said.way)
            self.pulls(AS_LEFT)
        raise AssertionError("never done")


@pytest.fixture
def shop() -> BenchShop:
    return bench_shop()


@pytest.mark.parametrize("gain", [3.0, -3.0, 8.0])
def test_following_the_guide_brings_the_tool_in(shop: BenchShop, gain: float) -> None:
    tool = Adjustable(shop, off=-7.0, gain=gain)
    tool.found()
    assert tool.follow() <= 4
    lock_adjuster(shop.acting, shop.check, {})
    exercise(shop.acting, shop.check, {"exercise_pulls": "3"})
    tool.pulls(AS_LEFT, 5)
    assert judge_phase(shop.acting, shop.check, AS_LEFT, {}) == "in"


def test_the_first_turn_is_a_small_test_turn(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=-7.0, gain=3.0)
    tool.found()
    said = tool.guide()
    assert said.advice is not None
    assert said.advice.sort == "test"
    assert 1 / 8 <= abs(said.advice.turns) <= 1 / 2


def test_after_a_turn_it_waits_for_readings(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=-7.0, gain=3.0)
    tool.found()
    tool.turn(0.25, "in")
    assert tool.guide().advice is None


def test_a_slope_that_no_preload_mends_is_said(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=8.0, gain=3.0, slope=-0.16)
    tool.found()
    for turns in (0.25, 0.25):
        tool.turn(turns, "out")
        tool.pulls(AS_LEFT)
    said = tool.guide()
    assert said.outlook.best_ratio > 1
    assert said.outlook.mending in ("cannot", "not-known")


def turned_the_wrong_way(shop: BenchShop, *, really: tuple[str, ...] = ("in", "in", "out")) -> Adjustable:
    """Turned three times, each logged as in."""
    tool = Adjustable(shop, off=-9.0, gain=3.0)
    tool.found()
    for way in really:
        tool.turn(0.5, "in", really=way)
        tool.pulls(AS_LEFT)
    return tool


def test_a_turn_logged_the_wrong_way_round_stops_the_advice_until_it_is_put_right(shop: BenchShop) -> None:
    tool = turned_the_wrong_way(shop, really=("in", "in"))
    said = tool.guide()
    assert (said.doubts, said.question) == ((), None) and said.advice is not None
    sure, gain = said.advice.sense_probability, said.gain_newton_metre
    tool.turn(0.5, "in", really="out")
    tool.pulls(AS_LEFT)
    said = tool.guide()
    assert [d.code for d in said.doubts] == ["turn-reversed"]
    assert said.question == Question(3, "in")
    assert (said.advice, said.way) == (None, "")
    assert said.gain_newton_metre == pytest.approx(gain, rel=0.01)  # the turn in question teaches nothing
    assert said.points[-1].now_percent == pytest.approx(tool.off, abs=0.5)  # but what was read after it does
    assert sure > 0.99


def test_a_turn_corrected_teaches_what_it_did_and_the_guide_goes_on(shop: BenchShop) -> None:
    tool = turned_the_wrong_way(shop)
    pulls = shop.body["pulls"]
    correct_turn(shop.acting, shop.check, 3, {"way": "out"})
    assert [(t["way"], t.get("written")) for t in shop.body["turns"]][1:] == [("in", None), ("out", "in")]
    assert shop.body["pulls"] == pulls  # the tool stands as it did
    said = tool.guide()
    assert said.question is None and said.doubts == () and said.way == "in"
    assert tool.follow() <= 3
    assert learned_gain(shop.workshop.ledger, shop.body) == pytest.approx(0.03, rel=0.3)


def test_a_turn_that_was_made_as_written_makes_the_sense_be_learned_anew(shop: BenchShop) -> None:
    tool = turned_the_wrong_way(shop, really=("out", "out", "in"))  # both before it were logged wrongly
    assert tool.guide().question == Question(3, "in")
    correct_turn(shop.acting, shop.check, 3, {"way": "in"})
    said = tool.guide()
    assert said.question is None and said.advice is not None and said.way == "in"
    assert said.advice.sense_probability > 0.9
    assert tool.follow() <= 3


def test_the_first_turn_in_question_is_asked_about_even_after_another(shop: BenchShop) -> None:
    tool = turned_the_wrong_way(shop)
    tool.turn(0.5, "in")
    tool.pulls(AS_LEFT)
    assert tool.guide().question == Question(3, "in")


@pytest.mark.parametrize(
    ("turn", "way", "field"), [(0, "in", "turn"), (4, "in", "turn"), (3, "other", "way")]
)
def test_only_a_turn_of_the_log_is_corrected_and_only_to_in_or_out(
    shop: BenchShop, turn: int, way: str, field: str
) -> None:
    turned_the_wrong_way(shop)
    with pytest.raises(InputRefused) as refused:
        correct_turn(shop.acting, shop.check, turn, {"way": way})
    assert refused.value.field == field


def test_after_a_turn_that_nobody_can_tell_only_what_was_read_after_it_counts(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=-7.0, gain=3.0)
    tool.found()
    turn_adjuster(shop.acting, shop.check, {"turns": "a bit", "way": "other"})
    tool.off = -2.0
    tool.pulls(AS_LEFT)
    said = tool.guide()
    assert said.points[-1].now_percent == pytest.approx(-2.0, abs=0.5)  # never the mean with what was before
    assert said.advice is not None and said.advice.sense_probability == pytest.approx(0.5)


def test_what_locking_moved_is_shown_and_what_was_read_before_it_no_longer_counts(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=-5.0, gain=3.0)
    tool.found()
    tool.turn(1.5, "in")
    tool.pulls(AS_LEFT)
    before = [pull["number"] for pull in shop.body["pulls"] if pull["phase"] == AS_LEFT]
    lock_adjuster(shop.acting, shop.check, {})
    assert all(p["struck_out"] for p in shop.body["pulls"] if p["number"] in before)
    with pytest.raises(InputRefused):
        take_back(shop.acting, shop.check, before[0])
    tool.off += 1.0
    tool.pulls(AS_LEFT)
    shifts = tool.guide().shift_percent
    assert shifts[-1] == pytest.approx(1.0, abs=0.6)  # 1 N·m of 100 N·m, scatter 0.4 % a pull


def test_nothing_can_be_locked_before_a_turn(shop: BenchShop) -> None:
    Adjustable(shop, off=-5.0, gain=3.0).found()
    with pytest.raises(InputRefused) as refused:
        lock_adjuster(shop.acting, shop.check, {})
    assert refused.value.field == "lock_note"


def test_a_turn_must_be_a_number_so_that_it_teaches(shop: BenchShop) -> None:
    Adjustable(shop, off=-5.0, gain=3.0).found()
    with pytest.raises(InputRefused) as refused:
        turn_adjuster(shop.acting, shop.check, {"turns": "a bit", "way": "in"})
    assert refused.value.field == "turns"


def test_exercise_after_a_turn_leaves_the_verdict_as_found_standing(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=-5.0, gain=3.0)
    tool.found()
    tool.turn(0.5, "in")
    exercise(shop.acting, shop.check, {"exercise_pulls": "3"})
    assert tool.guide().points


def test_the_next_tool_of_the_kind_starts_from_what_this_one_taught(shop: BenchShop) -> None:
    tool = Adjustable(shop, off=-7.0, gain=3.0)
    tool.found()
    tool.follow()
    assert learned_gain(shop.workshop.ledger, shop.body) == pytest.approx(0.03, rel=0.4)
    lock_adjuster(shop.acting, shop.check, {})
    tool.pulls(AS_LEFT, 5)
    judge_phase(shop.acting, shop.check, AS_LEFT, {})
    close_check(shop.acting, shop.check, {"next_due": ""})
    again = Adjustable(shop, off=6.0, gain=3.0)
    again.found()
    said = again.guide()
    assert said.learned_from == 1
    assert said.advice is not None
    assert said.advice.sort == "test"  # a sense is never taken from another tool
