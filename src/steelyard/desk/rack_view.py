"""How a tool stands: its state, when it is due and why, what happened to it, what its checks said."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from steelyard.desk.ports import Body, Ledger, Listed, Wanted
from steelyard.desk.rack import DUE_AT_ONCE, STATES_IN_USE
from steelyard.desk.record_figures import in_unit
from steelyard.desk.tool_fields import tool_unit
from steelyard.errors import InputRefused, NotFound
from steelyard.records import Fields, Subject, day_there, read_limit, read_tool, tool_state
from steelyard.tools import Kind as ToolKind

DUE_SOON_DAYS = 30
ROWS_A_PAGE = 50
RACK_FILTERS = ("here", "due", "due-soon", *STATES_IN_USE, "retired")
"""What a list of tools can be narrowed to: all in use, due by today or within 30 days, one state."""


@dataclass(frozen=True)
class ToolRow:
    """A tool in a list.

    lowest, highest: as typed, the unit once where both have the same. state: as `tool_state`.
    due: `overdue`, `due-now`, `due-soon`, `later`, `unchecked` or `none`. next_due: a date or None.
    lent_to: None where it is here.
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
    record: number of the record that brought it about; None where a person did.
    """

    day: str
    what: str
    note: str | None
    who: str | None
    record: int | None = None


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
    """A sealed check: number of its record, name of the check, day, verdict, its worst point, its curve.

    worst_percent, worst_expanded_percent: None where nothing was judged. limit_percent: at the worst
    point, None where none applied. measure: how deviations are counted.
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
    rows = tuple(_row(listed, today) for listed in found[:ROWS_A_PAGE])
    return RackPage(rows, found[ROWS_A_PAGE - 1].key if len(found) > ROWS_A_PAGE else None)


def is_rack_empty(ledger: Ledger) -> bool:
    """No tool was ever added."""
    return not ledger.documents(Wanted("tool", most=1))


def tool_view(ledger: Ledger, tool: str, today: date) -> ToolView:
    """One tool as it stands today. Raises NotFound."""
    subject = Subject.TOOL.named(tool)
    body = ledger.document(subject)
    if body is None:
        raise NotFound(subject)
    names = ledger.names()
    events = tuple(_happened(event, names) for event in reversed(body["events"]))
    unit = tool_unit(body["tool"])
    checks = tuple(_checked(check, body, unit) for check in reversed(body["checks"]))
    held = next((event for event in events if event.what == "quarantined"), None)
    return ToolView(
        row=_row(Listed(subject, "", body), today),
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
    return (today + timedelta(days=DUE_SOON_DAYS)).isoformat() if state == "due-soon" else None


def _row(listed: Listed, today: date) -> ToolRow:
    body, table = listed.body, listed.body["tool"]
    lowest, highest, unit = str(table["lowest"]), str(table["highest"]), tool_unit(table)
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
        lent_to=body["lent_to"],
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
    return Happened(day, event["what"], event["note"], who, event.get("record"))


def _due_because(body: Body, events: tuple[Happened, ...]) -> Happened | None:
    """The last event since the last check after which nobody knows what the tool delivers."""
    if body["is_retired"]:
        return None
    last_check = body["checks"][-1]["number"] if body["checks"] else 0
    for event, happened in zip(reversed(body["events"]), events, strict=True):
        if event["number"] > last_check and happened.what in DUE_AT_ONCE:
            return happened
    return None


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
        verdict=point.get("verdict") or _verdict_drawn(point),
    )


def _verdict_drawn(point: Mapping[str, Any]) -> str:
    """What the interval alone says, for a check whose closing kept no verdict of each point."""
    if point["limit_percent"] is None:
        return "no-limit"
    limit, low, high = float(point["limit_percent"]), point["low_percent"], point["high_percent"]
    if -limit <= low and high <= limit:
        return "in"
    return "out" if high < -limit or low > limit else "cant-tell"


def tool_measure(body: Body) -> str:
    """How the limit a tool is held to counts a deviation."""
    tool = read_tool(Fields(body["tool"], place=""))
    return read_limit(Fields(body["limit"], place="limit"), tool).measure.value
