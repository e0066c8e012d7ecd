"""A check from a file becomes a record: through the same entries and the same fold as at the bench."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, time
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.bench import check_body
from steelyard.desk.bench_verdict import judge_phase
from steelyard.desk.cases import ready_point
from steelyard.desk.closing import USUAL_MONTHS, close_check, offered_due
from steelyard.desk.kits import LOADED
from steelyard.desk.rack import namesake
from steelyard.desk.workshop import add_person
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_quantities
from steelyard.records import (
    AS_FOUND,
    CheckForm,
    Draft,
    Kind,
    Subject,
    form_table,
    read_table,
    subject_name,
)
from steelyard.tools import Kind as ToolKind

KEPT = ("rule", "place", "tool", "limit", "kit", "extra", "variation", "load_time", "seed", "draws", "notes")
FROM_FILE = "file"
LARGEST_WHOLE = 2**53 - 1
"""Beyond it a whole number of JSON is not exact (RFC 8785, 3.2.2.3)."""


def record_file(acting: Acting, content: bytes) -> int:
    """Keep a check that stands in a file; returns the number of its record.

    content: a check form. The tool is the one of the rack with that number, else it is added to the rack.
    Sent again with the same token it is kept once, and what was broken off half-way is finished.
    Raises InputRefused with the field of the form; then nothing is kept.
    """
    table = plain(form_table(content))
    form = _judgeable(acting, table)
    writing = acting
    if form.person:
        person = add_person(_part(acting, "person"), {"person": form.person})
        writing = replace(acting, who=person.key)
    check = _entries(writing, table, form)
    body = check_body(acting.ledger, check)
    if body["closed"] is None:
        judge_phase(_part(writing, "verdict"), check, AS_FOUND, {"incomplete": "yes"})
        due = offered_due(acting.body(Subject.TOOL, body["tool"]), form.day).isoformat()
        return close_check(_part(writing, "close"), check, {"next_due": due})
    return int(body["closed"]["record"])


def _judgeable(acting: Acting, table: Mapping[str, Any]) -> CheckForm:
    """The form, read to the end: everything that judging would refuse is refused before anything is kept."""
    form = read_table(table)
    if not all(point.pulls for point in form.points):
        raise InputRefused("point", None, "want-pulls")
    if form.day > acting.today():
        raise InputRefused("date", form.day, "want-day-until", day=acting.today())
    for point in form.points:
        ready_point(form, point)
    return form


def _part(acting: Acting, part: str) -> Acting:
    """The same person with a token of its own for one part of what is written."""
    return acting if acting.submission is None else replace(acting, submission=f"{acting.submission}.{part}")


def _entries(acting: Acting, table: Mapping[str, Any], form: CheckForm) -> str:
    """Everything that the file says, as entries; returns the name of the check."""
    check = Subject.CHECK.named(acting.dice.name())
    tool = _tool(acting, table, form)
    setup = {key: table[key] for key in KEPT if key in table}
    points = [_planned(table, point) for point in table["point"]]
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
    drafts += [Draft(Kind.PULL_READ, check, pull) for i in range(len(points)) for pull in _pulls(table, i)]
    (entry, *_) = _part(acting, "entries").write(*drafts)
    return subject_name(entry.subject)


def _tool(acting: Acting, table: Mapping[str, Any], form: CheckForm) -> str:
    """The tool of the rack with that number, or a new one as the file says."""
    number = form.tool.number
    found = namesake(acting.ledger, number)
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


def _planned(table: Mapping[str, Any], point: Mapping[str, Any]) -> dict[str, Any]:
    """The point as it is planned: without its pulls, which are as many as were meant."""
    kept = {key: value for key, value in point.items() if key != "pulls"}
    direction = table["tool"].get("directions", ["cw"])[0]
    return {"direction": direction, "planned_pulls": len(_texts(table, point)), **kept}


def _pulls(table: Mapping[str, Any], number: int) -> Iterator[dict[str, Any]]:
    """Every pull of a point as it is kept."""
    for written in _texts(table, table["point"][number]):
        pull = {key: value for key, value in written.items() if key != "struck_out"}
        struck = written.get("struck_out")
        yield {"phase": AS_FOUND, "point": number, "pull": pull, "struck_out": struck}


def _texts(table: Mapping[str, Any], point: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The pulls one by one, in the words of the form; a row of values is taken apart."""
    weighs = table["kit"]["kind"] in LOADED and not ToolKind(table["tool"]["kind"]).is_indicating
    pulls = point["pulls"]
    if isinstance(pulls, str):
        row = read_quantities(pulls, Dimension.MASS if weighs else Dimension.TORQUE, field="pulls")
        pulls = [quantity.typed for quantity in row]
    name = "bucket" if weighs else "reading"
    return [{name: pull} if isinstance(pull, str) else dict(pull) for pull in pulls]


def plain(value: Any) -> Any:
    """A table of a file in JSON types: dates and numbers with a point as the texts they were."""
    if isinstance(value, Mapping):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, float) or (isinstance(value, int) and abs(value) > LARGEST_WHOLE):
        return repr(value)
    return value
