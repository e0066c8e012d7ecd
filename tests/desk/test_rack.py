"""Tools are kept only as a check can read them; what happens to them decides when they are due."""

from collections.abc import Callable
from datetime import date, datetime, timedelta, timezone
from typing import Any

import pytest

from steelyard.desk import (
    TOOL_KINDS,
    Acting,
    add_person,
    add_tool,
    change_tool,
    forget_person,
    is_rack_empty,
    limit_choices,
    people,
    quarantine,
    release_tool,
    retire_tool,
    return_tool,
    set_workshop,
    tool_event,
    tool_typed_again,
    tool_view,
    tools,
)
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.records import Draft, Fields, Kind, Subject, read_limit, read_tool
from steelyard.store import MemoryLedger

TODAY = date(2026, 11, 25)
CLICK = {
    "number": "T-04",
    "kind": "click-adjustable",
    "lowest": "20",
    "highest": "100",
    "graduation": "0.5",
    "limit.percent": "4",
    "limit.source": "our own list",
}
FULL = {
    **CLICK,
    "make": "invented",
    "unit": "lbf·ft",
    "directions": "cw,ccw",
    "set_each_time": "yes",
    "grip_mark": "450 ± 1",
    "own_way": "balance",
    "mass": "1.3",
    "balance_point": "210 mm ± 2 mm",
    "pivot": "0.6 in",
    "length_independent": "yes",
    "expected_scatter": "0.5",
    "limit.published": "own",
    "limit.small_percent": "6 %",
    "limit.small_up_to": "30",
    "limit.split_by": "point",
    "notes": "two\r\nlines",
    "store_rule": "wound back",
    "drive": "1/2 in",
    "interval_months": "6",
}


class At:
    """A clock that stands at ten in the morning, an hour east, and dice that count."""

    def __init__(self, day: date = TODAY) -> None:
        self.day, self.count = day, 0

    def now(self) -> datetime:
        return datetime(self.day.year, self.day.month, self.day.day, 10, tzinfo=timezone(timedelta(hours=1)))

    def name(self) -> str:
        self.count += 1
        return f"{self.count:08x}"

    def salt(self) -> str:
        return "5a17"


def somebody(submission: str | None = None) -> Acting:
    at = At()
    return Acting(MemoryLedger(), at, at, submission=submission)


def again(acting: Acting, **changed: Any) -> Acting:
    """The same person with another page, or on another day."""
    facts = {"ledger": acting.ledger, "clock": acting.clock, "dice": acting.dice, **changed}
    return Acting(**facts)


def checked(acting: Acting, tool: str, *, next_due: str | None = "2027-11-25", **said: Any) -> None:
    """What the bench writes at the end of a check."""
    row = {
        "target_newton_metre": 100.0,
        "target": "100 N·m",
        "direction": "cw",
        "deviation_percent": 1.5,
        "low_percent": 0.5,
        "high_percent": 2.5,
        "limit_percent": "4",
        "verdict": "in",
        **said.pop("row", {}),
    }
    payload = {
        "check": "c1",
        "record": 1,
        "day": "2026-11-25",
        "verdict": "in",
        "next_due": next_due,
        "curve": [row],
        "worst_percent": row["deviation_percent"],
        "worst_expanded_percent": 1.0,
        **said,
    }
    acting.write(Draft(Kind.TOOL_CHECKED, Subject.TOOL.named(tool), payload))


def refused(typed: dict[str, str], field: str) -> InputRefused:
    with pytest.raises(InputRefused) as caught:
        add_tool(somebody(), typed)
    assert caught.value.field == field
    return caught.value


def test_it_keeps_texts_as_typed_with_the_unit_that_stood_beside_them() -> None:
    acting = somebody()
    body = tool_view(acting.ledger, add_tool(acting, FULL), TODAY).body
    assert body["tool"]["highest"] == "100 lbf·ft"
    assert body["tool"]["grip_mark"] == "450 ± 1 mm"
    assert body["tool"]["pivot"] == "0.6 in"
    assert body["tool"]["directions"] == ["cw", "ccw"]
    assert body["tool"]["set_each_time"] is True
    assert body["limit"]["small_percent"] == "6"
    assert body["limit"]["small_up_to"] == "30 lbf·ft"
    assert body["interval_months"] == 6
    assert body["notes"] == "two\nlines"


def test_a_bare_torque_is_in_the_workshops_own_unit() -> None:
    acting = somebody()
    set_workshop(acting, {"unit": "kgf·cm"})
    assert tool_view(acting.ledger, add_tool(acting, CLICK), TODAY).row.highest == "100 kgf·cm"


