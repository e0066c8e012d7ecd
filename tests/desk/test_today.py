"""What a day asks for: due tools by urgency, checks in hand, tools set aside, papers, the first steps."""

from collections.abc import Sequence
from datetime import date, timedelta

from steelyard.desk import Body, Listed, Wanted, look_at_today
from steelyard.desk.today import SHOWN, FirstSteps
from steelyard.records import Draft, Kind, Stamp, Subject
from steelyard.store import MemoryLedger

DAY = date(2026, 11, 25)
STAMP = Stamp("2026-11-25T09:00:00.000Z", 60, "", "test")
TOOL = {"kind": "beam", "lowest": "20 N·m", "highest": "100 N·m", "graduation": "1 N·m"}


class CountingLedger(MemoryLedger):
    """Keeps what was asked of it, and how many documents it gave."""

    def __init__(self) -> None:
        super().__init__()
        self.given = 0
        self.asked: list[Wanted] = []

    def documents(self, wanted: Wanted) -> list[Listed]:
        """As every ledger."""
        found = super().documents(wanted)
        self.asked.append(wanted)
        self.given += len(found)
        return found


def tool(number: str, *, due: int | None = None) -> Sequence[Draft]:
    """A tool, and due so many days from DAY."""
    subject = Subject.TOOL.named(number)
    payload: Body = {"tool": {**TOOL, "number": number}, "limit": {"percent": "6"}, "notes": None}
    drafts = [Draft(Kind.TOOL_ADDED, subject, payload)]
    if due is not None:
        day = (DAY + timedelta(days=due)).isoformat()
        drafts.append(Draft(Kind.TOOL_EVENT, subject, {"what": "back", "note": None, "due": day}))
    return drafts


def rig(name: str, due: int | None) -> Draft:
    paper = {} if due is None else {"paper": {"due": (DAY + timedelta(days=due)).isoformat()}}
    return Draft(Kind.RIG_ADDED, Subject.RIG.named(name), {"sort": "scale", "table": {"name": name, **paper}})


def opened(name: str, number: str) -> Draft:
    payload = {"tool": number, "tool_number": number, "why": "due", "title": None, "day": "2026-11-25"}
    return Draft(Kind.CHECK_OPENED, Subject.CHECK.named(name), payload)


def ledger_of(*drafts: Draft) -> CountingLedger:
    ledger = CountingLedger()
    ledger.append(drafts, STAMP)
    return ledger


def test_due_tools_stand_by_urgency_and_not_by_number() -> None:
    ledger = ledger_of(*tool("T-1", due=-1), *tool("T-2", due=-40), *tool("T-3", due=30), *tool("T-4", due=0))
    found = look_at_today(ledger, DAY)
    assert [(due.number, due.days) for due in found.overdue] == [("T-2", -40), ("T-1", -1)]
    assert [(due.number, due.days) for due in found.soon] == [("T-4", 0), ("T-3", 30)]
    assert not found.more_due


def test_a_tool_due_later_or_never_or_retired_is_not_asked_for() -> None:
    retired = Draft(Kind.TOOL_RETIRED, Subject.TOOL.named("T-3"), {"reason": "worn"})
    found = look_at_today(ledger_of(*tool("T-1", due=31), *tool("T-2"), *tool("T-3", due=-5), retired), DAY)
    assert found.overdue == found.soon == ()


def test_a_tool_in_quarantine_stands_there_alone() -> None:
    aside = Draft(Kind.QUARANTINED, Subject.TOOL.named("T-1"), {"note": "fell", "check": None})
    found = look_at_today(ledger_of(*tool("T-1", due=-5), aside), DAY)
    assert found.overdue == ()
    (tool_aside,) = found.set_aside
    assert (tool_aside.number, tool_aside.since, tool_aside.note) == ("T-1", "2026-11-25", "fell")


