"""Tables that come in: what becomes of each row, what is kept, and what never doubles."""

from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from steelyard.desk import Acting, add_rig, add_tool, retire_tool, set_workshop, tool_event, tool_view
from steelyard.desk.columns_in import COLUMNS, EXAMPLE, PASSED_OVER, USUAL, WHATS, Counted, known_columns
from steelyard.desk.ports import Streamed, Wanted
from steelyard.desk.tables_out import RACK_COLUMNS, RIGS_COLUMNS
from steelyard.desk.taking_in import Fate, Incoming, fates, kept, tried, what_is_meant
from steelyard.errors import InputRefused
from steelyard.records import Draft, Kind
from web.shop import CHECK, make_workshop

Rows = Sequence[Mapping[str, str]]
PRESET = {
    "number": "T-01",
    "kind": "click-preset",
    "lowest": "20",
    "highest": "100",
    "unit": "N·m",
    "limit.published": "iso-6789-1-2017",
}
MASS = {"sort": "mass", "name": "M-5", "value": "5.000", "class": "M1"}
LINE = {
    "tool": "T-01",
    "day": "2024-03-18",
    "verdict": "in",
    "next_due": "2025-03-18",
    "who": "",
    "note": "p. 12",
}


@pytest.fixture
def acting() -> Acting:
    return make_workshop().acting()


def table(what: str, rows: Rows, *, file: str = "list.csv") -> Incoming:
    columns = tuple(dict.fromkeys(name for row in rows for name in row))
    return Incoming(what, file, columns, list(enumerate(rows, 2)), len(rows))


def fates_of(acting: Acting, what: str, *rows: Mapping[str, str]) -> list[Fate]:
    return list(tried(acting, table(what, rows)))


def states(acting: Acting, what: str, *rows: Mapping[str, str]) -> list[str]:
    return [fate.state for fate in fates_of(acting, what, *rows)]


def keep(acting: Acting, what: str, *rows: Mapping[str, str], file: str = "list.csv") -> Streamed | None:
    return kept(acting, table(what, rows, file=file), new=len(rows))


def refusal(acting: Acting, what: str, row: Mapping[str, str]) -> tuple[str, str]:
    (fate,) = fates_of(acting, what, row)
    assert fate.refused is not None and fate.sentence
    return fate.field, fate.refused.wanted


def bodies(acting: Acting, sort: str) -> list[Any]:
    return [listed.body for listed in acting.ledger.documents(Wanted(sort, most=100))]


class TestColumns:
    def test_case_blanks_and_underscores_tell_no_two_apart(self) -> None:
        headings = ["Number", "GRIP MARK", "set_each time", " limit.Published "]
        assert known_columns("rack", headings) == {
            "Number": "number",
            "GRIP MARK": "grip_mark",
            "set_each time": "set_each_time",
            " limit.Published ": "limit.published",
        }

    def test_an_unknown_column_is_refused_up_front_with_its_name(self, acting: Acting) -> None:
        with pytest.raises(InputRefused, match="colour"):
            fates_of(acting, "rack", {**PRESET, "colour": "red"})

    def test_a_column_that_stands_twice_is_refused(self) -> None:
        with pytest.raises(InputRefused, match="each column once"):
            known_columns("rack", ["number", "Number"])

    def test_a_table_without_the_column_that_names_its_rows_is_refused(self, acting: Acting) -> None:
        with pytest.raises(InputRefused, match="named number"):
            fates_of(acting, "rack", {"kind": "dial"})

    def test_what_goes_out_comes_in(self) -> None:
        known_columns("rack", RACK_COLUMNS)
        known_columns("rigs", RIGS_COLUMNS)

    def test_nothing_is_asked_for_that_is_not_read(self) -> None:
        for what in WHATS:
            assert set(USUAL[what]) <= set(COLUMNS[what])
            assert set(EXAMPLE[what]) <= set(USUAL[what])
            assert not set(PASSED_OVER[what]) & set(USUAL[what])

    @pytest.mark.parametrize(
        ("columns", "what"),
        [(["Number", "kind"], "rack"), (["sort", "name"], "rigs"), (["tool", "day", "verdict"], "history")],
    )
    def test_what_a_table_holds_is_told_by_its_columns(self, columns: list[str], what: str) -> None:
        assert what_is_meant("", columns) == what

    def test_where_it_cannot_be_told_it_is_asked(self) -> None:
        with pytest.raises(InputRefused):
            what_is_meant("", ["colour"])

    def test_a_file_that_says_something_else_is_refused(self) -> None:
        with pytest.raises(InputRefused):
            what_is_meant("rack", ["number"], "rigs")
        with pytest.raises(InputRefused):
            what_is_meant("", ["number"], "people")