def test_what_stands_in_no_field_has_its_usual_value() -> None:
    acting = somebody()
    body = tool_view(acting.ledger, add_tool(acting, CLICK), TODAY).body
    assert body["interval_months"] == 12
    assert (body["notes"], body["store_rule"], body["drive"]) == (None, None, None)


@pytest.mark.parametrize("kind", TOOL_KINDS)
def test_every_kind_of_tool_that_is_kept_can_be_read_by_a_check(kind: str) -> None:
    acting = somebody()
    body = tool_view(acting.ledger, add_tool(acting, {**CLICK, "kind": kind}), TODAY).body
    tool = read_tool(Fields(body["tool"], place="tool"))
    assert tool.kind == kind
    assert read_limit(Fields(body["limit"], place="limit"), tool).percent == 4


@pytest.mark.parametrize(
    "typed",
    [
        CLICK,
        FULL,
        {
            **CLICK,
            "own_way": "reading",
            "own_reading": "0.85",
            "own_reading_at": "420",
            "own_reading_knows": "force",
        },
        {**CLICK, "own_weight": "0"},
        {**CLICK, "grip_mark": "450 mm ± 0.5 %"},
    ],
)
def test_the_form_filled_again_keeps_the_same_tool(typed: dict[str, str]) -> None:
    acting = somebody()
    tool = add_tool(acting, typed)
    before = tool_view(acting.ledger, tool, TODAY).body
    change_tool(acting, tool, tool_typed_again(before))
    after = tool_view(acting.ledger, tool, TODAY).body
    kept = ("tool", "limit", "notes", "store_rule", "interval_months", "drive")
    assert {name: _without_off(before[name]) for name in kept} == {name: after[name] for name in kept}


def _without_off(value: Any) -> Any:
    return {k: v for k, v in value.items() if v is not False} if isinstance(value, dict) else value


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("number", ""),
        ("number", "n" * 41),
        ("number", "T\x00"),
        ("kind", ""),
        ("kind", "hammer"),
        ("lowest", "a few"),
        ("lowest", "1,000"),
        ("highest", ""),
        ("highest", "10"),
        ("highest", "1e99"),
        ("unit", "furlong"),
        ("graduation", ""),
        ("graduation", "0"),
        ("directions", "up"),
        ("grip_mark", "450 kg"),
        ("grip_mark", "-450"),
        ("own_way", "guess"),
        ("pivot", "500"),
        ("expected_scatter", "x"),
        ("limit.published", "my-own-iso"),
        ("limit.percent", "0"),
        ("limit.percent", "nan"),
        ("limit.source", ""),
        ("limit.small_up_to", "30 kg"),
        ("interval_months", "0"),
        ("interval_months", "121"),
        ("interval_months", "²"),
        ("notes", "n" * 2001),
        ("drive", "\ud800"),
    ],
)
def test_it_refuses_a_field_by_its_name(field: str, text: str) -> None:
    refused(
        {**CLICK, "grip_mark": "450", "limit.small_percent": "6", "limit.small_up_to": "30", field: text},
        field,
    )


@pytest.mark.parametrize(("way", "field"), [("balance", "mass"), ("reading", "own_reading")])
def test_the_chosen_way_of_the_own_weight_needs_its_fields(way: str, field: str) -> None:
    refused({**CLICK, "own_way": way}, field)


def test_a_balance_point_is_needed_beside_the_mass() -> None:
    refused({**CLICK, "own_way": "balance", "mass": "1.3"}, "balance_point")


def test_a_way_that_was_not_chosen_is_not_kept() -> None:
    acting = somebody()
    typed = {**CLICK, "own_way": "skip", "balance_point": "210", "own_reading": "what"}
    assert "own_reading" not in tool_view(acting.ledger, add_tool(acting, typed), TODAY).body["tool"]


def test_no_limit_is_taken_silently() -> None:
    typed = {**CLICK, "limit.percent": "", "limit.source": ""}
    assert refused(typed, "limit.published").wanted == "want-tool-limit"
    assert refused({**typed, "limit.published": "own"}, "limit.percent").wanted == "want-tool-limit"


def test_a_document_that_does_not_cover_the_kind_is_refused() -> None:
    typed = {**CLICK, "kind": "driver-preset", "limit.published": "as-4115"}
    assert refused(typed, "limit.published").wanted == "want-covering-limit"
    assert "as-4115" not in limit_choices("driver-preset")
    assert "as-4115" in limit_choices("beam")