def test_days_are_those_of_the_workshop_not_of_greenwich() -> None:
    """At 20:30 UTC it is the next morning where the clock is ten hours ahead."""
    ledger = ledger_of(*tool("T-1"), *tool("T-2"))
    aside = Draft(Kind.QUARANTINED, Subject.TOOL.named("T-1"), {"note": "fell", "check": None})
    ledger.append([aside, opened("c1", "T-2")], Stamp("2026-11-24T20:30:00.000Z", 600, "", "test"))
    found = look_at_today(ledger, DAY)
    assert found.set_aside[0].since == "2026-11-25"
    assert found.open_checks[0].day == "2026-11-25"
    assert len(ledger.documents(Wanted("check", day_from="2026-11-25"))) == 1


def test_a_check_in_hand_counts_the_pulls_that_stand() -> None:
    check = Subject.CHECK.named("c1")
    pulls = [Draft(Kind.PULL_READ, check, {"pull": {}, "struck_out": out}) for out in (None, "slip", None)]
    (found,) = look_at_today(ledger_of(*tool("T-1"), opened("c1", "T-1"), *pulls), DAY).open_checks
    assert (found.check, found.number, found.pulls, found.at) == ("c1", "T-1", 2, STAMP.at)


def test_papers_that_ran_out_stand_first_and_later_ones_not_at_all() -> None:
    sold = Draft(Kind.RIG_SOLD, Subject.RIG.named("S-4"), {"note": None})
    ledger = ledger_of(rig("S-1", 10), rig("S-2", -2), rig("S-3", 31), rig("S-4", -9), sold, rig("S-5", None))
    papers = look_at_today(ledger, DAY).papers
    assert [(paper.name, paper.days) for paper in papers] == [("S-2", -2), ("S-1", 10)]


def test_the_first_steps_follow_what_is_there() -> None:
    assert look_at_today(MemoryLedger(), DAY).first == FirstSteps(False, False, False)
    assert look_at_today(ledger_of(rig("S-1", None)), DAY).first == FirstSteps(True, False, False)
    ledger = ledger_of(*tool("T-1"), opened("c1", "T-1"))
    assert look_at_today(ledger, DAY).first == FirstSteps(False, True, False)
    closed = {"record": 1, "verdict": "out", "day": "2026-11-25"}
    ledger.append([Draft(Kind.CHECK_CLOSED, Subject.CHECK.named("c1"), closed)], STAMP)
    assert look_at_today(ledger, DAY).first == FirstSteps(True, True, True)


def test_a_large_rack_is_never_loaded_whole() -> None:
    ledger = ledger_of(*(draft for i in range(300) for draft in tool(f"T-{i}", due=-i)))
    found = look_at_today(ledger, DAY)
    assert len(found.overdue) == SHOWN
    assert found.more_due
    assert ledger.given <= 2 * (SHOWN + 1)
    assert all(wanted.most <= SHOWN + 1 for wanted in ledger.asked)


def test_the_most_urgent_of_many_are_shown_wherever_they_stand_on_the_rack() -> None:
    found = look_at_today(ledger_of(*(draft for i in range(300) for draft in tool(f"T-{i}", due=-i))), DAY)
    assert [due.number for due in found.overdue] == [f"T-{299 - i}" for i in range(SHOWN)]
    assert [due.number for due in found.soon] == ["T-0"]


def test_tools_that_fell_come_first_whatever_their_dates_and_their_place_on_the_rack() -> None:
    fell = {"what": "dropped", "note": None, "due": DAY.isoformat(), "is_check_first": True}
    drafts = [*(draft for i in range(300) for draft in tool(f"T-{i}", due=-i)), *tool("Z-1", due=200)]
    found = look_at_today(ledger_of(*drafts, Draft(Kind.TOOL_EVENT, Subject.TOOL.named("Z-1"), fell)), DAY)
    assert [(due.number, due.check_first, due.days) for due in found.check_first] == [("Z-1", "dropped", 0)]
    assert all(due.check_first is None for due in (*found.overdue, *found.soon))


def test_a_tool_set_aside_for_damage_says_so() -> None:
    aside = Draft(Kind.QUARANTINED, Subject.TOOL.named("T-1"), {"note": "crack", "check": "c1"})
    (found,) = look_at_today(ledger_of(*tool("T-1"), aside), DAY).set_aside
    assert (found.is_damage, found.record, found.note) == (True, None, "crack")
