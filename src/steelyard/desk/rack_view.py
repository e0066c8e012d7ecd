"""How a tool stands: its state, when it is due and why, what happened to it, what its checks said."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from steelyard.desk.ports import Body, Ledger, Listed, Wanted
from steelyard.desk.rack import DOUBTFUL, DUE_AT_ONCE, STATES_IN_USE
from steelyard.desk.record_figures import in_unit
from steelyard.desk.standing import standing
from steelyard.desk.tool_fields import tool_unit
from steelyard.desk.typed_table import as_shown
from steelyard.desk.usual import DUE_SOON, DUE_SOON_DAYS
from steelyard.errors import InputRefused
from steelyard.records import Fields, Subject, day_there, read_limit, read_tool, tool_state
from steelyard.tools import Kind as ToolKind

ROWS_A_PAGE = 50
RACK_FILTERS = ("here", "due", "due-soon", *STATES_IN_USE, "retired")
"""What a list of tools can be narrowed to: all in use, due by today or within 30 days, one state."""


@dataclass(frozen=True)
class ToolRow:
    """A tool in a list.

    lowest, highest: as typed, the unit once where both have the same. state: as `tool_state`.
    due: `overdue`, `due-now`, `due-soon`, `later`, `unchecked` or `none`. next_due: a date or None.
    check_first: `dropped` or `overloaded` where it must be checked before it is used, else None.
    lent_to: name or note, empty where neither is there; None where it is here.
    """

    id: str
    number: str
    kind: str
    make: str | None
    lowest: str
    highest: str
    state: str
    due: str
    next_due: str | None
    check_first: str | None
    lent_to: str | None


@dataclass(frozen=True)
class RackPage:
    """Some rows in the order of the tools' numbers.

    after: what the next page begins behind; None at the end.
    """

    rows: tuple[ToolRow, ...]
    after: str | None


@dataclass(frozen=True)
class Happened:
    """One thing that happened to a tool.

    day: in the workshop. who: name; None where nobody said or the name is forgotten.
    record: number of the record that brought it about; None where a person did. is_damage: somebody saw it
    in the look-over of a check. to: name of who borrowed it, where one was said and is not forgotten.
    pivot: where it was found, and from which loads and marks, as typed; None where it was something else.
    """

    day: str
    what: str
    note: str | None
    who: str | None
    record: int | None = None
    is_damage: bool = False
    to: str | None = None
    pivot: Mapping[str, str] | None = None


@dataclass(frozen=True)
class ErrorPoint:
    """One checked torque. target: in the unit of the tool's range; the rest [%], as `measure` counts."""

    target: float
    direction: str
    deviation_percent: float
    low_percent: float
    high_percent: float
    limit_percent: float | None
    verdict: str


@dataclass(frozen=True)
class PastToolCheck:
    """A sealed check: number of its record, name of the check, day, verdict, its curve.

    worst_percent, worst_expanded_percent: at the point that decided, without a limit at the one farthest off;
    None where nothing was judged. limit_percent: at that point, None where none applied.
    measure: how deviations are counted.
    """

    record: int
    check: str
    day: str
    verdict: str
    worst_percent: float | None
    worst_expanded_percent: float | None
    limit_percent: float | None
    measure: str
    curve: tuple[ErrorPoint, ...]


@dataclass(frozen=True)
class ToolView:
    """Everything of one tool.

    row: as in a list. body: the document as kept. unit: of its range. events, checks: the latest first.
    due_because: what made it due at once, None where the calendar did. needs: codes of what a check on hung
    weights will ask for. since, why: of its quarantine, None where it is in use.
    """

    row: ToolRow
    body: Body
    unit: str
    events: tuple[Happened, ...]
    checks: tuple[PastToolCheck, ...]
    due_because: Happened | None
    needs: tuple[str, ...]
    quarantine: Happened | None


def tools(ledger: Ledger, words: str, state: str, after: str | None = None, *, today: date) -> RackPage:
    """Fifty tools in the order of their numbers.

    words: each stands somewhere in number, kind, make or notes. state: of RACK_FILTERS, empty for `here`.
    after: from the page before. Raises InputRefused with the field `state`.
    """
    state = state or "here"
    if state not in RACK_FILTERS:
        raise InputRefused("state", state, "want-one-of", names=", ".join(RACK_FILTERS))
    found = ledger.documents(
        Wanted(
            "tool",
            states=STATES_IN_USE if state in ("here", "due", "due-soon") else (state,),
            words=words,
            due_by=_due_by(state, today),
            after=after,
            most=ROWS_A_PAGE + 1,
        )
    )
    names = ledger.names()
    rows = tuple(_row(listed, today, names) for listed in found[:ROWS_A_PAGE])
    return RackPage(rows, found[ROWS_A_PAGE - 1].key if len(found) > ROWS_A_PAGE else None)


def is_rack_empty(ledger: Ledger) -> bool:
    """No tool was ever added."""
    return not ledger.documents(Wanted("tool", most=1))


