"""Today: what the day asks for, and the way to the next check."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from fastapi import APIRouter
from fastapi.responses import Response

from steelyard.desk import DUE_SOON_DAYS, Today, look_at_today
from steelyard.desk.today import DueTool, EndingPaper, FirstSteps, OpenCheck, SetAside
from steelyard.telling import at_hour, day_in_words
from steelyard.web.asked import Ask, Asked
from steelyard.web.pages import page, see
from steelyard.words import say

router = APIRouter()
BACKUP_OLD_DAYS = 2
CHECK_A_TOOL = "/bench/new"


class Row(NamedTuple):
    """One line of a list: what it is, where it leads, its state in a word, and what else is said of it."""

    name: str
    href: str
    state: str
    word: str
    said: str


class Step(NamedTuple):
    """One of the first steps. state: done, now or todo. ways: word and address of each button."""

    title: str
    text: str
    state: str
    ways: tuple[tuple[str, str], ...]


class Heap(NamedTuple):
    """Rows under one heading. more: where the others are, empty where these are all."""

    title: str
    rows: tuple[Row, ...]
    more: str


@router.get("/")
def today(ask: Asked) -> Response:
    """The day; before anything was set, the first start."""
    if not ask.settings.is_set:
        return see("/welcome")
    day = ask.workshop.clock.now().date()
    found = look_at_today(ask.workshop.ledger, day)
    return page(
        ask,
        "today.html",
        say("shell-today"),
        place="today",
        day=day_in_words(day),
        heaps=_heaps(ask, found),
        steps=_steps(found.first),
        check_href=CHECK_A_TOOL,
        here=ask.person,
        backup=backup_said(ask),
        soon_days=DUE_SOON_DAYS,
    )


def _heaps(ask: Ask, found: Today) -> tuple[Heap, ...]:
    """What there is, the most pressing first; nothing of what there is not."""
    names = ask.workshop.ledger.names()
    due = _due(found)
    checks = tuple(_open(check, names) for check in found.open_checks)
    heaps = (
        Heap(say("today-open"), checks, "/bench" if found.more_checks else ""),
        Heap(say("today-due"), due, "/rack?state=due-soon" if found.more_due else ""),
        Heap(
            say("today-aside"),
            tuple(map(_aside, found.set_aside)),
            "/rack?state=quarantined" if found.more_set_aside else "",
        ),
        Heap(say("today-papers"), tuple(map(_paper, found.papers)), "/rigs" if found.more_papers else ""),
    )
    return tuple(heap for heap in heaps if heap.rows)


def _due(found: Today) -> tuple[Row, ...]:
    """Tools due; those that fell or were overloaded first, whatever their dates."""
    overdue, soon = ([tool for tool in part if not tool.check_first] for part in (found.overdue, found.soon))
    first = [tool for tool in (*found.check_first, *found.overdue, *found.soon) if tool.check_first]
    return (*map(_check_first, first), *map(_overdue, overdue), *map(_soon, soon))


def _check_first(tool: DueTool) -> Row:
    word = say(f"rack-state-{tool.check_first}")
    return Row(tool.number, f"/rack/{tool.tool}", "check-first", word, say("today-check-first"))


def _overdue(tool: DueTool) -> Row:
    said = say("today-due-since", day=day_in_words(tool.due), days=days_in_words(-tool.days))
    return Row(tool.number, f"/rack/{tool.tool}", "overdue", say("today-state-overdue"), said)


def _soon(tool: DueTool) -> Row:
    said = say("today-due-now") if tool.days == 0 else say("today-due-in", days=days_in_words(tool.days))
    return Row(tool.number, f"/rack/{tool.tool}", "due-soon", say("today-state-soon"), said)


def _open(check: OpenCheck, names: Mapping[str, str]) -> Row:
    when = at_hour(check.at, check.offset_minutes)
    who = names.get(check.who)
    said = say("today-open-who", when=when, who=who) if who else say("today-open-since", when=when)
    pulls = say("today-one-pull") if check.pulls == 1 else say("today-pulls", count=check.pulls)
    return Row(check.number, f"/bench/{check.check}", "running", say("today-state-open"), f"{said} {pulls}")


def _aside(tool: SetAside) -> Row:
    day = day_in_words(date.fromisoformat(tool.since))
    if tool.record is not None:
        said = say("today-aside-record", day=day, record=tool.record)
    elif tool.is_damage:
        said = say("today-aside-damage", day=day, note=tool.note)
    else:
        said = f"{say('today-aside-since', day=day)} {tool.note or ''}".strip()
    return Row(tool.number, f"/rack/{tool.tool}", "quarantined", say("today-state-aside"), said)


def _paper(paper: EndingPaper) -> Row:
    day = day_in_words(paper.due)
    if paper.days < 0:
        said = say("today-paper-over", day=day)
        return Row(paper.name, f"/rigs/{paper.rig}", "overdue", say("today-state-paper-over"), said)
    said = say("today-paper-ends", day=day)
    return Row(paper.name, f"/rigs/{paper.rig}", "due-soon", say("today-state-paper-soon"), said)


def _steps(first: FirstSteps) -> tuple[Step, ...]:
    """Something that weighs or shows a torque, tool, check, until there is a record."""
    if first.has_record:
        return ()
    done = (first.has_rig, first.has_tool, False)
    now = done.index(False)
    said = (
        (
            say("first-rig"),
            say("first-rig-why"),
            (
                (say("first-scale-button"), "/rigs/new/scale"),
                (say("first-transducer-button"), "/rigs/new/transducer"),
            ),
        ),
        (say("first-tool"), say("first-tool-why"), ((say("first-tool-button"), "/rack/new"),)),
        (say("first-check"), say("first-check-why"), ((say("first-check-button"), CHECK_A_TOOL),)),
    )
    states = tuple("done" if is_done else "now" if i == now else "todo" for i, is_done in enumerate(done))
    return tuple(
        Step(title, text, state, ways) for (title, text, ways), state in zip(said, states, strict=True)
    )


def backup_said(ask: Ask) -> tuple[str, str]:
    """What is said of the last backup, and how loudly: note or warn."""
    last = ask.workshop.last_backup()
    if last is None:
        return say("today-no-backup"), "note"
    days = (ask.workshop.clock.now().date() - last.date()).days
    kind = "warn" if days >= BACKUP_OLD_DAYS else "note"
    if days < 1:
        return say("today-backup-today", hour=f"{last:%H:%M}"), kind
    return say("today-backup-days", days=days_in_words(days)), kind


def days_in_words(days: int) -> str:
    """A number of days."""
    return say("today-one-day") if days == 1 else say("today-days", count=days)
