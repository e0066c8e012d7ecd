"""A check at the bench, from why today to the sealed record."""

from typing import Any

import pytest

from desk.bench_shop import HIGH_READINGS, READINGS, BenchShop, CrossedLedger, bench_shop
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Step,
    StepState,
    add_rig,
    add_tool,
    attach_photograph,
    check_view,
    choose_kit,
    close_check,
    exercise,
    judge_phase,
    look_over,
    next_point,
    open_check,
    quarantine,
    read_pull,
    record_body,
    record_view,
    release_tool,
    retire_tool,
    running_point,
    sell_rig,
    set_up,
    set_workshop,
    standing_verdict,
    strike_out,
    take_back,
    tool_event,
    turn_adjuster,
    waive_adjusting,
)
from steelyard.errors import Conflict, InputRefused, NotFound, RecordSealed
from steelyard.records import Subject, chain_breaks


@pytest.fixture
def shop() -> BenchShop:
    return bench_shop()


def states(shop: BenchShop) -> dict[Step, StepState]:
    return {s.step: s.state for s in check_view(shop.workshop.ledger, shop.check).steps}


def refused(code: str, field: str) -> "pytest.RaisesExc[InputRefused]":
    return pytest.RaisesExc(
        InputRefused, check=lambda trouble: (trouble.wanted, trouble.field) == (code, field)
    )


def tool_of(shop: BenchShop) -> dict[str, Any]:
    body = shop.workshop.ledger.document(Subject.TOOL.named(shop.tool))
    if body is None:
        raise AssertionError("the tool is gone")
    return dict(body)


def test_each_step_leads_to_the_next(shop: BenchShop) -> None:
    shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.LOOK
    look_over(shop.acting, shop.check, {"damaged": "no"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.KIT
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "quick"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.SET_UP
    set_up(shop.acting, shop.check, {"axis": "vertical", "zeroed": "with-tool", "is_ready": "yes"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.EXERCISE
    exercise(shop.acting, shop.check, {"exercise_pulls": "0"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.AS_FOUND


def test_a_whole_check_ends_in_a_sealed_record(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS)
    assert judge_phase(shop.acting, shop.check, AS_FOUND, {}) == "cant-tell"
    assert close_check(shop.acting, shop.check, {"next_due": "2027-11-25"}) == 1
    body = record_body(shop.workshop.ledger, 1)
    assert body["closed"]["verdict"] == "cant-tell"
    assert tool_of(shop)["next_due"] == "2027-11-25"
    assert tool_of(shop)["quarantine"] is None
    rows = [(e.number, e.body, e.digest) for e in shop.workshop.ledger.entries()]
    assert list(chain_breaks(rows)) == []


def test_the_verdict_is_the_one_of_the_same_check_from_a_file(shop: BenchShop) -> None:
    """The bench and `check FILE` judge the same numbers."""
    from steelyard.desk import check_content, check_form, judge_check

    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    file = check_form(shop.workshop.ledger, shop.body)
    assert check_content(judge_check(file)) == shop.body["verdicts"][AS_FOUND]["content"]


def test_damage_stops_the_check_and_quarantines_the_tool(shop: BenchShop) -> None:
    shop.check = open_check(shop.acting, shop.tool, {"why": "dropped"})
    with refused("want-damage-note", "look_note"):
        look_over(shop.acting, shop.check, {"damaged": "yes"})
    look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "cracked head"})
    assert states(shop)[Step.AS_FOUND] is StepState.SKIPPED
    assert check_view(shop.workshop.ledger, shop.check).now is Step.CLOSE
    assert tool_of(shop)["quarantine"]["note"] == "cracked head"
    close_check(shop.acting, shop.check, {})
    assert tool_of(shop)["quarantine"] is not None
    assert [event["what"] for event in tool_of(shop)["events"]] == ["quarantined"]


def test_a_tool_damaged_on_sight_is_due_at_once_when_it_is_released(shop: BenchShop) -> None:
    shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
    look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "cracked head"})
    release_tool(shop.acting, shop.tool, {"reason": "it was dirt"})
    assert (tool_of(shop)["quarantine"], tool_of(shop)["next_due"]) == (None, "2026-11-25")


def test_damage_of_a_tool_that_is_set_aside_already_leaves_that_as_it_is(shop: BenchShop) -> None:
    shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
    quarantine(shop.acting, shop.tool, {"reason": "was out"})
    look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "cracked head"})
    assert tool_of(shop)["quarantine"]["note"] == "was out"