class TestTools:
    def test_each_row_is_read_as_the_form_of_a_tool(self, acting: Acting) -> None:
        add_tool(acting, {**PRESET, "number": "T-09"})
        assert keep(acting, "rack", PRESET) == Streamed(2, 1)
        typed, came = bodies(acting, "tool")[::-1]
        same = ("tool", "limit", "interval_months", "notes", "store_rule", "drive", "checks", "next_due")
        assert {name: came[name] for name in same} == {
            **{name: typed[name] for name in same},
            "tool": {**typed["tool"], "number": "T-01"},
        }

    def test_the_examples_can_be_kept(self, acting: Acting) -> None:
        for what in WHATS[:-1]:  # pulls need a check in hand, see test_pulls_in.py
            assert keep(acting, what, EXAMPLE[what]) is not None
            assert states(acting, what, EXAMPLE[what]) == ["there"]

    @pytest.mark.parametrize("number", ["T-02", " t  2 ", "", "x" * 41, "a\u200bb", "T-02\nx"])
    @pytest.mark.parametrize("notes", ["", " two\r\nlines ", "x" * 2001, "a\u202eb"])
    def test_a_second_tool_of_a_kind_is_read_as_the_first_is(
        self, acting: Acting, number: str, notes: str
    ) -> None:
        row = {**PRESET, "number": number, "notes": notes}
        *_, second = fates(acting, table("rack", [{**PRESET, "notes": ""}, row]), acting.ledger.documents)
        (alone,) = fates(acting, table("rack", [row]), acting.ledger.documents)
        assert (second[0].state, second[0].field) == (alone[0].state, alone[0].field)
        assert (second[1] and second[1].payload) == (alone[1] and alone[1].payload)
        assert str(second[0].refused) == str(alone[0].refused)

    def test_a_row_that_says_what_the_rack_has_is_there_already(self, acting: Acting) -> None:
        add_tool(acting, PRESET)
        assert states(acting, "rack", PRESET, {**PRESET, "number": "T-02"}) == ["there", "new"]
        assert keep(acting, "rack", PRESET) == Streamed(0, 0)

    @pytest.mark.parametrize("number", ["T-01", "t-01", " T-01 "])
    def test_another_tool_with_that_number_is_refused(self, acting: Acting, number: str) -> None:
        add_tool(acting, {**PRESET, "highest": "90"})
        assert refusal(acting, "rack", {**PRESET, "number": number}) == ("number", "want-new-tool-number")

    def test_a_number_twice_in_the_file_is_refused_with_the_other_row(self, acting: Acting) -> None:
        *_, last = fates_of(acting, "rack", PRESET, {**PRESET, "number": "t-01"})
        assert (last.row, last.state, last.field) == (3, "refused", "number")
        assert "row 2" in last.sentence

    def test_what_was_worked_out_is_passed_over(self, acting: Acting) -> None:
        assert keep(acting, "rack", {**PRESET, "state": "in", "next_due": "2030-01-01", "last_record": "9"})
        (body,) = bodies(acting, "tool")
        assert (body["next_due"], body["checks"]) == (None, [])

    def test_a_retired_tool_of_a_list_does_not_come_back(self, acting: Acting) -> None:
        row = {**PRESET, "state": "retired"}
        assert refusal(acting, "rack", row) == ("state", "want-row-in-use")
        retire_tool(acting, add_tool(acting, PRESET), {})
        assert states(acting, "rack", row) == ["there"]
        assert states(acting, "rack", PRESET) == ["new"]

    @pytest.mark.parametrize(
        ("column", "text", "wanted"),
        [
            ("kind", "", "want-tool-kind"),
            ("kind", "hammer", "want-one-of"),
            ("highest", "much", "want-unit"),
            ("notes", "x" * 2001, "want-shorter"),
            ("notes", "x" * 10_001, "want-shorter"),
            ("notes", "a\x07b", "want-printable"),
            ("notes", "a\u202eb", "want-printable"),
            ("column 12", "lost", "want-heading"),
        ],
    )
    def test_a_cell_that_cannot_be_used_is_named(
        self, acting: Acting, column: str, text: str, wanted: str
    ) -> None:
        incoming = Incoming("rack", "list.csv", (*PRESET, "notes"), [(2, {**PRESET, column: text})], 1)
        (fate,) = tried(acting, incoming)
        assert fate.refused is not None
        assert (fate.field, fate.refused.wanted) == (column, wanted)

    @pytest.mark.parametrize("text", ["=cmd|' /C calc'!A1", "<b>alert(1)</b>", "&amp;", "{{ 7*7 }}"])
    def test_hostile_text_is_kept_as_the_text_it_is(self, acting: Acting, text: str) -> None:
        keep(acting, "rack", {**PRESET, "notes": text})
        assert bodies(acting, "tool")[0]["notes"] == text

    def test_the_blanks_of_a_spreadsheet_are_blanks(self, acting: Acting) -> None:
        keep(acting, "rack", {**PRESET, "highest": "100\u00a0N·m"})
        assert bodies(acting, "tool")[0]["tool"]["highest"] == "100 N·m"

    def test_a_number_of_a_spreadsheet_is_never_read_as_thousands(self, acting: Acting) -> None:
        set_workshop(acting, {"name": "Tern Point Boatyard", "decimal_mark": ","})
        keep(acting, "rack", {**PRESET, "lowest": Counted(1.015), "highest": Counted(5.015)})
        (row,) = [tool_view(acting.ledger, body["id"], acting.today()).row for body in bodies(acting, "tool")]
        assert (row.lowest, row.highest) == ("1.015", "5.015 N·m")

    def test_a_name_in_use_is_drawn_again(self, acting: Acting) -> None:
        class Stuck:
            """Draws each name twice."""

            def __init__(self) -> None:
                self.count = 0

            def name(self) -> str:
                self.count += 1
                return f"n{self.count // 2}"

            def salt(self) -> str:
                return ""

        stuck = Acting(acting.ledger, acting.clock, Stuck())
        keep(stuck, "rack", *({**PRESET, "number": f"T-{i}"} for i in range(5)))
        assert len(bodies(acting, "tool")) == 5


