"""Closing a check: sealed with its number and digest, the tool told, quarantined where it is out."""

import calendar
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.bench import known_last, open_body
from steelyard.desk.guide import learned_gain
from steelyard.desk.ports import Body, Ledger, Signer
from steelyard.desk.rack import DUE_AT_ONCE
from steelyard.desk.record import STOPPED, record_digest
from steelyard.desk.record_figures import is_estimated, named_point
from steelyard.desk.signing import signing_drafts
from steelyard.desk.turn_readings import turns_done
from steelyard.errors import Conflict, InputRefused
from steelyard.records import (
    AS_FOUND,
    AS_LEFT,
    THE_WORKSHOP,
    Draft,
    Fields,
    Kind,
    Subject,
    progress_of,
    subject_name,
)

USUAL_MONTHS = 12
MONTHS_UNTOLD = 1
"""At most, where the kit could not tell whether the tool is good."""
TRIES = 5


def months_later(day: date, months: int) -> date:
    """The same day some months later, or the last of that month."""
    month = day.month - 1 + months
    year = day.year + month // 12
    last = calendar.monthrange(year, month % 12 + 1)[1]
    return date(year, month % 12 + 1, min(day.day, last))


def offered_due(tool: Body, day: date, *, verdict: str | None) -> date | None:
    """When to look again after a day: after the tool's own interval, else after twelve months.

    verdict: of the check, None before there is one. Where the kit could not tell it is a month at most; None
    for a tool that is out or damaged: it is set aside, and due as soon as it is released.
    """
    if verdict in ("out", STOPPED):
        return None
    months = int(tool.get("interval_months") or USUAL_MONTHS)
    return months_later(day, min(months, MONTHS_UNTOLD) if verdict == "cant-tell" else months)


def verdict_at_close(body: Body) -> str | None:
    """The verdict a check would be closed with as it stands; None where it cannot be closed yet."""
    try:
        return _verdict(body)[0]
    except InputRefused:
        return None