def test_damage_may_be_gone_on_with_on_purpose(shop: BenchShop) -> None:
    shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
    look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "scratched", "goes_on": "yes"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.KIT
    assert tool_of(shop)["quarantine"] is None


def test_an_out_tool_goes_into_quarantine_whatever_is_ticked(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(HIGH_READINGS)
    assert judge_phase(shop.acting, shop.check, AS_FOUND, {}) == "out"
    waive_adjusting(shop.acting, shop.check, {"waive_reason": "goes to the maker"})
    close_check(shop.acting, shop.check, {"next_due": "2027-01-01"})
    assert tool_of(shop)["quarantine"] is not None


def test_adjusting_is_locked_until_as_found_is_judged(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS)
    assert states(shop)[Step.ADJUST] is StepState.LOCKED
    with refused("want-found-first", "turns"):
        turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})


def test_after_a_turn_pulls_are_as_left_and_must_be_judged(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    with refused("want-adjusted-first", "line"):
        read_pull(shop.acting, shop.check, AS_LEFT, 0, {"line": "19.9"})
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in", "turn_note": "first"})
    with refused("want-no-more-found", "line"):
        read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.9"})
    with refused("want-left-verdict", "close"):
        close_check(shop.acting, shop.check, {})
    shop.pull(READINGS, AS_LEFT)
    judge_phase(shop.acting, shop.check, AS_LEFT, {})
    close_check(shop.acting, shop.check, {})
    body = record_body(shop.workshop.ledger, 1)
    assert body["closed"]["phase"] == AS_LEFT
    assert set(body["verdicts"]) == {AS_FOUND, AS_LEFT}
    assert [turn["turns"] for turn in body["turns"]] == ["1/4"]


def test_pulls_before_another_turn_are_not_as_left_any_more(shop: BenchShop) -> None:
    """They stay with the reason; the verdict on them does not stand, and nobody counts them again."""
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})
    shop.pull(READINGS, AS_LEFT)
    slip = read_pull(shop.acting, shop.check, AS_LEFT, 0, {"line": "12"})
    strike_out(shop.acting, shop.check, slip.number, {"reason": "slipped"})
    judge_phase(shop.acting, shop.check, AS_LEFT, {})
    turn_adjuster(shop.acting, shop.check, {"turns": "1/8", "way": "in"})
    assert standing_verdict(shop.body, AS_FOUND) is not None
    with refused("want-left-verdict", "close"):
        close_check(shop.acting, shop.check, {})
    left = [pull for pull in shop.body["pulls"] if pull["phase"] == AS_LEFT]
    assert [pull["struck_out"] for pull in left] == ["the adjuster was turned again"] * 15 + ["slipped"]
    with refused("want-pull-since-turn", "pull"):
        take_back(shop.acting, shop.check, left[0]["number"])
    shop.pull(READINGS, AS_LEFT)
    judge_phase(shop.acting, shop.check, AS_LEFT, {})
    assert close_check(shop.acting, shop.check, {}) == 1
    (point, *_) = record_body(shop.workshop.ledger, 1)["verdicts"][AS_LEFT]["content"]["points"]
    assert sum(pull["counted"] for pull in point["pulls"]) == 5


def test_a_verdict_as_found_that_is_stale_is_not_sealed_even_after_adjusting(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})
    shop.pull(READINGS, AS_LEFT)
    judge_phase(shop.acting, shop.check, AS_LEFT, {})
    strike_out(shop.acting, shop.check, shop.body["pulls"][0]["number"], {"reason": "misread"})
    with refused("want-found-verdict", "close"):
        close_check(shop.acting, shop.check, {})
    judge_phase(shop.acting, shop.check, AS_FOUND, {"incomplete": "yes"})
    assert close_check(shop.acting, shop.check, {}) == 1


def test_a_turn_sent_again_is_one_turn(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})
    shop.pull(READINGS[:1], AS_LEFT)
    sent = shop.workshop.acting(submission="a token")
    for _ in range(2):
        turn_adjuster(sent, shop.check, {"turns": "1/8", "way": "in"})
    assert [turn["turns"] for turn in shop.body["turns"]] == ["1/4", "1/8"]