def test_a_published_limit_is_kept_by_its_code_alone() -> None:
    acting = somebody()
    tool = add_tool(acting, {**CLICK, "limit.published": "iso-6789-1-2017"})
    assert tool_view(acting.ledger, tool, TODAY).body["limit"] == {"published": "iso-6789-1-2017"}


@pytest.mark.parametrize("number", ["T-04", "t-04", " T-04 "])
def test_it_refuses_a_number_that_another_tool_in_use_has(number: str) -> None:
    acting = somebody()
    add_tool(acting, CLICK)
    with pytest.raises(InputRefused) as caught:
        add_tool(acting, {**CLICK, "number": number})
    assert (caught.value.field, caught.value.wanted) == ("number", "want-new-tool-number")


def test_a_namesake_is_found_behind_many_tools_that_speak_of_its_number() -> None:
    acting = somebody()
    for i in range(210):
        add_tool(acting, {**CLICK, "number": f"A-{i}", "make": "like Z-9"})
    add_tool(acting, {**CLICK, "number": "Z-9"})
    with pytest.raises(InputRefused):
        add_tool(acting, {**CLICK, "number": "Z-9"})


def test_the_number_of_a_retired_tool_is_free_and_then_the_retired_one_stays_away() -> None:
    acting = somebody()
    old = add_tool(acting, CLICK)
    retire_tool(acting, old, {})
    add_tool(acting, CLICK)
    with pytest.raises(InputRefused) as caught:
        return_tool(acting, old, {})
    assert caught.value.field == "number"


def test_a_tool_sent_twice_is_added_once_and_answered_alike() -> None:
    acting = somebody("token")
    assert add_tool(acting, CLICK) == add_tool(acting, CLICK)
    assert len(tools(acting.ledger, "", "", today=TODAY).rows) == 1


def test_a_change_may_keep_its_number_but_not_take_anothers() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    add_tool(acting, {**CLICK, "number": "T-05"})
    change_tool(acting, tool, {**CLICK, "make": "new"})
    with pytest.raises(InputRefused) as caught:
        change_tool(acting, tool, {**CLICK, "number": "T-05"})
    assert caught.value.field == "number"


def test_a_change_keeps_checks_events_and_the_next_date() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool)
    tool_event(acting, tool, {"what": "lent", "note": "rigger"})
    change_tool(acting, tool, {**CLICK, "make": "new"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.make, view.row.next_due, view.row.lent_to) == ("new", "2027-11-25", "rigger")
    assert len(view.checks) == len(view.events) == 1


def test_a_second_window_is_told() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    seen = tool_view(acting.ledger, tool, TODAY).body["last"]
    tool_event(acting, tool, {"what": "dropped"}, seen=seen)
    with pytest.raises(Conflict):
        change_tool(acting, tool, CLICK, seen=seen)


@pytest.mark.parametrize("what", ["dropped", "overloaded", "repaired", "back", "adjusted-elsewhere"])
def test_after_this_a_check_is_due_at_once_until_there_is_one(what: str) -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool)
    tool_event(acting, tool, {"what": what, "note": "off the slip"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.due, view.row.next_due) == ("due-now", "2026-11-25")
    assert view.due_because is not None
    assert (view.due_because.what, view.due_because.day, view.due_because.note) == (
        what,
        "2026-11-25",
        "off the slip",
    )
    checked(acting, tool)
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.due, view.due_because) == ("later", None)


def test_a_loan_leaves_the_date_and_names_who_has_it() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool)
    tool_event(acting, tool, {"what": "lent", "note": "rigger"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.due, view.row.lent_to, view.due_because) == ("later", "rigger", None)
    tool_event(acting, tool, {"what": "back"})
    assert tool_view(acting.ledger, tool, TODAY).row.lent_to is None


def test_a_fall_does_not_make_an_overdue_tool_younger() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool, next_due="2026-10-01")
    tool_event(acting, tool, {"what": "dropped"})
    assert tool_view(acting.ledger, tool, TODAY).row.next_due == "2026-10-01"


@pytest.mark.parametrize(
    ("next_due", "due"),
    [
        ("2026-11-24", "overdue"),
        ("2026-11-25", "due-now"),
        ("2026-11-26", "due-soon"),
        ("2026-12-25", "due-soon"),
        ("2026-12-26", "later"),
        (None, "none"),
    ],
)
def test_how_near_the_date_is(next_due: str | None, due: str) -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    assert tool_view(acting.ledger, tool, TODAY).row.due == "unchecked"
    checked(acting, tool, next_due=next_due)
    assert tool_view(acting.ledger, tool, TODAY).row.due == due