def close_check(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> int:
    """Seal a check, and sign the seal where there is a key; returns the number of its record.

    typed: `next_due` (a date; empty where the tool is not to be used again), `quarantine` and `release` as
    `yes`, `close_note`. A tool that is out or damaged is quarantined whatever was ticked.
    Raises InputRefused with the field `next_due` or `close`.
    """
    signer = acting.signer()
    for _ in range(TRIES):
        body = open_body(acting.ledger, check)
        workshop = acting.ledger.document(THE_WORKSHOP) or {}
        record = int(workshop.get("records", 0)) + 1
        tool = acting.body(Subject.TOOL, body["tool"])
        known = {
            THE_WORKSHOP: int(workshop.get("last", 0)),
            Subject.CHECK.named(check): known_last(body, seen),
            Subject.TOOL.named(tool["id"]): int(tool["last"]),
        }
        gain = learned_gain(acting.ledger, body)
        try:
            drafts = [*_drafts(body, tool, typed, record, gain=gain)]
            (sealed, *_) = acting.write(*drafts, *_signed(acting.ledger, signer, drafts[0]), seen=known)
        except Conflict:
            after = open_body(acting.ledger, check)
            if seen is not None and after["last"] != seen:
                raise
            continue
        return int(sealed.payload["record"])
    raise Conflict(0, 1)


def _signed(ledger: Ledger, signer: Signer | None, seal: Draft) -> Iterator[Draft]:
    """The signature on a seal; nothing where there is no key."""
    if signer is not None:
        check, record, digest = subject_name(seal.subject), seal.payload["record"], seal.payload["digest"]
        yield from signing_drafts(ledger, signer, check=check, record=record, digest=digest)


def _drafts(
    body: Body, standing: Body, typed: Mapping[str, str], record: int, *, gain: float | None
) -> Iterator[Draft]:
    """Everything that closing writes: the seal, the number, and what the tool is told.

    standing: the tool as it stands. A check older than its latest one changes nothing of that.
    gain: what a turn of the adjuster does, see `learned_gain`.
    """
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    verdict, phase = _verdict(body)
    due = fields.day("next_due")
    day = str(body["day"])
    if due is not None and due.isoformat() <= day:
        raise InputRefused("next_due", due.isoformat(), "want-later-day", day=day)
    check, tool = Subject.CHECK.named(body["id"]), Subject.TOOL.named(body["tool"])
    next_due = due.isoformat() if due else None
    sealed = {
        "record": record,
        "verdict": verdict,
        "phase": phase,
        "day": day,
        "next_due": next_due,
        "note": fields.text("close_note"),
        "digest": record_digest(body),
    }
    if gain is not None:
        sealed["gain_ratio"] = gain
    done = turns_done(body)
    if done is not None:
        sealed["adjusted"] = done.content
    yield Draft(Kind.CHECK_CLOSED, check, sealed)
    yield Draft(Kind.RECORD_NUMBERED, THE_WORKSHOP, {"record": record, "check": body["id"]})
    if _has_fallen_since(body, standing):
        next_due = day
    told = {"check": body["id"], "record": record, "day": day, "verdict": verdict}
    yield Draft(Kind.TOOL_CHECKED, tool, {**told, "next_due": next_due, **_worst(body, phase)})
    if any(check["day"] > day for check in standing["checks"]):
        return
    if verdict in ("out", STOPPED) or typed.get("quarantine", "") == "yes":
        if standing["quarantine"] is None:
            yield Draft(Kind.QUARANTINED, tool, {"note": None, "record": record, "check": body["id"]})
    elif standing["quarantine"] is not None and typed.get("release", "") == "yes":
        yield Draft(Kind.RELEASED, tool, {"note": None, "record": record, "check": body["id"]})


def _has_fallen_since(body: Body, tool: Body) -> bool:
    """Something happened to the tool after its last pull, so nobody knows what it delivers now."""
    last = max((int(pull["number"]) for pull in body["pulls"]), default=int(body["first"]))
    return any(int(event["number"]) > last and event["what"] in DUE_AT_ONCE for event in tool["events"])


def _verdict(body: Body) -> tuple[str, str | None]:
    """The verdict a check ends with and its phase.

    Raises InputRefused where it is stale or was never asked.
    """
    progress = progress_of(body)
    if progress.is_stopped:
        return STOPPED, None
    if not progress.found_judged:
        raise InputRefused("close", None, "want-found-verdict")
    if progress.is_turned and not progress.left_judged:
        raise InputRefused("close", None, "want-left-verdict")
    phase = AS_LEFT if progress.is_turned else AS_FOUND
    return str(body["verdicts"][phase]["verdict"]), phase


def _worst(body: Body, phase: str | None) -> dict[str, Any]:
    """The curve of the last phase, and the point that decided; without a limit the one farthest off.

    A point of which yes/no answers gave only a bound has no place in either.
    """
    if phase is None:
        return {"measure": None, "curve": [], "worst_percent": None, "worst_expanded_percent": None}
    content = body["verdicts"][phase]["content"]
    curve = [
        {
            "target": point["target"],
            "target_newton_metre": point["target_newton_metre"],
            "direction": point["direction"],
            "deviation_percent": point["counted"]["deviation_percent"],
            "low_percent": point["counted"]["low_percent"],
            "high_percent": point["counted"]["high_percent"],
            "expanded_percent": point["counted"]["expanded_percent"],
            "limit_percent": point["limit_percent"],
            "verdict": point["verdict"],
        }
        for point in content["points"]
        if is_estimated(point)
    ]
    named = named_point(content)
    known = named["counted"] if is_estimated(named) else {}
    return {
        "measure": content["limit"]["measure"],
        "curve": curve,
        "worst_percent": known.get("deviation_percent"),
        "worst_expanded_percent": known.get("expanded_percent"),
    }