def test_a_later_pull_makes_the_verdict_stale(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"})
    assert standing_verdict(shop.body, AS_FOUND) is None
    with refused("want-found-verdict", "close"):
        close_check(shop.acting, shop.check, {})


def test_missing_pulls_are_left_out_only_on_purpose(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS[:1])
    with refused("want-all-pulls", "incomplete"):
        judge_phase(shop.acting, shop.check, AS_FOUND, {})
    judge_phase(shop.acting, shop.check, AS_FOUND, {"incomplete": "yes"})
    assert [p["target"] for p in shop.body["verdicts"][AS_FOUND]["content"]["points"]] == ["20 N·m"]


def test_nothing_can_be_judged_without_two_pulls(shop: BenchShop) -> None:
    shop.stand()
    read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"})
    with refused("want-two-pulls", "line"):
        judge_phase(shop.acting, shop.check, AS_FOUND, {"incomplete": "yes"})


def test_pulls_go_to_the_next_point_once_one_is_full(shop: BenchShop) -> None:
    shop.stand()
    assert next_point(shop.body, AS_FOUND) == 0
    shop.pull(READINGS[:2])
    assert next_point(shop.body, AS_FOUND) == 2


def test_a_pull_is_kept_as_typed_with_the_unit_beside_the_field(shop: BenchShop) -> None:
    shop.stand()
    read_pull(shop.acting, shop.check, AS_FOUND, 2, {"line": "97,4"})
    read_pull(shop.acting, shop.check, AS_FOUND, 2, {"line": "72.1 ft-lb"})
    assert [p["pull"]["reading"] for p in shop.body["pulls"]] == ["97,4 N·m", "72.1 ft-lb"]


@pytest.mark.parametrize(
    ("target", "symbol"), [("2500 cN·m", "cN·m"), ("25 Nm", "N·m"), ("20 ft-lb", "lbf·ft")]
)
def test_a_bare_number_is_in_the_unit_of_its_target(shop: BenchShop, target: str, symbol: str) -> None:
    """However the target was spelled, and whatever the workshop's usual unit is."""
    set_workshop(shop.acting, {"unit": "lbf·in"})
    shop.stand(plan={"plan": "own", "targets": target, "pulls": "2"})
    number = target.split()[0]
    read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": number})
    assert shop.body["pulls"][0]["pull"]["reading"] == f"{number} {symbol}"


def test_an_odd_reading_is_asked_about_and_taken_when_sure(shop: BenchShop) -> None:
    shop.stand()
    with refused("want-sure", "line"):
        read_pull(shop.acting, shop.check, AS_FOUND, 2, {"line": "980"})
    assert shop.body["pulls"] == []
    read_pull(shop.acting, shop.check, AS_FOUND, 2, {"line": "980", "sure": "yes"})
    assert len(shop.body["pulls"]) == 1


def doubts(shop: BenchShop, *lines: str) -> list[str]:
    """Codes of what is doubted at once after these readings at 100 N·m."""
    for line in lines:
        read_pull(shop.acting, shop.check, AS_FOUND, 2, {"line": line})
    return [doubt.code for doubt in running_point(shop.body, AS_FOUND, 2).doubts]


@pytest.mark.parametrize(
    ("lines", "codes"),
    [
        (("97.4",), []),
        (("71.2",), ["unit-suspected"]),
        (("22.0",), ["far-from-target"]),
        (("97.4", "97.6", "104.9"), []),
    ],
)
def test_what_is_odd_shows_as_it_happens(shop: BenchShop, lines: tuple[str, ...], codes: list[str]) -> None:
    """71.2 at 100 N·m is an adapter left in lbf·ft; own example."""
    shop.stand()
    assert doubts(shop, *lines) == codes


def test_a_peak_above_the_others_asks_whether_the_hand_stopped(shop: BenchShop) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "full"})
    peak = {"axis": "vertical", "zeroed": "with-tool", "mode": "peak", "is_ready": "yes"}
    set_up(shop.acting, shop.check, peak)
    exercise(shop.acting, shop.check, {"exercise_pulls": "5"})
    assert doubts(shop, "97.4", "97.6", "104.9") == ["followed-through"]


def test_skipped_exercise_is_said_at_once(shop: BenchShop) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "full"})
    set_up(shop.acting, shop.check, {"axis": "vertical", "zeroed": "with-tool", "is_ready": "yes"})
    assert doubts(shop) == ["exercise-skipped"]


@pytest.mark.parametrize("line", ["", "abc", "nan", "1e400", "-97.4", "0", "97.4 kg", "9" * 300, "97.4 97.5"])
def test_it_refuses_a_line_it_cannot_read(shop: BenchShop, line: str) -> None:
    shop.stand()
    with pytest.raises(InputRefused) as caught:
        read_pull(shop.acting, shop.check, AS_FOUND, 2, {"line": line})
    assert caught.value.field == "line"
    assert shop.body["pulls"] == []