class TestRigs:
    def test_rigs_come_in_with_what_hangs_on_them(self, acting: Acting) -> None:
        arm = {"sort": "hung-weight", "name": "W-1", "arm": "500", "lead": "direct", "always": "M-5"}
        assert states(acting, "rigs", {**arm}) == ["refused"]
        assert states(acting, "rigs", MASS, arm)[0] == "new"
        keep(acting, "rigs", MASS)
        assert [body["table"]["name"] for body in bodies(acting, "rig")] == ["M-5"]

    def test_a_rig_that_says_the_same_is_there_already(self, acting: Acting) -> None:
        add_rig(acting, "mass", MASS)
        assert states(acting, "rigs", MASS) == ["there"]
        assert refusal(acting, "rigs", {**MASS, "value": "2"}) == ("name", "want-rig-own-name")
        assert states(acting, "rigs", {**MASS, "name": "M-6"}, {**MASS, "name": "m-6", "value": "2"}) == [
            "new",
            "refused",
        ]

    def test_another_sort_is_refused(self, acting: Acting) -> None:
        assert refusal(acting, "rigs", {**MASS, "sort": "press"}) == ("sort", "want-one-of")


class TestHistory:
    @pytest.fixture
    def tool(self, acting: Acting) -> str:
        return add_tool(acting, PRESET)

    def history(self, acting: Acting) -> list[Any]:
        (body,) = bodies(acting, "tool")
        lines: list[Any] = body.get("history", [])
        return lines

    @pytest.mark.usefixtures("tool")
    def test_a_line_is_kept_with_where_it_stood_and_is_no_check(self, acting: Acting) -> None:
        keep(acting, "history", LINE, file="old book.csv")
        (line,) = self.history(acting)
        assert (line["day"], line["verdict"], line["file"], line["row"]) == (
            "2024-03-18",
            "in",
            "old book.csv",
            2,
        )
        (body,) = bodies(acting, "tool")
        assert (body["checks"], body["events"], body["next_due"]) == ([], [], "2025-03-18")

    @pytest.mark.usefixtures("tool")
    def test_lines_stand_in_the_order_of_their_days(self, acting: Acting) -> None:
        days = ("2024-03-18", "2022-01-10", "2023-02-11")
        keep(acting, "history", *({**LINE, "day": day, "next_due": ""} for day in days))
        assert [line["day"] for line in self.history(acting)] == sorted(days)

    @pytest.mark.usefixtures("tool")
    def test_the_same_line_is_there_already_whatever_its_file(self, acting: Acting) -> None:
        keep(acting, "history", LINE, file="a.csv")
        assert states(acting, "history", LINE, {**LINE, "note": "p. 13"}, {**LINE, "note": "p. 13"}) == [
            "there",
            "new",
            "there",
        ]

    @pytest.mark.usefixtures("tool")
    def test_the_latest_line_says_when_it_is_due_in_whatever_order_they_come(self, acting: Acting) -> None:
        keep(acting, "history", LINE)
        keep(acting, "history", {**LINE, "day": "2022-03-18", "next_due": "2023-03-18"})
        assert bodies(acting, "tool")[0]["next_due"] == "2025-03-18"
        keep(acting, "history", {**LINE, "day": "2024-09-18", "next_due": "2026-03-18"})
        assert bodies(acting, "tool")[0]["next_due"] == "2026-03-18"

    def test_it_moves_no_day_that_something_else_has_set(self, acting: Acting, tool: str) -> None:
        tool_event(acting, tool, {"what": "dropped"})
        keep(acting, "history", {**LINE, "next_due": "2030-01-01"})
        assert bodies(acting, "tool")[0]["next_due"] == "2026-11-25"

    def test_it_gives_no_day_to_a_tool_whose_check_set_none(self, acting: Acting, tool: str) -> None:
        acting.write(Draft(Kind.TOOL_CHECKED, f"tool:{tool}", {**CHECK, "verdict": "out", "next_due": None}))
        keep(acting, "history", LINE)
        assert bodies(acting, "tool")[0]["next_due"] is None

    @pytest.mark.usefixtures("tool")
    @pytest.mark.parametrize(
        ("column", "text", "wanted"),
        [
            ("tool", "T-77", "want-tool-on-rack"),
            ("tool", "", "want-tool-on-rack"),
            ("day", "18.03.2024", "want-date"),
            ("day", "2026-11-26", "want-past-day"),
            ("verdict", "fine", "want-one-of"),
            ("verdict", "", "want-one-of"),
            ("next_due", "2024-03-17", "want-day-not-before"),
        ],
    )
    def test_a_line_that_cannot_be_used_is_named(
        self, acting: Acting, column: str, text: str, wanted: str
    ) -> None:
        assert refusal(acting, "history", {**LINE, column: text}) == (column, wanted)

    @pytest.mark.usefixtures("tool")
    def test_more_lines_than_a_tool_can_show_are_refused(self, acting: Acting) -> None:
        lines = [{**LINE, "note": f"line {i}"} for i in range(1001)]
        assert states(acting, "history", *lines) == [*["new"] * 1000, "refused"]

    def test_a_retired_tool_has_no_place_on_the_rack(self, acting: Acting, tool: str) -> None:
        retire_tool(acting, tool, {})
        assert refusal(acting, "history", LINE) == ("tool", "want-tool-on-rack")


