"""Pulls at the bench: taken as they come, struck out with a reason, taken back, never deleted."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.after_turn import next_unread
from steelyard.desk.bench import open_body, write_step
from steelyard.desk.cases import read_pulls
from steelyard.desk.hanging import refuse_piece_twice
from steelyard.desk.kits import LOADED
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.workshop import DecimalMark, settings
from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, read_quantity
from steelyard.readings import read_wedge_line
from steelyard.records import (
    AS_FOUND,
    AS_LEFT,
    Entry,
    Fields,
    HungKit,
    Kind,
    counted,
    is_enough,
    is_set_up,
    pull_as_written,
    pulls_by_point,
    read_table,
)
from steelyard.tools import Kind as ToolKind

PHASES = (AS_FOUND, AS_LEFT)
SENT_TWICE = "sent twice?"
STRIKE_REASONS = ("slipped", "misread", "overshot", "wrong-setting", "disturbed")
MOST_PULLS = 200
LOAD_FIELDS = ("bucket", "no_click", "click")
TRIAL_FIELDS = ("load", "set", "at")


@dataclass(frozen=True)
class Asked:
    """What a pull of this check is: a reading, a load at the click, or what the tool shows at a known load.

    unit: symbol of the torque unit a bare number gets; empty for a load.
    """

    way: str
    unit: str


def asked_at(body: Body, point: int) -> Asked:
    """What the page has to ask at a point."""
    setup = body["setup"]
    hangs = setup["form"]["kit"]["kind"] in LOADED
    shows = ToolKind(setup["form"]["tool"]["kind"]).is_indicating
    unit = target_unit(str(setup["points"][point]["target"]))
    if hangs and not shows:
        return Asked("load", "")
    return Asked("shown" if hangs else "reading", unit)


def target_unit(typed: str) -> str:
    """Symbol of the unit in a target as typed, however it is spelled."""
    return read_quantity(typed, Dimension.TORQUE, field="target").unit.symbol


def next_point(body: Body, phase: str) -> int:
    """The point to go on with: the first that has not all its planned pulls, else the last.

    Between two turns of the adjuster first the points that have fewer than that takes.
    """
    unread = next_unread(body, phase)
    if unread is not None:
        return unread
    points = body["setup"]["points"]
    for i, pulls in enumerate(pulls_by_point(body, phase)):
        if len(counted(pulls)) < points[i]["planned_pulls"] and not is_enough(body, phase, i):
            return i
    return len(points) - 1


def read_pull(
    acting: Acting, check: str, phase: str, point: int, typed: Mapping[str, str], *, seen: int | None = None
) -> Entry:
    """Take one pull.

    point: its place in the plan, from 0. typed: `line` for a reading; `no_click` and `click`, or `bucket`,
    for a load; `never_clicked`, `sure` and `sent_twice` as `yes`.
    A reading far from its target is refused with the field `line` and the code `want-sure` until `sure`
    says so; the same line sent again by a device within moments is kept, struck out.
    Raises NotFound, RecordSealed, Conflict; InputRefused with the field.
    """
    body = ready_body(acting.ledger, check, phase, point)
    struck = SENT_TWICE if typed.get("sent_twice", "") == "yes" else None
    mark = settings(acting.ledger).decimal_mark
    payload = pull_said(body, typed, phase=phase, point=point, decimal_mark=mark, struck_out=struck)
    return write_step(acting, body, Kind.PULL_READ, payload, seen)


def pull_said(
    body: Body,
    typed: Mapping[str, str],
    *,
    phase: str,
    point: int,
    decimal_mark: DecimalMark,
    struck_out: str | None = None,
) -> dict[str, Any]:
    """What is kept of a pull of a check that is ready for it; arguments and refusals as in `read_pull`.

    decimal_mark: of the workshop. struck_out: why it does not count.
    """
    asked = asked_at(body, point)
    pull = (
        _load_pull(typed)
        if asked.way == "load"
        else _line_pull(body, point, typed, asked, decimal_mark=decimal_mark)
    )
    if typed.get("sure", "") == "yes":
        pull["sure"] = True
    payload = {"phase": phase, "point": point, "pull": pull, "struck_out": struck_out}
    look_at(body, payload)
    return payload


def strike_out(
    acting: Acting, check: str, pull: int, typed: Mapping[str, str], *, seen: int | None = None
) -> None:
    """Strike a pull out with a reason: it stays visible and does not count.

    seen: last entry that was known of the check. Raises Conflict, RecordSealed; InputRefused with the field
    `reason` or `pull`.
    """
    body = open_body(acting.ledger, check)
    _known_pull(body, pull)
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    reason = fields.needed("reason", fields.text, "want-strike-reason")
    write_step(acting, body, Kind.PULL_STRUCK_OUT, {"pull": pull, "reason": reason}, seen)


def take_back(acting: Acting, check: str, pull: int, *, seen: int | None = None) -> None:
    """Count a struck-out pull again. Raises as `strike_out`, with the field `pull`.

    One as left is refused once the adjuster was turned after it.
    """
    body = open_body(acting.ledger, check)
    found = _known_pull(body, pull)
    if found["phase"] == AS_LEFT and _was_moved_since(body, pull):
        raise InputRefused("pull", pull, "want-pull-since-turn")
    look_at(body, {**found, "struck_out": None})
    write_step(acting, body, Kind.PULL_TAKEN_BACK, {"pull": pull}, seen)


def ready_body(ledger: Ledger, check: str, phase: str, point: int) -> Body:
    """A check in which a pull or a trial may be taken at a point.

    Raises NotFound, RecordSealed; InputRefused with the field `line` or `point`.
    """
    body = open_body(ledger, check)
    refuse_unready(body, phase, point)
    return body


def refuse_unready(body: Body, phase: str, point: int) -> None:
    """Raise where no pull or trial may be taken at a point of an open check; fields as in `ready_body`."""
    if is_set_up(body) and (phase not in PHASES or not 0 <= point < len(body["setup"]["points"])):
        raise InputRefused("point", point, "want-planned-point")
    refuse_phase(body, phase)
    if sum(pull["phase"] == phase and pull["point"] == point for pull in body["pulls"]) >= MOST_PULLS:
        raise InputRefused("line", None, "want-fewer-values", most=MOST_PULLS)


def refuse_phase(body: Body, phase: str) -> None:
    """Raise where an open check is not set up, or is not in that phase, with the field `line`."""
    if not is_set_up(body):
        raise InputRefused("line", None, "want-set-up")
    if phase == AS_LEFT and not body["turns"]:
        raise InputRefused("line", None, "want-adjusted-first")
    if phase == AS_FOUND and body["turns"]:
        raise InputRefused("line", None, "want-no-more-found")


def _was_moved_since(body: Body, pull: int) -> bool:
    """The adjuster was turned or locked after it."""
    locked = body.get("locked")
    return any(step["number"] > pull for step in (*body["turns"], *([locked] if locked else ())))


def _known_pull(body: Body, number: int) -> Mapping[str, Any]:
    for pull in body["pulls"]:
        if pull["number"] == number:
            found: Mapping[str, Any] = pull
            return found
    raise InputRefused("pull", number, "want-known-pull")


def _line_pull(
    body: Body, point: int, typed: Mapping[str, str], asked: Asked, *, decimal_mark: DecimalMark
) -> dict[str, Any]:
    """A line as typed or sent, with the unit that stood beside the field."""
    line = read_wedge_line(
        typed.get("line", ""),
        unit=UNITS[Dimension.TORQUE][asked.unit],
        direction=str(body["setup"]["points"][point]["direction"]),
        field="line",
        decimal_mark=decimal_mark,
    )
    return {"reading": line.form_text}


def _load_pull(typed: Mapping[str, str]) -> dict[str, Any]:
    """The load at the click: a weighed bucket, or the last load without and the first with a click."""
    pull: dict[str, Any] = {name: typed[name].strip() for name in LOAD_FIELDS if typed.get(name, "").strip()}
    if "bucket" in pull and len(pull) > 1:
        raise InputRefused("bucket", pull["bucket"], "want-one-way-of-load")
    if not pull:
        raise InputRefused("bucket" if "bucket" in typed else "no_click", None, "want-click-load")
    if typed.get("never_clicked", "") == "yes":
        pull["never_clicked"] = True
    return pull


def look_at(body: Body, payload: Mapping[str, Any]) -> None:
    """Raise what the readers of the form would refuse in a pull that counts, with the page's own field."""
    setup = body["setup"]
    if payload["struck_out"] is not None:
        payload = {**payload, "struck_out": None, "pull": {**payload["pull"], "sure": True}}
    point = {**setup["points"][payload["point"]], "pulls": [pull_as_written(payload)]}
    try:
        form = read_table({"steelyard_check": 1, "date": body["day"], **setup["form"], "point": [point]})
        if isinstance(form.kit, HungKit):
            for name in (*LOAD_FIELDS, "load"):
                refuse_piece_twice(str(payload["pull"].get(name, "")), form.kit, field=name)
        read_pulls(form, form.points[0])
    except InputRefused as refused:
        field = refused.field.rpartition(".")[2]
        if field not in (*LOAD_FIELDS, *TRIAL_FIELDS):
            loads = ("load", *reversed(LOAD_FIELDS))
            field = next((name for name in loads if name in payload["pull"]), "line")
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from None