def test_a_struck_out_pull_stays_and_can_be_counted_again(shop: BenchShop) -> None:
    shop.stand()
    entry = read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "12.0"})
    with refused("want-strike-reason", "reason"):
        strike_out(shop.acting, shop.check, entry.number, {"reason": " "})
    strike_out(shop.acting, shop.check, entry.number, {"reason": "the hand slipped"})
    assert shop.body["pulls"][0]["struck_out"] == "the hand slipped"
    assert running_point(shop.body, AS_FOUND, 0).counted == 0
    take_back(shop.acting, shop.check, entry.number)
    assert running_point(shop.body, AS_FOUND, 0).counted == 1


def test_a_line_sent_twice_is_kept_struck_out(shop: BenchShop) -> None:
    shop.stand()
    read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6", "sent_twice": "yes"})
    assert shop.body["pulls"][0]["struck_out"] == "sent twice?"


def test_a_submission_sent_again_writes_nothing_more(shop: BenchShop) -> None:
    shop.stand()
    acting = shop.workshop.acting(submission="a token")
    first = read_pull(acting, shop.check, AS_FOUND, 0, {"line": "19.6"})
    again = read_pull(acting, shop.check, AS_FOUND, 0, {"line": "19.6"})
    assert (first.number, len(shop.body["pulls"])) == (again.number, 1)


def test_the_second_of_two_windows_is_told(shop: BenchShop) -> None:
    shop.stand()
    seen = int(shop.body["last"])
    read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"}, seen=seen)
    with pytest.raises(Conflict):
        read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.7"}, seen=seen)
    assert len(shop.body["pulls"]) == 1


def test_a_pull_that_comes_while_a_check_is_sealed_does_not_break_the_seal() -> None:
    ledger = CrossedLedger()
    shop = bench_shop(ledger)
    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    ledger.crossing = lambda: close_check(shop.acting, shop.check, {})
    with pytest.raises(Conflict):
        read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"})
    assert record_view(ledger, 1).is_intact


def test_a_photograph_that_comes_while_a_check_is_sealed_does_not_break_the_seal() -> None:
    ledger = CrossedLedger()
    shop = bench_shop(ledger)
    shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
    look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "bent"})
    ledger.crossing = lambda: close_check(shop.acting, shop.check, {})
    with pytest.raises(Conflict):
        attach_photograph(shop.acting, shop.check, b"x", "image/jpeg", {})
    assert record_view(ledger, 1).is_intact


def test_a_pull_that_comes_while_a_verdict_is_reckoned_is_not_taken_for_judged() -> None:
    ledger = CrossedLedger()
    shop = bench_shop(ledger)
    shop.stand()
    shop.pull(READINGS)
    ledger.crossing = lambda: read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "25", "sure": "yes"})
    with pytest.raises(Conflict):
        judge_phase(shop.acting, shop.check, AS_FOUND, {})
    assert standing_verdict(shop.body, AS_FOUND) is None


def test_a_pull_that_comes_while_a_check_is_closed_is_not_sealed_unjudged() -> None:
    ledger = CrossedLedger()
    shop = bench_shop(ledger)
    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    ledger.crossing = lambda: read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "25", "sure": "yes"})
    with refused("want-found-verdict", "close"):
        close_check(shop.acting, shop.check, {})
    assert shop.body["closed"] is None


def test_an_out_tool_that_is_released_while_its_check_is_closed_stays_in_quarantine() -> None:
    ledger = CrossedLedger()
    shop = bench_shop(ledger)
    quarantine(shop.acting, shop.tool, {"reason": "heard it creak"})
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    ledger.crossing = lambda: release_tool(shop.acting, shop.tool, {"reason": "a mistake"})
    close_check(shop.acting, shop.check, {})
    assert tool_of(shop)["quarantine"] is not None


def test_the_kit_cannot_change_once_pulls_are_read(shop: BenchShop) -> None:
    shop.stand()
    read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"})
    with refused("want-same-kit", "rig"):
        choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "quick"})
    with refused("want-fitting-rig", "rig"):
        choose_kit(shop.acting, shop.check, {"rig": "nowhere", "plan": "full"})