class TestKeeping:
    def test_a_refused_row_keeps_all_others_out(self, acting: Acting) -> None:
        with pytest.raises(InputRefused, match="row 3, kind"):
            keep(acting, "rack", PRESET, {**PRESET, "number": "T-02", "kind": "hammer"})
        assert acting.ledger.head().number == 0

    def test_nothing_doubles_that_somebody_wrote_since_it_was_tried(self, acting: Acting) -> None:
        assert states(acting, "rack", PRESET) == ["new"]
        add_tool(acting, PRESET)
        assert keep(acting, "rack", PRESET) == Streamed(0, 0)
        add_tool(acting, {**PRESET, "number": "T-02", "highest": "90"})
        with pytest.raises(InputRefused, match="row 2, number"):
            keep(acting, "rack", {**PRESET, "number": "T-02"})

    def test_trying_stops_where_it_is_told_to(self, acting: Acting) -> None:
        rows = [{**PRESET, "number": f"T-{i}"} for i in range(1200)]
        assert len(list(tried(acting, table("rack", rows), on_step=lambda done, of: done < 500))) == 500

    def test_trying_and_keeping_say_the_same(self, acting: Acting) -> None:
        add_tool(acting, PRESET)
        incoming = table("rack", [PRESET, {**PRESET, "number": "T-02"}])
        found = fates(acting, incoming, acting.ledger.documents)
        assert [(fate.state, draft is not None) for fate, draft in found] == [("there", False), ("new", True)]
        assert kept(acting, incoming, new=1) == Streamed(2, 1)
