"""What a day asks for: tools due, checks in hand, tools set aside, papers that run out, the first steps."""

from dataclasses import dataclass
from datetime import date, timedelta

from steelyard.desk.book import SEALED
from steelyard.desk.ports import Ledger, Listed, Wanted
from steelyard.desk.rack import STATES_IN_USE
from steelyard.desk.rack_view import DUE_SOON_DAYS
from steelyard.records import day_there, subject_name

SHOWN = 8
QUARANTINED = "quarantined"
DUE_STATES = tuple(state for state in STATES_IN_USE if state != QUARANTINED)


@dataclass(frozen=True)
class DueTool:
    """A tool that wants a check. tool: its name in the ledger. days: until it is due, negative since. [d]"""

    tool: str
    number: str
    due: date
    days: int


@dataclass(frozen=True)
class OpenCheck:
    """A check that was begun. at: UTC of its opening. offset_minutes: of the clock there. [min]
    pulls: read so far and not struck out. who: key of the person who opened it."""

    check: str
    number: str
    at: str
    offset_minutes: int
    pulls: int
    who: str

    @property
    def day(self) -> str:
        """The day in the workshop on which it was begun."""
        return day_there(self.at, self.offset_minutes)


@dataclass(frozen=True)
class SetAside:
    """A tool in quarantine.

    since: the day in the workshop. note: what was said. record: that brought it there, or None.
    """

    tool: str
    number: str
    since: str
    note: str
    record: int | None


@dataclass(frozen=True)
class EndingPaper:
    """A reference whose paper runs out. days: until then, negative since. [d]"""

    rig: str
    name: str
    due: date
    days: int


@dataclass(frozen=True)
class FirstSteps:
    """The way from an empty workshop to its first record; with a record all of it is done."""

    has_rig: bool
    has_tool: bool
    has_record: bool


@dataclass(frozen=True)
class Today:
    """What the day asks for; each row at most SHOWN long, its `more_…` true where there are others.

    overdue: due before today. soon: due today or within DUE_SOON_DAYS.
    """

    overdue: tuple[DueTool, ...]
    soon: tuple[DueTool, ...]
    open_checks: tuple[OpenCheck, ...]
    set_aside: tuple[SetAside, ...]
    papers: tuple[EndingPaper, ...]
    more_due: bool
    more_checks: bool
    more_set_aside: bool
    more_papers: bool
    first: FirstSteps


def look_at_today(ledger: Ledger, day: date) -> Today:
    """What a day asks for in a workshop.

    day: in the workshop's own calendar. Tools in quarantine stand there and are not due besides.
    """
    by = (day + timedelta(days=DUE_SOON_DAYS)).isoformat()
    overdue = _due(ledger, day, due_by=(day - timedelta(days=1)).isoformat())
    soon = _due(ledger, day, due_from=day.isoformat(), due_by=by)
    checks = ledger.documents(Wanted("check", states=("open",), most=SHOWN + 1, newest_first=True))
    aside = ledger.documents(Wanted("tool", states=(QUARANTINED,), most=SHOWN + 1))
    papers = ledger.documents(Wanted("rig", states=("here",), due_by=by, most=SHOWN + 1, soonest_first=True))
    return Today(
        overdue=tuple(overdue[:SHOWN]),
        soon=tuple(soon[:SHOWN]),
        open_checks=tuple(map(_open_check, checks[:SHOWN])),
        set_aside=tuple(map(_set_aside, aside[:SHOWN])),
        papers=tuple(_paper(listed, day) for listed in papers[:SHOWN]),
        more_due=len(overdue) > SHOWN or len(soon) > SHOWN,
        more_checks=len(checks) > SHOWN,
        more_set_aside=len(aside) > SHOWN,
        more_papers=len(papers) > SHOWN,
        first=_first_steps(ledger),
    )


def _due(ledger: Ledger, day: date, *, due_by: str, due_from: str | None = None) -> list[DueTool]:
    """Due within some days and not set aside, the most urgent first; one more than is shown."""
    wanted = Wanted(
        "tool", states=DUE_STATES, due_from=due_from, due_by=due_by, most=SHOWN + 1, soonest_first=True
    )
    return [_due_tool(listed, day) for listed in ledger.documents(wanted)]


def _due_tool(listed: Listed, day: date) -> DueTool:
    due, number = date.fromisoformat(listed.body["next_due"]), str(listed.body["tool"]["number"])
    return DueTool(subject_name(listed.subject), number, due, (due - day).days)


def _open_check(listed: Listed) -> OpenCheck:
    body, opened = listed.body, listed.body["opened"]
    return OpenCheck(
        check=subject_name(listed.subject),
        number=str(body["tool_number"]),
        at=opened["at"],
        offset_minutes=opened["offset_minutes"],
        pulls=sum(pull["struck_out"] is None for pull in body["pulls"]),
        who=opened["who"],
    )


def _set_aside(listed: Listed) -> SetAside:
    said = listed.body["quarantine"]
    number = str(listed.body["tool"]["number"])
    return SetAside(subject_name(listed.subject), number, said["since"], said["note"] or "", said["record"])


def _paper(listed: Listed, day: date) -> EndingPaper:
    table = listed.body["table"]
    due = date.fromisoformat(table["paper"]["due"])
    return EndingPaper(subject_name(listed.subject), str(table["name"]), due, (due - day).days)


def _first_steps(ledger: Ledger) -> FirstSteps:
    if ledger.documents(Wanted("check", states=SEALED, most=1)):
        return FirstSteps(True, True, True)
    return FirstSteps(
        has_rig=bool(ledger.documents(Wanted("rig", states=("here",), most=1))),
        has_tool=bool(ledger.documents(Wanted("tool", most=1))),
        has_record=False,
    )