def test_an_event_of_another_kind_is_refused() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    for what in ("", "polished"):
        with pytest.raises(InputRefused) as caught:
            tool_event(acting, tool, {"what": what})
        assert caught.value.field == "what"


def test_nothing_happens_to_a_retired_tool() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    retire_tool(acting, tool, {"why": "head cracked"})
    with pytest.raises(InputRefused):
        tool_event(acting, tool, {"what": "dropped"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.state, view.row.due, view.events[0].note) == ("retired", "none", "head cracked")


def test_retiring_or_returning_twice_writes_once() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    for deed in (retire_tool, retire_tool, return_tool, return_tool):
        deed(acting, tool, {})
    assert [event.what for event in tool_view(acting.ledger, tool, TODAY).events] == ["returned", "retired"]


def test_quarantine_and_release_need_a_reason() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    for deed in (quarantine, release_tool):
        with pytest.raises(InputRefused) as caught:
            deed(acting, tool, {"reason": " "})
        assert caught.value.field == "reason"


def test_a_tool_in_quarantine_says_why_until_it_is_released() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    quarantine(acting, tool, {"reason": "spring tired"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert view.row.state == "quarantined"
    assert view.quarantine is not None and view.quarantine.note == "spring tired"
    release_tool(acting, tool, {"reason": "new spring, checked"})
    release_tool(acting, tool, {"reason": "again"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.state, view.quarantine) == ("unchecked", None)
    assert [event.what for event in view.events] == ["released", "quarantined"]


def test_an_event_late_at_night_stands_under_the_day_of_the_workshop() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    at = At()
    at.now = lambda: datetime(2026, 11, 26, 0, 30, tzinfo=timezone(timedelta(hours=1)))  # type: ignore[method-assign]
    tool_event(again(acting, clock=at), tool, {"what": "dropped"})
    assert tool_view(acting.ledger, tool, TODAY).events[0].day == "2026-11-26"


def test_it_says_what_hung_weights_will_ask_for() -> None:
    acting = somebody()
    needs = [
        tool_view(acting.ledger, add_tool(acting, {**CLICK, "number": str(i), **typed}), TODAY).needs
        for i, typed in enumerate(
            (
                {},
                {"grip_mark": "450"},
                {"own_weight": "0"},
                {"grip_mark": "450", "own_way": "balance", "mass": "1.3", "balance_point": "210"},
                {"kind": "driver-electronic"},
            )
        )
    ]
    assert needs == [("own-weight", "grip-mark"), ("own-weight",), ("grip-mark",), (), ()]


def test_checks_come_latest_first_with_their_curve_in_the_tools_unit() -> None:
    acting = somebody()
    tool = add_tool(acting, {**CLICK, "unit": "cN·m", "limit.convention": "applied"})
    checked(acting, tool, record=1)
    checked(acting, tool, record=2, row={"limit_percent": None, "deviation_percent": 9.0}, measure="iso")
    latest, first = tool_view(acting.ledger, tool, TODAY).checks
    assert (latest.record, latest.measure, latest.limit_percent) == (2, "iso", None)
    assert (first.record, first.measure, first.limit_percent) == (1, "applied", 4.0)
    assert first.curve[0].target == 10_000


def test_fifty_tools_a_page_in_the_order_of_their_numbers() -> None:
    acting = somebody()
    assert is_rack_empty(acting.ledger)
    for i in range(120, 0, -1):
        add_tool(acting, {**CLICK, "number": f"T-{i}"})
    assert not is_rack_empty(acting.ledger)
    pages, after = [], None
    while True:
        found = tools(acting.ledger, "", "", after, today=TODAY)
        pages.append([row.number for row in found.rows])
        after = found.after
        if after is None:
            break
    assert [len(page) for page in pages] == [50, 50, 20]
    assert [number for page in pages for number in page] == [f"T-{i}" for i in range(1, 121)]


def test_tools_are_found_by_words_and_state() -> None:
    acting = somebody()
    ids = {n: add_tool(acting, {**CLICK, "number": n, "notes": f"engine shop {n}"}) for n in "ABCDEF"}
    checked(acting, ids["A"], next_due="2026-11-25")
    checked(acting, ids["B"], next_due="2026-12-20")
    checked(acting, ids["C"], verdict="out")
    quarantine(acting, ids["C"], {"reason": "out"})
    checked(acting, ids["D"], verdict="out")
    retire_tool(acting, ids["E"], {})

    def found(state: str, words: str = "") -> str:
        return "".join(row.number for row in tools(acting.ledger, words, state, today=TODAY).rows)

    assert found("") == found("here") == "ABCDF"
    assert found("due") == "A"
    assert found("due-soon") == "AB"
    assert found("in") == "AB"
    assert found("out") == "D"
    assert found("quarantined") == "C"
    assert found("unchecked") == "F"
    assert found("retired") == "E"
    assert found("", "ENGINE click") == "ABCDF"
    assert found("", "keel") == ""
    with pytest.raises(InputRefused):
        found("shiny")


def test_both_ends_of_a_range_name_their_unit_once() -> None:
    acting = somebody()
    row = tool_view(acting.ledger, add_tool(acting, CLICK), TODAY).row
    assert (row.lowest, row.highest) == ("20", "100 N·m")
    mixed = add_tool(acting, {**CLICK, "number": "x", "lowest": "2 kgf·m", "highest": "100 N·m"})
    assert tool_view(acting.ledger, mixed, TODAY).row.lowest == "2 kgf·m"


def test_a_tool_that_is_not_there_is_not_found() -> None:
    acting = somebody()
    with pytest.raises(NotFound):
        tool_view(acting.ledger, "none", TODAY)
    for deed in (change_tool, tool_event, retire_tool, return_tool):
        with pytest.raises(NotFound):
            deed(acting, "none", {**CLICK, "what": "dropped"})
    for deed in (quarantine, release_tool):
        with pytest.raises(NotFound):
            deed(acting, "none", {"reason": "why"})


def test_what_stands_higher_on_the_page_is_refused_first() -> None:
    refused({**CLICK, "highest": "x", "own_way": "reading", "own_reading": "0.8"}, "highest")


def stands(acting: Acting, tool: str) -> tuple[str, str | None]:
    row = tool_view(acting.ledger, tool, TODAY).row
    return row.state, row.check_first


@pytest.mark.parametrize("what", ["dropped", "overloaded"])
def test_after_a_fall_or_an_overload_its_state_says_so_until_it_is_checked(what: str) -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool)
    tool_event(acting, tool, {"what": what})
    tool_event(acting, tool, {"what": "repaired"})
    assert stands(acting, tool) == ("check-first", what)
    because = tool_view(acting.ledger, tool, TODAY).due_because
    assert because is not None
    assert because.what == what
    assert [row.id for row in tools(acting.ledger, "", "check-first", today=TODAY).rows] == [tool]
    checked(acting, tool)
    assert stands(acting, tool) == ("in", None)


def test_a_fall_after_the_last_pull_outlasts_the_closing_of_that_check() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    tool_event(acting, tool, {"what": "dropped"})
    checked(acting, tool, next_due="2026-11-25")
    assert stands(acting, tool) == ("check-first", "dropped")
    assert tool_view(acting.ledger, tool, TODAY).due_because is not None


def test_a_fall_that_an_older_version_wrote_down_is_told_too() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    payload = {"what": "dropped", "note": None, "due": "2026-11-25"}
    acting.write(Draft(Kind.TOOL_EVENT, Subject.TOOL.named(tool), payload))
    assert stands(acting, tool) == ("unchecked", "dropped")


@pytest.mark.parametrize("what", ["repaired", "lent", "adjusted-elsewhere"])
def test_other_events_leave_the_state_as_it_is(what: str) -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool)
    tool_event(acting, tool, {"what": what})
    assert stands(acting, tool) == ("in", None)


@pytest.mark.parametrize(
    ("verdict", "next_due", "due"),
    [
        ("out", None, "2026-11-25"),
        ("stopped", None, "2026-11-25"),
        ("out", "2027-01-10", "2027-01-10"),
        ("in", None, None),
    ],
)
def test_a_tool_that_is_released_without_being_known_good_is_due_at_once(
    verdict: str, next_due: str | None, due: str | None
) -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    checked(acting, tool, verdict=verdict, next_due=next_due)
    quarantine(acting, tool, {"reason": "out"})
    release_tool(acting, tool, {"reason": "for rough work"})
    assert tool_view(acting.ledger, tool, TODAY).row.next_due == due


class Crossed(MemoryLedger):
    """A ledger to which somebody else writes between what was read and what is written."""

    crossing: Callable[[], object] | None = None

    def append(self, drafts: Any, stamp: Any, **how: Any) -> Any:
        """As ever, after what comes across."""
        crossing, self.crossing = self.crossing, None
        if crossing is not None:
            crossing()
        return super().append(drafts, stamp, **how)


@pytest.mark.parametrize("deed", ["add", "change", "return"])
def test_of_two_at_once_the_second_does_not_get_the_same_number(deed: str) -> None:
    ledger = Crossed()
    acting = again(somebody(), ledger=ledger)
    other = add_tool(acting, {**CLICK, "number": "T-05"})
    if deed == "return":
        change_tool(acting, other, CLICK)
        retire_tool(acting, other, {})
    ledger.crossing = lambda: add_tool(acting, CLICK)
    deeds: dict[str, Callable[[], object]] = {
        "add": lambda: add_tool(acting, {**CLICK, "number": "t-04"}),
        "change": lambda: change_tool(acting, other, CLICK),
        "return": lambda: return_tool(acting, other, {}),
    }
    with pytest.raises(InputRefused) as caught:
        deeds[deed]()
    assert (caught.value.field, caught.value.wanted) == ("number", "want-new-tool-number")


def test_a_borrowers_name_stands_in_the_side_table_alone_and_can_be_forgotten() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    tool_event(acting, tool, {"what": "lent", "to": "Sail loft", "note": "until Friday"})
    view = tool_view(acting.ledger, tool, TODAY)
    assert (view.row.lent_to, view.events[0].to, view.events[0].note) == (
        "Sail loft",
        "Sail loft",
        "until Friday",
    )
    assert all("Sail loft" not in entry.body for entry in acting.ledger.entries())
    assert people(acting.ledger) == ()
    (borrower,) = people(acting.ledger, with_borrowers=True)
    assert (borrower.name, borrower.is_borrower) == ("Sail loft", True)
    forget_person(acting, borrower.key)
    assert tool_view(acting.ledger, tool, TODAY).row.lent_to == ""
    tool_event(acting, tool, {"what": "back"})
    assert tool_view(acting.ledger, tool, TODAY).row.lent_to is None


def test_who_borrows_again_or_works_here_is_not_added_twice() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    rigger = add_person(acting, {"person": "rigger"})
    for to in ("rigger", "sail loft", "sail loft"):
        tool_event(acting, tool, {"what": "lent", "to": to})
    known = people(acting.ledger, with_borrowers=True)
    assert [person.name for person in known] == ["rigger", "sail loft"]
    assert known[0] == rigger


def test_a_loan_sent_twice_is_noted_once() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    sent = again(acting, submission="token")
    for _ in range(2):
        tool_event(sent, tool, {"what": "lent", "to": "sail loft"})
    assert len(tool_view(acting.ledger, tool, TODAY).events) == 1


def test_a_name_that_is_too_long_is_refused_beside_its_field() -> None:
    acting = somebody()
    tool = add_tool(acting, CLICK)
    with pytest.raises(InputRefused) as caught:
        tool_event(acting, tool, {"what": "lent", "to": "x" * 81})
    assert caught.value.field == "to"


@pytest.mark.parametrize(
    ("mark", "typed", "kept"),
    [
        (",", "5,015", "05,015 N·m"),
        (",", "12,5", "12,5 N·m"),
        (".", "5.015", "05.015 N·m"),
        (None, "12.5", "12.5 N·m"),
    ],
)
def test_a_field_is_read_by_the_decimal_mark_of_the_workshop(mark: str | None, typed: str, kept: str) -> None:
    acting = somebody()
    if mark is not None:
        set_workshop(acting, {"decimal_mark": mark})
    tool = add_tool(acting, {**CLICK, "lowest": typed})
    view = tool_view(acting.ledger, tool, TODAY)
    assert view.body["tool"]["lowest"] == kept
    assert view.row.lowest == typed
    change_tool(acting, tool, tool_typed_again(view.body))
    assert tool_view(acting.ledger, tool, TODAY).body["tool"]["lowest"] == kept


@pytest.mark.parametrize(
    ("mark", "typed"), [(".", "5,015"), (",", "5.015"), (None, "5.015"), (None, "5,015")]
)
def test_a_mark_that_may_set_thousands_apart_is_still_refused(mark: str | None, typed: str) -> None:
    acting = somebody()
    if mark is not None:
        set_workshop(acting, {"decimal_mark": mark})
    with pytest.raises(InputRefused) as caught:
        add_tool(acting, {**CLICK, "lowest": typed})
    assert (caught.value.field, caught.value.wanted) == ("lowest", "want-clear-thousands")
