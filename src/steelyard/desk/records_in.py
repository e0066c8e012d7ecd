"""Records of another workshop, as its table says them: kept as history of a tool, without readings.

They are no checks of this program, as the lines of a notebook are none.
"""

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import cache
from string import hexdigits
from typing import Any

from steelyard.desk.book import SEALED
from steelyard.desk.every import every
from steelyard.desk.history_in import history_line, known_tools
from steelyard.desk.ports import Find, Wanted
from steelyard.desk.pulls import PHASES
from steelyard.desk.tools_in import Take
from steelyard.desk.typed_table import as_shown
from steelyard.desk.workshop import Settings
from steelyard.errors import InputRefused
from steelyard.quantities import one_way, read_number
from steelyard.records import Draft, Fields
from steelyard.words import say

DECIDED = ("in", "out")
"""Verdicts that a notebook has too; of the others the word stands in the note."""
UNKNOWN = "unknown"
DIGITS_SHOWN = 8
"""Of a digest, in a note."""
LONGEST_DIGEST = 64
AT_ONCE = 200
"""Records of a day that are looked at in one go."""
POINT = "."
"""The decimal mark of a table that was taken out, whatever that of the workshop."""


def records_taken(find: Find, said: Settings, *, today: date, file: str) -> Take:
    """Takes records one after the other. file: its name, kept with each of them.

    One whose digest a record of this workshop has, or a line that came in before, is there already.
    Raises InputRefused for a tool that is not on the rack.
    """
    tools, own = known_tools(find, column="tool_number"), _own_digests(find)

    def take(row: int, typed: Mapping[str, str]) -> Draft | None:
        line = history_line(_as_history(typed, said), today)
        digest = _digest(typed)
        if digest is not None and digest in own(line["day"]):
            return None
        known = {"digest": digest} if digest is not None else {}
        return tools.kept(typed.get("tool_number", ""), {**line, **known, "file": file, "row": row})

    return take


def _own_digests(find: Find) -> Callable[[str], frozenset[str]]:
    """The digests of the records that this workshop sealed of a day; nothing that comes in changes them."""

    @cache
    def of_day(day: str) -> frozenset[str]:
        return frozenset(_digests(find, day))

    return of_day


def _digests(find: Find, day: str) -> Iterator[str]:
    wanted = Wanted("check", states=SEALED, day_from=day, day_to=day, most=AT_ONCE)
    yield from (listed.body["closed"]["digest"] for listed in every(find, wanted))


def _as_history(typed: Mapping[str, str], said: Settings) -> dict[str, str]:
    """A record as the line of a notebook would say it."""
    fields = Fields(dict(typed), place="")
    names = ", ".join(SEALED)
    verdict = fields.needed(
        "verdict", lambda name: fields.choice(name, str, list(SEALED)), "want-one-of", names=names
    )
    same = {name: typed[name] for name in ("day", "next_due", "who") if name in typed}
    note = ", ".join(_notes(fields, typed, verdict, mark=said.decimal_mark))
    return {**same, "verdict": verdict if verdict in DECIDED else UNKNOWN, "note": note}


def _notes(fields: Fields, typed: Mapping[str, str], verdict: str, *, mark: str) -> Iterator[str]:
    """What the note says, part by part."""
    record = fields.needed("record", fields.text, "want-record-number")
    title = fields.text("title")
    yield say("record-in-titled" if title else "record-in-untitled", record=record, title=title)
    phase = fields.choice("phase", str, list(PHASES))
    if phase is not None:
        yield say(f"record-in-{phase}")
    if verdict not in DECIDED:
        yield say(f"record-in-{verdict}")
    yield from _worst(fields, typed, mark=mark)
    digest = _digest(typed)
    if digest is not None:
        yield say("record-in-digest", digest=digest[:DIGITS_SHOWN])


def _worst(fields: Fields, typed: Mapping[str, str], *, mark: str) -> Iterator[str]:
    """The worst point; nothing where the table says none, or no deviation of it."""
    target = fields.text("worst_target")
    numbers = [
        read_number(one_way(typed[name], POINT), field=name) if typed.get(name) else None
        for name in ("deviation_percent", "expanded_percent")
    ]
    off, expanded = numbers
    if off is None or expanded is None:
        return
    if expanded < 0:
        raise InputRefused("expanded_percent", typed["expanded_percent"], "want-not-below-zero")
    decimals = max(1, -expanded.adjusted()) if expanded else 1
    facts: dict[str, Any] = {
        "off": f"{off:+.{decimals}f}".replace("-", "−").replace(POINT, mark),
        "expanded": f"{expanded:.{decimals}f}".replace(POINT, mark),
        "target": as_shown(target or ""),
    }
    yield say("record-in-worst" if target else "record-in-worst-somewhere", **facts)


def _digest(typed: Mapping[str, str]) -> str | None:
    text = typed.get("digest", "").casefold()
    if not text:
        return None
    if len(text) > LONGEST_DIGEST or not set(text) <= set(hexdigits):
        raise InputRefused("digest", text, "want-digest-of-record")
    return text
