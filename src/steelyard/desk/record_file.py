"""A check from a file becomes a record: through the same entries and the same fold as at the bench."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.bench import check_body
from steelyard.desk.bench_verdict import judge_phase
from steelyard.desk.book import SEALED
from steelyard.desk.cases import ready_point
from steelyard.desk.closing import USUAL_MONTHS, close_check, offered_due
from steelyard.desk.file_points import kept_pulls, plain, planned_point, pull_texts
from steelyard.desk.ports import Body, Wanted
from steelyard.desk.rack import namesake
from steelyard.desk.turn_file import keep_turns, refuse_turns, turns_said
from steelyard.desk.turns import struck_by_turning
from steelyard.desk.workshop import add_person
from steelyard.errors import InputRefused
from steelyard.records import (
    AS_FOUND,
    AS_LEFT,
    CheckForm,
    Draft,
    Kind,
    Subject,
    adjusted_table,
    check_table,
    form_table,
    read_table,
    subject_name,
)

KEPT = ("rule", "place", "tool", "limit", "kit", "extra", "variation", "load_time", "seed", "draws", "notes")
FROM_FILE = "file"
MOST_OF_A_DAY = 1000
"""Checks of one tool on one day that are looked at for one that says the same."""


def record_file(acting: Acting, content: bytes) -> int:
    """Keep a check that stands in a file; returns the number of its record.

    content: a check form. The tool is the one of the rack with that number, else it is added to the rack.
    Where a record says the same already, such as one that was exported to this file, nothing is kept and the
    number of that one is returned. Sent again with the same token it is kept once, and what was broken off
    half-way is finished.
    Raises InputRefused with the field of the form; then nothing is kept.
    """
    table = plain(form_table(content))
    form = _judgeable(acting, table)
    same = _same(acting, table)
    if same is not None:
        return same
    writing = acting
    if form.person:
        person = add_person(_part(acting, "person"), {"person": form.person})
        writing = replace(acting, who=person.key)
    check = _entries(writing, table, form)
    body = check_body(acting.ledger, check)
    if body["closed"] is None:
        verdict = judge_phase(_part(writing, "verdict"), check, AS_FOUND, {"incomplete": "yes"})
        if form.turns:
            keep_turns(writing, check, table, form)
            verdict = judge_phase(_part(writing, "left"), check, AS_LEFT, {"incomplete": "yes"})
        due = offered_due(acting.body(Subject.TOOL, body["tool"]), form.day, verdict=verdict)
        next_due = due.isoformat() if due is not None else ""
        return close_check(_part(writing, "close"), check, {"next_due": next_due})
    return int(body["closed"]["record"])


def same_record(acting: Acting, content: bytes) -> int | None:
    """The number of the record that says the same as a file; None where none does, or where it is this very
    submission that made it.

    Raises InputRefused with the field of the form.
    """
    table = plain(form_table(content))
    _judgeable(acting, table)
    return _same(acting, table)


def _same(acting: Acting, table: Mapping[str, Any]) -> int | None:
    part = _part(acting, "entries").submission
    if part is not None and acting.ledger.first_of(part) is not None:
        return None
    said, day = _said(table), str(table["date"])
    wanted = Wanted(
        "check",
        states=SEALED,
        words=str(table["tool"]["number"]),
        day_from=day,
        day_to=day,
        most=MOST_OF_A_DAY,
    )
    for listed in acting.ledger.documents(wanted):
        if any(_said(plain(written)) == said for written in _written(listed.body)):
            return int(listed.body["closed"]["record"])
    return None


def _written(body: Body) -> Iterator[Mapping[str, Any]]:
    """A record in each of the ways in which it can be written as a file."""
    yield from (check_table(body, phase) for phase in body["verdicts"])
    if body["turns"]:
        yield adjusted_table(body, struck_by_turning())


def _said(table: Mapping[str, Any]) -> dict[str, Any]:
    """What makes a check that one and no other: all but who made it, and however it is written."""
    kept = {name: table.get(name) for name in (*KEPT, "date", "title", "exercise_pulls")}
    points = [{**planned_point(table, point), "pulls": pull_texts(table, point)} for point in table["point"]]
    return {**kept, "point": points, "turn": turns_said(table)}


def _judgeable(acting: Acting, table: Mapping[str, Any]) -> CheckForm:
    """The form, read to the end: everything that judging would refuse is refused before anything is kept."""
    form = read_table(table)
    if not all(point.pulls for point in form.points):
        raise InputRefused("point", None, "want-pulls")
    if form.day > acting.today():
        raise InputRefused("date", form.day, "want-day-until", day=acting.today())
    for point in form.points:
        ready_point(form, point)
    refuse_turns(form)
    return form


def _part(acting: Acting, part: str) -> Acting:
    """The same person with a token of its own for one part of what is written."""
    return acting if acting.submission is None else replace(acting, submission=f"{acting.submission}.{part}")


def _entries(acting: Acting, table: Mapping[str, Any], form: CheckForm) -> str:
    """Everything that the file says, as entries; returns the name of the check."""
    check = Subject.CHECK.named(acting.dice.name())
    tool = _tool(acting, table, form)
    setup = {key: table[key] for key in KEPT if key in table}
    points = [planned_point(table, point) for point in table["point"]]
    opened = {
        "tool": tool,
        "tool_number": form.tool.number,
        "why": FROM_FILE,
        "note": None,
        "title": form.title,
        "day": form.day.isoformat(),
    }
    drafts = [
        Draft(Kind.CHECK_OPENED, check, opened),
        Draft(Kind.KIT_CHOSEN, check, {"rig": None, "plan": FROM_FILE, "points": points}),
        Draft(Kind.RIG_SET_UP, check, {"rig": None, "form": setup, "points": points}),
    ]
    if form.exercise_pulls is not None:
        drafts.append(Draft(Kind.EXERCISED, check, {"pulls": form.exercise_pulls}))
    drafts += [
        Draft(Kind.TRIAL_ANSWERED if "clicked" in pull["pull"] else Kind.PULL_READ, check, pull)
        for i, point in enumerate(table["point"])
        for pull in kept_pulls(table, point, place=i, phase=AS_FOUND)
    ]
    (entry, *_) = _part(acting, "entries").write(*drafts)
    return subject_name(entry.subject)


def _tool(acting: Acting, table: Mapping[str, Any], form: CheckForm) -> str:
    """The tool of the rack with that number, or a new one as the file says."""
    number = form.tool.number
    found = namesake(acting.ledger.documents, number)
    if found is not None:
        return subject_name(found)
    payload = {
        "tool": {**table["tool"], "number": number},
        "limit": table["limit"],
        "interval_months": USUAL_MONTHS,
        "notes": None,
        "store_rule": None,
        "drive": None,
    }
    draft = Draft(Kind.TOOL_ADDED, Subject.TOOL.named(acting.dice.name()), payload)
    (entry, *_) = _part(acting, "tool").write(draft)
    return subject_name(entry.subject)
