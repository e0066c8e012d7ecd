"""Lines of an old notebook: a day and what was found then, without readings; kept as history of a tool.

They are no checks of this program: none of them makes a verdict, and none counts in a statistic.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from steelyard.desk.ports import Body, Find
from steelyard.desk.tools_in import Take, every_tool
from steelyard.errors import InputRefused
from steelyard.records import Draft, Fields, Kind

VERDICTS = ("in", "out", "unknown")
"""What a notebook may say of a tool on a day."""
MOST_LINES = 1000
"""Of one tool: they stand in its document, which is read with every page of it."""
SAID = ("day", "verdict", "next_due", "who", "note")


@dataclass
class KnownTool:
    """What is known of a tool: its subject, and the stamps of the lines it has."""

    subject: str
    lines: set[bytes] = field(default_factory=set)

    def kept(self, line: Mapping[str, Any], *, column: str, number: str) -> Draft | None:
        """What is written of a line with its file and row; None where one says the same.

        column, number: that name the tool. Raises InputRefused where the tool has as many as it may.
        """
        stamps = _stamps_of(line)
        if stamps & self.lines:
            return None
        if len(self.lines) >= MOST_LINES:
            raise InputRefused(column, number, "want-fewer-lines", most=MOST_LINES)
        self.lines |= stamps
        return Draft(Kind.HISTORY_KEPT, self.subject, line)


@dataclass(frozen=True)
class KnownTools:
    """The tools of the rack by their numbers. column: that names one."""

    tools: Mapping[str, KnownTool]
    column: str

    def kept(self, number: str, line: Mapping[str, Any]) -> Draft | None:
        """What is written of a line of a tool. Raises InputRefused for a tool that is not on the rack."""
        plain = " ".join(number.split())
        known = self.tools.get(plain.casefold())
        if known is None:
            raise InputRefused(self.column, plain or None, "want-tool-on-rack")
        return known.kept(line, column=self.column, number=plain)


def known_tools(find: Find, *, column: str) -> KnownTools:
    """The tools of the rack with the lines they have."""
    return KnownTools(
        {
            body["tool"]["number"].casefold(): KnownTool(subject, _lines_of(body))
            for subject, body in every_tool(find)
            if not body["is_retired"]
        },
        column,
    )


def history_taken(find: Find, *, today: date, file: str) -> Take:
    """Takes lines one after the other. file: its name, kept with each line.

    Raises InputRefused for a tool that is not on the rack.
    """
    tools = known_tools(find, column="tool")

    def take(row: int, typed: Mapping[str, str]) -> Draft | None:
        line = history_line(typed, today)
        return tools.kept(typed.get("tool", ""), {**line, "file": file, "row": row})

    return take


def history_line(typed: Mapping[str, str], today: date) -> dict[str, Any]:
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


def _lines_of(body: Body) -> set[bytes]:
    return set[bytes]().union(*map(_stamps_of, body.get("history", ())))


def _stamps_of(line: Mapping[str, Any]) -> set[bytes]:
    """Short, and the same for two lines that say the same, from whatever file.

    A line made from a record that has a digest is known by that alone: the rest of it may be told anew.
    """
    if line.get("digest"):
        return {str(line["digest"]).encode()}
    return {hashlib.sha256(json.dumps([line[name] for name in SAID]).encode()).digest()[:16]}
