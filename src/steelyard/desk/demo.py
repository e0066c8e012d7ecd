"""The story of the demo workshop played through the desk's own functions, deed by deed and pull by pull."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from steelyard.desk.acting import Acting
from steelyard.desk.adjusting import turn_adjuster, waive_adjusting
from steelyard.desk.bench import choose_kit, exercise, look_over, open_check, set_up
from steelyard.desk.bench_verdict import judge_phase
from steelyard.desk.book import correct_record
from steelyard.desk.closing import close_check, offered_due
from steelyard.desk.demo_adjusting import play_adjusting
from steelyard.desk.pulls import read_pull, strike_out
from steelyard.desk.rack import add_tool, retire_tool, tool_event
from steelyard.desk.rigs import add_rig
from steelyard.desk.workshop import add_person, set_workshop
from steelyard.records import AS_FOUND, AS_LEFT, Subject
from steelyard.simulation import (
    BEGUN,
    PEOPLE,
    WORKSHOP,
    Adjusts,
    Before,
    Checks,
    Closing,
    Corrects,
    Deed,
    Happens,
    Points,
    Retires,
    RigComes,
    ToolComes,
    story,
)

ActingAt = Callable[[datetime, str], Acting]
"""Somebody who acts at a moment: the moment, the key of the person."""
A_PULL = timedelta(seconds=20)
A_STEP = timedelta(seconds=60)


def tell_story(acting_at: ActingAt, now: datetime) -> None:
    """Fill an empty workshop with the story, as if its people had done it all.

    now: when it is told; days are counted back from it, in its zone.
    Raises StoreTrouble.
    """
    teller = _Teller(acting_at, now)
    teller.set_up_shop()
    for deed in story():
        teller.tell(deed)


@dataclass
class _Teller:
    """Who tells it, and what the things of the story are called in the ledger. at: how far it was told."""

    acting_at: ActingAt
    now: datetime
    at: datetime = field(init=False)
    people: dict[str, str] = field(default_factory=dict)
    rigs: dict[str, str] = field(default_factory=dict)
    tools: dict[str, str] = field(default_factory=dict)
    records: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.at = self._moment(BEGUN)

    def set_up_shop(self) -> None:
        """The workshop and the people in it."""
        set_workshop(self._acting(""), WORKSHOP)
        for person in PEOPLE:
            self.people[person] = add_person(self._acting(""), {"person": person}).key

    def tell(self, deed: Deed) -> None:
        """One deed, not before the one that was told last."""
        self.at = max(self.at, self._moment(deed.when))
        match deed:
            case RigComes():
                days = {name: self._day(days) for name, days in deed.days.items()}
                typed = {**deed.typed, **days}
                self.rigs[typed["name"]] = add_rig(self._acting(deed.who), deed.sort, typed)
            case ToolComes():
                self.tools[deed.typed["number"]] = add_tool(self._acting(deed.who), deed.typed)
            case Happens():
                said = {"what": deed.what, "note": deed.note}
                tool_event(self._acting(deed.who), self.tools[deed.tool], said)
            case Retires():
                retire_tool(self._acting(deed.who), self.tools[deed.tool], {"why": deed.why})
            case Corrects():
                said = {"wrong": deed.wrong, "right": deed.right}
                correct_record(self._acting(deed.who), self.records[deed.tool], said)
            case Checks():
                self._check(deed)
            case Adjusts():
                check = self._ready(deed)
                verdict = play_adjusting(lambda: self._acting(deed.who, A_PULL), check, deed)
                self._close(deed, check, deed.closing, verdict)

    def _ready(self, deed: Checks | Adjusts) -> str:
        """The steps up to the first pull, in the order of their pages; the name of the check."""
        why = {"why": deed.why, "title": deed.title}
        check = open_check(self._acting(deed.who), self.tools[deed.tool], why)
        look_over(self._acting(deed.who), check, {"damaged": "no"})
        choose_kit(self._acting(deed.who), check, {"rig": self.rigs[deed.rig], **deed.plan})
        set_up(self._acting(deed.who), check, {"is_ready": "yes", **deed.set_up})
        exercise(self._acting(deed.who), check, {"exercise_pulls": str(deed.exercised)})
        return check

    def _check(self, deed: Checks) -> None:
        """Every step of a check."""
        check = self._ready(deed)
        self._pull(deed.who, check, AS_FOUND, deed.found)
        if deed.closing is None:
            return
        verdict = judge_phase(self._acting(deed.who), check, AS_FOUND, {})
        for turn in deed.turns:
            turn_adjuster(self._acting(deed.who), check, turn)
        if deed.turns:
            self._pull(deed.who, check, AS_LEFT, deed.left)
            verdict = judge_phase(self._acting(deed.who), check, AS_LEFT, {})
        if deed.closing.waived:
            waive_adjusting(self._acting(deed.who), check, {"waive_reason": deed.closing.waived})
        self._close(deed, check, deed.closing, verdict)

    def _pull(self, who: str, check: str, phase: str, points: Points) -> None:
        for i, pulls in enumerate(points):
            for pull in pulls:
                entry = read_pull(self._acting(who, A_PULL), check, phase, i, pull.typed)
                if pull.struck_out:
                    strike_out(self._acting(who, A_PULL), check, entry.number, {"reason": pull.struck_out})

    def _close(self, deed: Checks | Adjusts, check: str, closing: Closing, verdict: str) -> None:
        acting = self._acting(deed.who)
        if closing.due_in_days is None:
            tool = acting.body(Subject.TOOL, self.tools[deed.tool])
            offered = offered_due(tool, acting.today(), verdict=verdict)
            due = offered.isoformat() if offered is not None else ""
        else:
            due = self._day(closing.due_in_days)
        said = {"next_due": due, "close_note": closing.note}
        self.records[deed.tool] = close_check(acting, check, said)

    def _acting(self, who: str, taking: timedelta = A_STEP) -> Acting:
        """Somebody at the moment that was reached, and the moment after it. who: empty for nobody."""
        acting = self.acting_at(self.at, self.people[who] if who else "")
        self.at += taking
        return acting

    def _moment(self, before: Before) -> datetime:
        if not before.days:
            return self.now - timedelta(minutes=before.minutes)
        hour, minute = map(int, before.hour.split(":"))
        there = self.now - timedelta(days=before.days)
        return there.replace(hour=hour, minute=minute, second=0, microsecond=0)

    def _day(self, days: int) -> str:
        return (self.now.date() + timedelta(days=days)).isoformat()
