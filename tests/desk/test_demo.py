"""The demo workshop tells its story by the desk's own functions, the same on any day."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from steelyard.bootstrap import Photographs, Workshop, fill_demo
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Body,
    PaperState,
    Step,
    check_view,
    checks_in_hand,
    find_records,
    here,
    look_at_today,
    next_point,
    paper_state,
    people,
    read_pull,
    record_view,
    settings,
    tool_view,
    tools,
)
from steelyard.evaluation import evaluate_point
from steelyard.simulation import Before, story
from steelyard.store import MemoryLedger
from web.shop import CountingDice

HOUR = datetime(2026, 11, 25, 10, 0, tzinfo=timezone(timedelta(hours=1)))
LEAP_NIGHT = datetime(2028, 2, 29, 0, 5, tzinfo=timezone(timedelta(hours=-9)))
YEARS_END = datetime(2027, 12, 31, 23, 59, 59, 999_999, tzinfo=timezone(timedelta(hours=13)))
FEW_DRAWS = 2_000
STATES = {
    "T-01": ("in", "later"),
    "T-02": ("unchecked", "unchecked"),
    "T-03": ("in", "due-soon"),
    "T-04": ("cant-tell", "due-soon"),
    "T-05": ("quarantined", "none"),
    "T-06": ("in", "due-soon"),
    "T-07": ("in", "later"),
    "T-08": ("in", "overdue"),
    "T-09": ("check-first", "overdue"),
    "T-10": ("in", "later"),
    "T-11": ("in", "later"),
    "T-12": ("retired", "none"),
    "T-13": ("in", "later"),
}


@dataclass(frozen=True)
class StoppedClock:
    """A clock that stands when the story is told."""

    moment: datetime

    def now(self) -> datetime:
        """The moment."""
        return self.moment


def told(now: datetime) -> Workshop:
    workshop = Workshop(
        Path(), MemoryLedger(), StoppedClock(now), CountingDice(), Photographs(), is_demo=True
    )
    fill_demo(workshop)
    return workshop


@pytest.fixture(scope="module")
def demo() -> Workshop:
    """With all its draws; no test writes into it."""
    return told(HOUR)


@pytest.fixture
def few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """Verdicts in a moment, for what does not hang on their digits."""

    def quickly(case: Any, **named: Any) -> Any:
        return evaluate_point(case, **{**named, "draws": FEW_DRAWS})

    monkeypatch.setattr("steelyard.desk.check.evaluate_point", quickly)


def today_in(workshop: Workshop) -> date:
    return workshop.clock.now().date()


def states(workshop: Workshop) -> dict[str, tuple[str, str]]:
    return {
        row.number: (row.state, row.due)
        for shown in ("here", "retired")
        for row in tools(workshop.ledger, "", shown, today=today_in(workshop)).rows
    }


def tool_named(workshop: Workshop, number: str) -> str:
    shown = "retired" if number == "T-12" else "here"
    rows = tools(workshop.ledger, "", shown, today=today_in(workshop)).rows
    return next(row.id for row in rows if row.number == number)


def records(workshop: Workshop, number: str) -> list[Body]:
    """The sealed checks of a tool, the latest first."""
    return [one.body for one in find_records(workshop.ledger, {"tool": tool_named(workshop, number)})]


def codes(body: Body, phase: str) -> set[str]:
    return {doubt["code"] for doubt in body["verdicts"][phase]["content"]["doubts"]}


def test_every_tool_stands_as_told(demo: Workshop) -> None:
    assert states(demo) == STATES


def test_the_verdicts_are_as_told(demo: Workshop) -> None:
    last = {number: records(demo, number)[0] for number in ("T-01", "T-04", "T-05", "T-07", "T-11", "T-13")}
    verdicts = {n: {phase: v["verdict"] for phase, v in body["verdicts"].items()} for n, body in last.items()}
    assert verdicts == {
        "T-01": {AS_FOUND: "in"},
        "T-04": {AS_FOUND: "cant-tell"},
        "T-05": {AS_FOUND: "out"},
        "T-07": {AS_FOUND: "in"},
        "T-11": {AS_FOUND: "out", AS_LEFT: "in"},
        "T-13": {AS_FOUND: "out", AS_LEFT: "in"},
    }
    kits = {n: body["setup"]["form"]["kit"]["kind"] for n, body in last.items()}
    assert {kits["T-01"], kits["T-07"]} == {"hung-weight"}
    assert {kits["T-04"], kits["T-05"], kits["T-11"]} == {"transducer"}


def test_no_check_was_done_carelessly(demo: Workshop) -> None:
    careless = {"exercise-skipped", "exercise-short", "reading-outside-range", "unit-suspected", "no-spread"}
    careless |= {
        "paper-overdue",
        "outside-paper",
        "gravity-unknown",
        "drop-assumed",
        "own-weight-state-unknown",
    }
    for one in find_records(demo.ledger, {}):
        for phase in one.body["verdicts"]:
            assert not codes(one.body, phase) & careless, one.body["tool_number"]


def test_the_chain_verifies_and_every_record_is_intact(demo: Workshop) -> None:
    assert demo.verify().is_whole
    numbers = [one.body["closed"]["record"] for one in find_records(demo.ledger, {})]
    assert numbers == list(range(18, 0, -1))
    assert all(record_view(demo.ledger, number).is_intact for number in numbers)


def test_one_pull_of_t04_is_struck_out_and_kept(demo: Workshop) -> None:
    (body,) = records(demo, "T-04")
    struck = [(pull["pull"]["reading"], pull["struck_out"]) for pull in body["pulls"] if pull["struck_out"]]
    assert struck == [("88.2 N·m", "the hand slipped")]


@pytest.mark.parametrize(("number", "checks", "least_a_year"), [("T-01", 4, 0.4), ("T-03", 3, 1.0)])
def test_two_tools_drift_upwards_year_by_year(
    demo: Workshop, number: str, checks: int, least_a_year: float
) -> None:
    past = tool_view(demo.ledger, tool_named(demo, number), today_in(demo)).checks
    worst = [check.worst_percent for check in reversed(past) if check.worst_percent is not None]
    assert len(worst) == len(past) == checks
    assert all(later - before > least_a_year for before, later in zip(worst, worst[1:], strict=False))
    assert {check.verdict for check in past} == {"in"}


def test_one_record_is_followed_by_a_correction(demo: Workshop) -> None:
    corrected = [one.body["tool_number"] for one in find_records(demo.ledger, {}) if one.body["corrections"]]
    assert corrected == ["T-08"]


def test_the_driver_was_turned_between_out_and_in(demo: Workshop) -> None:
    (body,) = records(demo, "T-11")
    assert [turn["turns"] for turn in body["turns"]] == ["1/2", "1/4"]
    assert body["verdicts"][AS_LEFT]["content"]["kit"]["certificate"] == "TPB-0042"


def test_one_tool_was_asked_by_yes_and_no_and_turned_as_advised(demo: Workshop) -> None:
    (body,) = records(demo, "T-13")
    assert all("clicked" in pull["pull"] for pull in body["pulls"])
    assert 2 <= len(body["turns"]) <= 3
    first, *rest = body["turns"]
    assert first["turns"] in ("1/8", "1/4", "3/8", "1/2")  # a test turn
    assert {turn["way"] for turn in rest} == {"in"}
    assert body["locked"]["number"] > body["turns"][-1]["number"]
    since = [row for row in body["exercise"] if row["number"] > body["locked"]["number"]]
    assert [row["pulls"] for row in since] == [3]
    assert body["closed"]["gain_ratio"] == pytest.approx(2.4 / 60, rel=0.25)  # what the story's tool does


def test_what_happened_stands_on_the_tools(demo: Workshop) -> None:
    fallen = tool_view(demo.ledger, tool_named(demo, "T-09"), today_in(demo))
    assert fallen.due_because is not None
    assert (fallen.due_because.what, fallen.due_because.who) == ("dropped", "rigger")
    assert tool_view(demo.ledger, tool_named(demo, "T-10"), today_in(demo)).row.lent_to is not None
    aside = tool_view(demo.ledger, tool_named(demo, "T-05"), today_in(demo)).quarantine
    assert aside is not None and aside.record == records(demo, "T-05")[0]["closed"]["record"]


def test_the_workshop_and_its_people_are_there(demo: Workshop) -> None:
    said = settings(demo.ledger)
    assert (said.name, said.unit) == ("Tern Point Boatyard", "N·m")
    assert said.place == {"latitude": "54.3° N", "height": "12 m"}
    assert [person.name for person in people(demo.ledger)] == ["engine shop", "rigger"]


def test_the_check_in_hand_is_taken_up_where_it_was_left(few_draws: None) -> None:
    demo = told(HOUR)
    (listed,) = checks_in_hand(demo.ledger)
    view = check_view(demo.ledger, listed.body["id"])
    assert (view.body["tool_number"], view.now) == ("T-06", Step.AS_FOUND)
    assert next_point(view.body, AS_FOUND) == 1
    for reading in ("179.2", "179.0", "179.4"):
        read_pull(demo.acting(), listed.body["id"], AS_FOUND, 1, {"line": reading})
    assert next_point(check_view(demo.ledger, listed.body["id"]).body, AS_FOUND) == 2


@pytest.mark.parametrize("now", [HOUR, LEAP_NIGHT, YEARS_END], ids=["day", "leap night", "year's end"])
def test_it_is_the_same_on_any_day(now: datetime, few_draws: None) -> None:
    demo = told(now)
    assert states(demo) == STATES
    day = look_at_today(demo.ledger, today_in(demo))
    assert [(tool.number, tool.days) for tool in day.check_first] == [("T-09", -2)]
    assert [(tool.number, tool.days) for tool in day.overdue] == [("T-08", -35)]
    assert ("T-03", 12) in [(tool.number, tool.days) for tool in day.soon]
    assert [(paper.name, paper.days) for paper in day.papers] == [("R-1", 21)]
    (r_1,) = (rig for rig in here(demo.ledger).transducers if rig["table"]["name"] == "R-1")
    assert paper_state(r_1, today_in(demo)) is PaperState.SOON


def test_time_only_goes_on_and_never_beyond_now(demo: Workshop) -> None:
    moments = [datetime.fromisoformat(entry.at) for entry in demo.ledger.entries()]
    assert moments == sorted(moments)
    assert moments[-1] < HOUR
    assert all(entry.offset_minutes == 60 for entry in demo.ledger.entries())


def test_the_story_is_told_the_oldest_first() -> None:
    def place(before: Before) -> tuple[int, str]:
        return -before.days, before.hour

    places = [place(deed.when) for deed in story()]
    assert places == sorted(places)


def test_the_same_clock_and_dice_give_the_same_digests(few_draws: None) -> None:
    first, second = told(HOUR), told(HOUR)
    assert first.ledger.head() == second.ledger.head()
    assert [e.digest for e in first.ledger.entries()] == [e.digest for e in second.ledger.entries()]
