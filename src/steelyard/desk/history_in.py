"""Lines of an old notebook: a day and what was found then, without readings; kept as history of a tool.

They are no checks of this program: none of them makes a verdict, and none counts in a statistic.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from steelyard.desk.ports import Find
from steelyard.desk.tools_in import Take, every_tool
from steelyard.errors import InputRefused
from steelyard.records import Draft, Fields, Kind

VERDICTS = ("in", "out", "unknown")
"""What a notebook may say of a tool on a day."""
MOST_LINES = 1000
"""Of one tool: they stand in its document, which is read with every page of it."""
SAID = ("day", "verdict", "next_due", "who", "note")


@dataclass
class _Known:
    """What is known of a tool: its subject, and the lines it has."""

    subject: str
    lines: set[bytes] = field(default_factory=set)


def history_taken(find: Find, *, today: date, file: str) -> Take:
    """Takes lines one after the other. file: its name, kept with each line.

    Raises InputRefused for a tool that is not on the rack.
    """
    tools = {
        body["tool"]["number"].casefold(): _Known(subject, set(map(_stamp_of, body.get("history", ()))))
        for subject, body in every_tool(find)
        if not body["is_retired"]
    }

    def take(row: int, typed: Mapping[str, str]) -> Draft | None:
        number = " ".join(typed.get("tool", "").split())
        known = tools.get(number.casefold())
        if known is None:
            raise InputRefused("tool", number or None, "want-tool-on-rack")
        line = _line(typed, today)
        stamp = _stamp_of(line)
        if stamp in known.lines:
            return None
        if len(known.lines) >= MOST_LINES:
            raise InputRefused("tool", number, "want-fewer-lines", most=MOST_LINES)
        known.lines.add(stamp)
        return Draft(Kind.HISTORY_KEPT, known.subject, {**line, "file": file, "row": row})

    return take


def _line(typed: Mapping[str, str], today: date) -> dict[str, Any]:
    """What a line says. `who` stays a free text beside the note: nobody is added to the people here."""
    fields = Fields({name: typed[name] for name in SAID if typed.get(name)}, place="")
    day = fields.needed("day", fields.day, "want-date")
    if day > today:
        raise InputRefused("day", typed["day"], "want-past-day")
    verdict = fields.needed(
        "verdict",
        lambda name: fields.choice(name, str, list(VERDICTS)),
        "want-one-of",
        names=", ".join(VERDICTS),
    )
    next_due = fields.day("next_due")
    if next_due is not None and next_due < day:
        raise InputRefused("next_due", typed["next_due"], "want-day-not-before", day=day)
    return {
        "day": day.isoformat(),
        "verdict": verdict,
        "next_due": next_due.isoformat() if next_due is not None else None,
        "who": fields.text("who"),
        "note": fields.text("note"),
    }


def _stamp_of(line: Mapping[str, Any]) -> bytes:
    """Short, and the same for two lines that say the same, from whatever file."""
    return hashlib.sha256(json.dumps([line[name] for name in SAID]).encode()).digest()[:16]