def test_a_rig_that_was_sold_is_no_kit_but_of_the_check_it_stands_in(shop: BenchShop) -> None:
    kit = {"rig": shop.rig, "plan": "full"}
    shop.open()
    choose_kit(shop.acting, shop.check, kit)
    sell_rig(shop.acting, shop.rig, {}, None)
    choose_kit(shop.acting, shop.check, kit)
    shop.open()
    with refused("want-fitting-rig", "rig"):
        choose_kit(shop.acting, shop.check, kit)


def test_a_retired_tool_is_not_checked(shop: BenchShop) -> None:
    retire_tool(shop.acting, shop.tool, {})
    with refused("want-tool-in-use", "why"):
        open_check(shop.acting, shop.tool, {"why": "due"})


def test_a_token_of_the_closing_of_another_check_is_refused(shop: BenchShop) -> None:
    acting = shop.workshop.acting(submission="a token")
    checks = [open_check(shop.acting, shop.tool, {"why": "training"}) for _ in range(2)]
    for check in checks:
        look_over(shop.acting, check, {"damaged": "yes", "look_note": "bent"})
    close_check(acting, checks[0], {})
    with refused("want-new-submission", "submission"):
        close_check(acting, checks[1], {})


def test_another_kit_is_set_up_before_pulls_are_read_with_it(shop: BenchShop) -> None:
    other = add_rig(shop.acting, "transducer", {"name": "A-2", "resolution": "1", "stated_of_reading": "2"})
    shop.stand()
    choose_kit(shop.acting, shop.check, {"rig": other, "plan": "full"})
    assert check_view(shop.workshop.ledger, shop.check).now is Step.SET_UP
    with refused("want-set-up", "line"):
        read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"})


def test_points_that_are_added_are_set_up_before_the_verdict(shop: BenchShop) -> None:
    kit = {"rig": shop.rig, "plan": "own", "pulls": "5"}
    shop.stand(plan={**kit, "targets": "20"})
    shop.pull(READINGS[:1])
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    choose_kit(shop.acting, shop.check, {**kit, "targets": "20 60"})
    with refused("want-set-up", "line"):
        judge_phase(shop.acting, shop.check, AS_FOUND, {})
    with refused("want-found-verdict", "close"):
        close_check(shop.acting, shop.check, {})


@pytest.mark.parametrize(
    ("typed", "code", "field"),
    [
        ({"plan": "own"}, "want-unit", "targets"),
        ({"plan": "own", "targets": "500"}, "want-target-in-range", "targets"),
        ({"plan": "own", "targets": "20 20"}, "want-new-point", "targets"),
        ({"plan": "own", "targets": "20 60", "pulls": "1"}, "want-whole", "pulls"),
        ({"plan": "own", "targets": "20 60", "pulls": "five"}, "want-whole", "pulls"),
        ({"plan": "thorough"}, "want-one-of", "plan"),
    ],
)
def test_it_refuses_a_plan(shop: BenchShop, typed: dict[str, str], code: str, field: str) -> None:
    shop.open()
    with refused(code, field):
        choose_kit(shop.acting, shop.check, {"rig": shop.rig, **typed})


def test_own_points_are_planned_as_typed(shop: BenchShop) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "own", "targets": "30 50,5", "pulls": "3"})
    assert [(p["target"], p["planned_pulls"]) for p in shop.body["choice"]["points"]] == [
        ("30 N·m", 3),
        ("50,5 N·m", 3),
    ]


@pytest.mark.parametrize("answer", ["true", "Yes", "on", "1"])
def test_an_answer_that_is_neither_yes_nor_no_is_not_taken_for_no(shop: BenchShop, answer: str) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "full"})
    typed = {"axis": "vertical", "zeroed": "with-tool", "is_ready": "yes", "set_each_time": answer}
    with refused("want-one-of", "set_each_time"):
        set_up(shop.acting, shop.check, typed)


def test_the_setup_is_refused_until_it_stands_ready(shop: BenchShop) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "full"})
    with refused("want-cautions-read", "is_ready"):
        set_up(shop.acting, shop.check, {"axis": "vertical", "zeroed": "with-tool"})


def test_a_setup_is_a_full_copy_that_later_edits_leave_alone(shop: BenchShop) -> None:
    from steelyard.desk import change_rig, rig_body

    shop.stand()
    before = dict(shop.body["setup"])
    last = int(rig_body(shop.workshop.ledger, shop.rig)["last"])
    changed = {"name": "A-1", "resolution": "1", "stated_of_reading": "5"}
    change_rig(shop.acting, shop.rig, changed, last)
    assert shop.body["setup"] == before
    assert before["form"]["kit"]["resolution"] == "0.1 N·m"


