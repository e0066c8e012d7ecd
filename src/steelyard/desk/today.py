"""What a day asks for: tools due, checks in hand, tools set aside, papers that run out, the first steps."""

from dataclasses import dataclass
from datetime import date, timedelta

from steelyard.desk.book import SEALED
from steelyard.desk.ports import Ledger, Listed, Wanted
from steelyard.desk.rack import STATES_IN_USE
from steelyard.desk.rack_view import doubtful
from steelyard.desk.usual import DUE_SOON_DAYS
from steelyard.records import CHECK_FIRST, day_there, subject_name

SHOWN = 8
QUARANTINED = "quarantined"
DUE_STATES = tuple(state for state in STATES_IN_USE if state not in (QUARANTINED, CHECK_FIRST))


@dataclass(frozen=True)
class DueTool:
    """A tool that wants a check. tool: its name in the ledger. days: until it is due, negative since. [d]
    check_first: `dropped` or `overloaded` where it must be checked before it is used, else None."""

    tool: str
    number: str
    due: date
    days: int
    check_first: str | None


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
    is_damage: damage was seen in the look-over of a check.
    """

    tool: str
    number: str
    since: str
    note: str
    record: int | None
    is_damage: bool


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

    check_first: fell or were overloaded, whatever their dates. overdue: due before today. soon: due today or
    within DUE_SOON_DAYS.
    """

    check_first: tuple[DueTool, ...]
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
    first = _due(ledger, day, states=(CHECK_FIRST,))
    overdue = _due(ledger, day, due_by=(day - timedelta(days=1)).isoformat())
    soon = _due(ledger, day, due_from=day.isoformat(), due_by=by)
    checks = ledger.documents(Wanted("check", states=("open",), most=SHOWN + 1, newest_first=True))
    aside = ledger.documents(Wanted("tool", states=(QUARANTINED,), most=SHOWN + 1))
    papers = ledger.documents(Wanted("rig", states=("here",), due_by=by, most=SHOWN + 1, soonest_first=True))
    return Today(
        check_first=tuple(first[:SHOWN]),
        overdue=tuple(overdue[:SHOWN]),
        soon=tuple(soon[:SHOWN]),
        open_checks=tuple(map(_open_check, checks[:SHOWN])),
        set_aside=tuple(map(_set_aside, aside[:SHOWN])),
        papers=tuple(_paper(listed, day) for listed in papers[:SHOWN]),
        more_due=any(len(found) > SHOWN for found in (first, overdue, soon)),
        more_checks=len(checks) > SHOWN,
        more_set_aside=len(aside) > SHOWN,
        more_papers=len(papers) > SHOWN,
        first=_first_steps(ledger),
    )


def _due(
    ledger: Ledger,
    day: date,
    *,
    states: tuple[str, ...] = DUE_STATES,
    due_by: str | None = None,
    due_from: str | None = None,
) -> list[DueTool]:
    """In some states and due within some days, the most urgent first; one more than is shown."""
    wanted = Wanted(
        "tool", states=states, due_from=due_from, due_by=due_by, most=SHOWN + 1, soonest_first=True
    )
    return [_due_tool(listed, day) for listed in ledger.documents(wanted)]


def _due_tool(listed: Listed, day: date) -> DueTool:
    due, number = date.fromisoformat(listed.body["next_due"]), str(listed.body["tool"]["number"])
    return DueTool(subject_name(listed.subject), number, due, (due - day).days, doubtful(listed.body))


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
    return SetAside(
        tool=subject_name(listed.subject),
        number=number,
        since=said["since"],
        note=said["note"] or "",
        record=said["record"],
        is_damage="seen_in" in said,
    )


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
