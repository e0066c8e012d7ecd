"""Readings out of a file go into checks in hand as if they were typed at the bench, and never twice."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from desk.bench_shop import READINGS, WRENCH, BenchShop, bench_shop
from desk.hung_shop import GOOD, hung_shop
from desk.test_taking_in import fates_of, keep, refusal, states, table
from steelyard.desk import (
    Acting,
    add_tool,
    choose_kit,
    exercise,
    look_over,
    open_check,
    read_pull,
    set_up,
    set_workshop,
)
from steelyard.desk.columns_in import EXAMPLE, Counted, known_columns
from steelyard.desk.ports import Streamed
from steelyard.desk.pulls import MOST_PULLS
from steelyard.desk.records_out import PULL_COLUMNS
from steelyard.desk.taking_in import kept, tried, what_is_meant
from steelyard.errors import InputRefused
from steelyard.records import Draft, Kind

READ = {"tool_number": "T-04", "reading": "58.9"}
AT_60 = {**READ, "target": "60 N·m", "direction": "cw"}


@pytest.fixture
def shop() -> BenchShop:
    shop = bench_shop()
    shop.stand()
    return shop


def pulls(shop: BenchShop) -> list[tuple[str, int, Any, str | None]]:
    """Phase, point, what was read and why it does not count."""
    return [(p["phase"], p["point"], p["pull"], p["struck_out"]) for p in shop.body["pulls"]]


def rows(*readings: str) -> list[dict[str, str]]:
    return [{**READ, "reading": text} for text in readings]


def from_file(acting: Acting, *lines: Mapping[str, str], digest: str = "ab" * 32) -> Streamed | None:
    return kept(acting, replace(table("pulls", lines), digest=digest), new=len(lines))


class TestPlace:
    def test_rows_without_a_target_go_through_the_plan_as_if_typed(self, shop: BenchShop) -> None:
        other = bench_shop()
        other.stand()
        other.pull(READINGS)
        keep(shop.acting, "pulls", *rows(*" ".join(READINGS).split()))
        assert pulls(shop) == pulls(other)

    def test_what_becomes_of_a_row_says_its_point(self, shop: BenchShop) -> None:
        shop.pull(READINGS[:1])
        names = [fate.name for fate in fates_of(shop.acting, "pulls", READ, {**READ, "target": "100"})]
        assert names == ["T-04 58.9, as found, point 2", "T-04 58.9, as found, point 3"]

    def test_rows_go_on_behind_what_was_typed(self, shop: BenchShop) -> None:
        shop.pull(READINGS[:1])
        keep(shop.acting, "pulls", *rows("58.9", "59.2"))
        assert [point for _, point, *_ in pulls(shop)] == [0] * 5 + [1, 1]

    def test_a_target_says_the_point_however_it_is_written(self, shop: BenchShop) -> None:
        for target in ("60", "60 N·m", "60,0 Nm", Counted(60), "6000 cN·m"):
            keep(shop.acting, "pulls", {**READ, "target": target})
        assert [point for _, point, *_ in pulls(shop)] == [1] * 5
        keep(shop.acting, "pulls", {**AT_60, "direction": "CW"})
        assert pulls(shop)[-1][1] == 1

    def test_a_target_that_is_not_in_the_plan_is_refused_with_those_that_are(self, shop: BenchShop) -> None:
        (fate,) = fates_of(shop.acting, "pulls", {**AT_60, "target": "61"})
        assert (fate.field, "60 N·m cw" in fate.sentence) == ("target", True)
        assert refusal(shop.acting, "pulls", {**AT_60, "direction": "ccw"})[1] == "want-target-of-plan"
        assert refusal(shop.acting, "pulls", {**AT_60, "target": "much"})[0] == "target"

    def test_rows_beyond_the_plan_need_a_target(self, shop: BenchShop) -> None:
        shop.pull(READINGS)
        assert refusal(shop.acting, "pulls", READ) == ("target", "want-target-beyond-plan")
        keep(shop.acting, "pulls", AT_60)
        assert pulls(shop)[-1][1] == 1

    def test_of_two_directions_the_plan_goes_first_and_then_it_must_be_said(self) -> None:
        shop = bench_shop()
        shop.tool = add_tool(shop.acting, {**WRENCH, "number": "T-05", "directions": "cw,ccw"})
        shop.stand(plan={"plan": "own", "targets": "60", "pulls": "2"})
        row = {"tool": "T-05", "target": "60", "reading": "59.1"}
        keep(shop.acting, "pulls", *[row] * 3, {**row, "direction": "ccw"})
        assert [point for _, point, *_ in pulls(shop)] == [0, 0, 1, 1]
        assert refusal(shop.acting, "pulls", row) == ("direction", "want-target-beyond-plan")
        way = {"tool": "T-05", "direction": "cw", "reading": "59"}
        assert refusal(shop.acting, "pulls", way) == ("target", "want-target-beyond-plan")

    def test_as_left_once_the_adjuster_was_turned(self, shop: BenchShop) -> None:
        assert refusal(shop.acting, "pulls", {**READ, "phase": "as-left"}) == (
            "reading",
            "want-adjusted-first",
        )
        assert refusal(shop.acting, "pulls", {**READ, "phase": "later"}) == ("phase", "want-one-of")
        shop.acting.write(
            Draft(Kind.ADJUSTER_TURNED, f"check:{shop.check}", {"turns": "1/4", "way": "in", "note": None})
        )
        assert refusal(shop.acting, "pulls", {**READ, "phase": "as-found"}) == (
            "reading",
            "want-no-more-found",
        )
        keep(shop.acting, "pulls", *rows("19.6", "19.7", "19.8", "59.0"), AT_60)
        assert [row[:2] for row in pulls(shop)] == [("as-left", i) for i in (0, 0, 0, 1, 1)]


class TestReadings:
    @pytest.mark.parametrize(
        ("cells", "kept_as"),
        [
            ({"reading": "58.9"}, "58.9 N·m"),
            ({"reading": "58.90 N·m"}, "58.90 N·m"),
            ({"reading": "58.9 N·m", "unit": "N·m"}, "58.9 N·m"),
            ({"reading": "43.44", "unit": "lbf·ft"}, "43.44 lbf·ft"),
            ({"reading": Counted(58.9)}, "58.9 N·m"),
            ({"reading": Counted(58.905)}, "058.905 N·m"),
        ],
    )
    def test_a_reading_is_kept_with_its_digits_and_its_unit(
        self, shop: BenchShop, cells: dict[str, str], kept_as: str
    ) -> None:
        keep(shop.acting, "pulls", {**AT_60, **cells})
        assert pulls(shop) == [("as-found", 1, {"reading": kept_as}, None)]

    @pytest.mark.parametrize(
        "text", ["much", "", "0", "-58.9", "58.9 kg", "589", "58.9 59.1", "58.905.1", "9" * 120]
    )
    def test_what_the_bench_refuses_is_refused_with_the_same_sentence(
        self, shop: BenchShop, text: str
    ) -> None:
        with pytest.raises(InputRefused) as bench:
            read_pull(shop.acting, shop.check, "as-found", 1, {"line": text})
        (fate,) = fates_of(shop.acting, "pulls", {**AT_60, "reading": text})
        assert fate.refused is not None
        told = (fate.refused.given, fate.refused.wanted, fate.refused.facts)
        assert told == (bench.value.given, bench.value.wanted, bench.value.facts)
        assert fate.field == "reading"

    def test_a_workshop_with_a_comma_reads_its_numbers(self, shop: BenchShop) -> None:
        set_workshop(shop.acting, {"name": "Tern Point Boatyard", "decimal_mark": ","})
        keep(shop.acting, "pulls", {**AT_60, "reading": "58,905"})
        assert pulls(shop)[0][2] == {"reading": "058,905 N·m"}
        assert refusal(shop.acting, "pulls", {**AT_60, "reading": "58.905"})[0] == "reading"

    def test_a_far_reading_is_taken_where_somebody_was_sure_or_struck_it_out(self, shop: BenchShop) -> None:
        far = {**AT_60, "reading": "200"}
        assert refusal(shop.acting, "pulls", far) == ("reading", "want-sure")
        keep(shop.acting, "pulls", {**far, "sure": "yes"}, {**far, "struck_out": "slipped"})
        assert [(pull, why) for *_, pull, why in pulls(shop)] == [
            ({"reading": "200 N·m", "sure": True}, None),
            ({"reading": "200 N·m"}, "slipped"),
        ]

    def test_what_is_struck_out_does_not_count_for_the_plan(self, shop: BenchShop) -> None:
        first = {**READ, "reading": "19.6"}
        keep(shop.acting, "pulls", *[first] * 4, {**first, "struck_out": "misread"}, first, *rows("58.9"))
        assert [point for _, point, *_ in pulls(shop)] == [0] * 6 + [1]

    @pytest.mark.parametrize(
        ("column", "text"),
        [("answer", "yes"), ("answer", "never"), ("set_to", "61 N·m"), ("mark", "440 mm")],
    )
    def test_yes_no_answers_are_typed_at_the_bench(self, shop: BenchShop, column: str, text: str) -> None:
        assert refusal(shop.acting, "pulls", {**AT_60, column: text}) == (column, "want-trial-at-bench")

    def test_a_file_does_not_go_over_what_a_point_may_have(self, shop: BenchShop) -> None:
        found = states(shop.acting, "pulls", *[AT_60] * (MOST_PULLS + 1))
        assert found == [*["new"] * MOST_PULLS, "refused"]


class TestLoads:
    def test_a_load_is_read_as_it_goes_out(self) -> None:
        shop = hung_shop()
        shop.hang()
        row = {"tool_number": "T-04", "target": "20"}
        keep(
            shop.acting,
            "pulls",
            {**row, "reading": f"{GOOD['no_click']} … {GOOD['click']}"},
            {**row, "reading": "M-2 + M-1 + 0.35 kg on S-2"},
            {**row, "reading": GOOD["click"], "answer": "never"},
        )
        assert [pull for _, _, pull, _ in pulls(shop)] == [
            GOOD,
            {"bucket": "M-2 + M-1 + 0.35 kg on S-2"},
            {"no_click": GOOD["click"], "never_clicked": True},
        ]
        twice = {**row, "reading": "M-1 + M-1 … M-10"}
        assert refusal(shop.acting, "pulls", twice)[0] == "reading"
        assert refusal(shop.acting, "pulls", {**row, "reading": "… M-10"})[0] == "reading"


class TestCheckInHand:
    def test_each_step_that_is_missing_is_named(self) -> None:
        shop = bench_shop()
        acting = shop.acting

        def missing() -> str:
            (fate,) = fates_of(acting, "pulls", READ)
            assert fate.field == "tool_number"
            return fate.sentence

        assert "begin one at the bench" in missing()
        shop.check = open_check(acting, shop.tool, {"why": "due"})
        assert "Look it over" in missing()
        look_over(acting, shop.check, {"damaged": "no"})
        assert "Choose the kit" in missing()
        choose_kit(acting, shop.check, {"rig": shop.rig, "plan": "full"})
        assert "Set up" in missing()
        setup = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"}
        set_up(acting, shop.check, setup)
        assert "Exercise" in missing()
        exercise(acting, shop.check, {"exercise_pulls": "0"})
        assert states(acting, "pulls", {**READ, "reading": "19.6"}) == ["new"]

    def test_a_check_that_stopped_takes_no_reading(self) -> None:
        shop = bench_shop()
        shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
        look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "cracked"})
        assert refusal(shop.acting, "pulls", READ) == ("reading", "want-set-up")

    def test_of_two_checks_of_a_tool_none_is_guessed(self, shop: BenchShop) -> None:
        open_check(shop.acting, shop.tool, {"why": "due"})
        assert refusal(shop.acting, "pulls", READ) == ("tool_number", "want-one-check-in-hand")

    @pytest.mark.parametrize("number", ["T-77", ""])
    def test_a_tool_that_is_not_on_the_rack_is_refused(self, shop: BenchShop, number: str) -> None:
        assert refusal(shop.acting, "pulls", {**READ, "tool_number": number}) == (
            "tool_number",
            "want-tool-on-rack",
        )

    def test_a_refused_row_keeps_all_others_out(self, shop: BenchShop) -> None:
        with pytest.raises(InputRefused, match="row 3, reading"):
            keep(shop.acting, "pulls", AT_60, {**AT_60, "reading": "much"})
        assert pulls(shop) == []


class TestTheSameFile:
    def test_it_is_refused_as_a_whole_while_its_readings_are_in_hand(self, shop: BenchShop) -> None:
        from_file(shop.acting, AT_60, AT_60)
        with pytest.raises(InputRefused, match="T-04") as refused:
            list(tried(shop.acting, replace(table("pulls", [AT_60, AT_60]), digest="ab" * 32)))
        assert (refused.value.field, refused.value.wanted) == ("file", "want-file-once")
        with pytest.raises(InputRefused, match="T-04"):
            from_file(shop.acting, AT_60)
        assert len(pulls(shop)) == 2

    def test_another_file_may_say_the_same_again(self, shop: BenchShop) -> None:
        from_file(shop.acting, AT_60)
        assert from_file(shop.acting, AT_60, digest="cd" * 32) is not None
        assert len(pulls(shop)) == 2

    def test_only_the_first_reading_of_a_check_holds_it(self, shop: BenchShop) -> None:
        from_file(shop.acting, AT_60, AT_60)
        assert [pull.get("file") for pull in shop.body["pulls"]] == ["list.csv", None]


class TestColumns:
    def test_what_goes_out_comes_in_and_is_known_by_its_columns(self) -> None:
        known_columns("pulls", PULL_COLUMNS)
        assert what_is_meant("", PULL_COLUMNS) == "pulls"
        assert what_is_meant("", ["Tool", "Reading"]) == "pulls"

    def test_a_tool_is_named_in_one_column(self) -> None:
        with pytest.raises(InputRefused, match="each column once"):
            known_columns("pulls", ["tool", "tool_number", "reading"])

    def test_the_example_can_be_kept(self, shop: BenchShop) -> None:
        keep(shop.acting, "pulls", {**EXAMPLE["pulls"], "tool_number": "T-04"})
        assert pulls(shop) == [("as-found", 1, {"reading": "59.2 N·m"}, None)]