def test_a_sealed_record_takes_nothing_more(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    close_check(shop.acting, shop.check, {})
    for deed in (
        lambda: read_pull(shop.acting, shop.check, AS_FOUND, 0, {"line": "19.6"}),
        lambda: strike_out(shop.acting, shop.check, int(shop.body["pulls"][0]["number"]), {"reason": "x"}),
        lambda: look_over(shop.acting, shop.check, {"damaged": "no"}),
        lambda: turn_adjuster(shop.acting, shop.check, {"turns": "1", "way": "in"}),
        lambda: attach_photograph(shop.acting, shop.check, b"x", "image/jpeg", {}),
        lambda: close_check(shop.acting, shop.check, {}),
    ):
        with pytest.raises(RecordSealed):
            deed()


def test_records_are_numbered_without_a_gap(shop: BenchShop) -> None:
    for expected in (1, 2, 3):
        shop.check = open_check(shop.acting, shop.tool, {"why": "training"})
        look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "bent"})
        assert close_check(shop.acting, shop.check, {}) == expected


def test_the_next_date_must_lie_after_the_check(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    with refused("want-later-day", "next_due"):
        close_check(shop.acting, shop.check, {"next_due": "2026-11-25"})
    with refused("want-date", "next_due"):
        close_check(shop.acting, shop.check, {"next_due": "soon"})


def test_a_check_that_nobody_opened_is_not_found(shop: BenchShop) -> None:
    with pytest.raises(NotFound):
        check_view(shop.workshop.ledger, "nowhere")
    with pytest.raises(InputRefused):
        open_check(shop.acting, shop.tool, {"why": "because"})


BEAM = {
    "number": "T-07",
    "kind": "beam",
    "lowest": "10",
    "highest": "60",
    "graduation": "1",
    "directions": "cw",
    "grip_mark": "380 ± 2",
    "limit.published": "own",
    "limit.percent": "6",
    "limit.source": "our own list",
}


def test_a_tool_that_shows_a_torque_is_asked_whether_it_was_zeroed_where_its_weight_may_act(
    shop: BenchShop,
) -> None:
    shop.tool = add_tool(shop.acting, BEAM)
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "quick"})
    level = {"axis": "horizontal", "zeroed": "with-tool", "pull": "down", "is_ready": "yes"}
    with refused("want-one-of", "zeroed_tool"):
        set_up(shop.acting, shop.check, level)
    set_up(shop.acting, shop.check, {**level, "axis": "vertical"})
    set_up(shop.acting, shop.check, {**level, "zeroed_tool": "yes"})
    assert shop.body["setup"]["form"]["tool"]["zeroed"] is True


def test_a_field_of_the_setup_is_refused_beside_itself(shop: BenchShop) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "full"})
    with refused("want-axis", "axis"):
        set_up(shop.acting, shop.check, {"axis": "", "zeroed": "with-tool", "is_ready": "yes"})


def test_a_tool_dropped_after_its_last_pull_is_due_at_once(shop: BenchShop) -> None:
    shop.stand()
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    tool_event(shop.acting, shop.tool, {"what": "dropped"})
    close_check(shop.acting, shop.check, {"next_due": "2027-11-25"})
    assert tool_of(shop)["next_due"] == "2026-11-25"


@pytest.mark.parametrize(
    ("targets", "planned"),
    [("20 100", ["20 N·m", "100 N·m"]), ("20 60 100", ["20 N·m", "60 N·m", "100 N·m"])],
)
def test_own_points_may_be_set_apart_by_blanks(shop: BenchShop, targets: str, planned: list[str]) -> None:
    shop.open()
    choose_kit(shop.acting, shop.check, {"rig": shop.rig, "plan": "own", "targets": targets, "pulls": "3"})
    assert [point["target"] for point in shop.body["choice"]["points"]] == planned


def test_own_points_and_the_setup_are_read_by_the_decimal_mark_of_the_workshop(shop: BenchShop) -> None:
    set_workshop(shop.acting, {"decimal_mark": ","})
    shop.open()
    chosen = {"rig": shop.rig, "plan": "own", "targets": "20,125 60,250", "pulls": "3"}
    choose_kit(shop.acting, shop.check, chosen)
    assert [point["target"] for point in shop.body["choice"]["points"]] == ["020,125 N·m", "060,250 N·m"]
    setup = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"}
    set_up(shop.acting, shop.check, {**setup, "load_time": "1,250"})
    assert shop.body["setup"]["form"]["load_time"] == "01,250 s"