def tool_view(ledger: Ledger, tool: str, today: date) -> ToolView:
    """One tool as it stands today. Raises NotFound."""
    body = standing(ledger, Subject.TOOL, tool)
    names = ledger.names()
    events = tuple(_happened(event, names) for event in reversed(body["events"]))
    unit = tool_unit(body["tool"])
    checks = tuple(_checked(check, body, unit) for check in reversed(body["checks"]))
    held = next((event for event in events if event.what == "quarantined"), None)
    return ToolView(
        row=_row(Listed(Subject.TOOL.named(tool), "", body), today, names),
        body=body,
        unit=unit,
        events=events,
        checks=checks,
        due_because=_due_because(body, events),
        needs=tuple(_needs(body["tool"])),
        quarantine=held if body["quarantine"] is not None else None,
    )


def _due_by(state: str, today: date) -> str | None:
    if state == "due":
        return today.isoformat()
    return (today + DUE_SOON).isoformat() if state == "due-soon" else None


def _row(listed: Listed, today: date, names: Mapping[str, str]) -> ToolRow:
    body, table = listed.body, listed.body["tool"]
    lowest, highest, unit = as_shown(table["lowest"]), as_shown(table["highest"]), tool_unit(table)
    plain = lowest.removesuffix(unit).rstrip() if highest.endswith(unit) else lowest
    return ToolRow(
        id=body["id"],
        number=table["number"],
        kind=table["kind"],
        make=table.get("make"),
        lowest=plain,
        highest=highest,
        state=tool_state(body),
        due=_due(body, today),
        next_due=body["next_due"],
        check_first=doubtful(body),
        lent_to=names.get(body["borrower"], "") if body.get("borrower") else body["lent_to"],
    )


def _due(body: Body, today: date) -> str:
    if body["is_retired"]:
        return "none"
    if body["next_due"] is None:
        return "none" if body["checks"] else "unchecked"
    left = (date.fromisoformat(body["next_due"]) - today).days
    if left < 0:
        return "overdue"
    if left == 0:
        return "due-now"
    return "due-soon" if left <= DUE_SOON_DAYS else "later"


def _happened(event: Mapping[str, Any], names: Mapping[str, str]) -> Happened:
    who = names.get(event["who"])
    day = day_there(event["at"], event["offset_minutes"])
    return Happened(
        day=day,
        what=event["what"],
        note=event["note"],
        who=who,
        record=event.get("record"),
        is_damage="seen_in" in event,
        to=names.get(event.get("to", "")),
        pivot=event.get("pivot"),
    )


def _due_because(body: Body, events: tuple[Happened, ...]) -> Happened | None:
    """The last event since the last check after which nobody knows what the tool delivers; a fall first."""
    what = doubtful(body)
    wanted = (what,) if what is not None else DUE_AT_ONCE
    since = 0 if body.get("check_first") else _last_check(body)
    for event, happened in zip(reversed(body["events"]), events, strict=True):
        if not body["is_retired"] and event["number"] > since and happened.what in wanted:
            return happened
    return None


def doubtful(body: Body) -> str | None:
    """What happened to a tool in use that must be checked before it is used; None where it may be used."""
    if body["is_retired"]:
        return None
    if body.get("check_first"):
        return str(body["check_first"])
    since = _last_check(body)
    whats = (e["what"] for e in reversed(body["events"]) if e["number"] > since)
    return next((what for what in whats if what in DOUBTFUL), None)


def _last_check(body: Body) -> int:
    return int(body["checks"][-1]["number"]) if body["checks"] else 0


def _needs(table: Mapping[str, Any]) -> Iterator[str]:
    """What hung weights will ask for that is not yet known."""
    if ToolKind(table["kind"]).is_driver:
        return
    if not {"own_reading", "balance_point", "own_weight"} & set(table):
        yield "own-weight"
    if "grip_mark" not in table:
        yield "grip-mark"


def _checked(check: Mapping[str, Any], body: Body, unit: str) -> PastToolCheck:
    curve = tuple(_error_point(point, unit) for point in check.get("curve") or ())
    worst = next((p for p in curve if p.deviation_percent == check["worst_percent"]), None)
    return PastToolCheck(
        record=check["record"],
        check=check["check"],
        day=check["day"],
        verdict=check["verdict"],
        worst_percent=check["worst_percent"],
        worst_expanded_percent=check["worst_expanded_percent"],
        limit_percent=worst.limit_percent if worst is not None else None,
        measure=check.get("measure") or tool_measure(body),
        curve=curve,
    )


def _error_point(point: Mapping[str, Any], unit: str) -> ErrorPoint:
    limit = point["limit_percent"]
    return ErrorPoint(
        target=in_unit(point["target_newton_metre"], unit),
        direction=point["direction"],
        deviation_percent=point["deviation_percent"],
        low_percent=point["low_percent"],
        high_percent=point["high_percent"],
        limit_percent=float(limit) if limit is not None else None,
        verdict=point["verdict"],
    )


def tool_measure(body: Body) -> str:
    """How the limit a tool is held to counts a deviation."""
    tool = read_tool(Fields(body["tool"], place=""))
    return read_limit(Fields(body["limit"], place="limit"), tool).measure.value
