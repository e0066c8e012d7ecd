"""Workshops of any size for the ratios: a check of a tool, truly judged and sealed, written again and again.

What the desk wrote of it is taken as patterns in which names, numbers, days and digests are filled in, entry
by entry, each chained to the one before; the documents are made by the store's own rebuild. `verify_ledger`
finds such a ledger whole. Left out: the digests sealed in the checks are those of the pattern.
The large one takes about 3 GB of the folder for passing files while it is made.
"""

import re
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from steelyard.bootstrap import LEDGER_FILE, Photographs, Workshop
from steelyard.desk import (
    AS_FOUND,
    Acting,
    add_person,
    add_rig,
    add_tool,
    choose_kit,
    close_check,
    exercise,
    judge_phase,
    look_over,
    open_check,
    read_pull,
    set_up,
    set_workshop,
)
from steelyard.records import BEFORE_THE_FIRST, Entry, digest_of
from steelyard.store import MemoryLedger, SqlLedger, open_ledger, rebuild_documents

NOW = datetime(2026, 11, 25, 10, 0, tzinfo=timezone(timedelta(hours=1)))
POINTS, PULLS, CHECKS = 2, 25, 2
PULLS_A_TOOL = POINTS * PULLS * CHECKS
OUT_EVERY = 10
"""One tool in so many is out and set aside."""
DUE_SPREAD, DUE_FROM = 120, -20
"""Over how many days the tools are due, and from which on, counted from today. [d]"""
OPEN_CHECK = "0be0c8ec"
TOOL, CHECK, NUMBER, DUE = "7001a7b8", "c0ec6a5d", "T-XYZ", "2099-12-31"
FILLED = {"%": "%%", TOOL: "%(tool)s", CHECK: "%(check)s", NUMBER: "%(name)s", DUE: "%(due)s"}
"""What stands in the entries of the pattern, and what is put in its place."""
INSERT = "INSERT INTO entry (number, kind, subject, at, who, digest, body) VALUES (?, ?, ?, ?, ?, ?, ?)"


class StandingClock:
    """A clock that stands."""

    def now(self) -> datetime:
        """The same moment always."""
        return NOW


class NamingDice:
    """Names as the pattern wants them, then numbered ones."""

    def __init__(self, *names: str) -> None:
        self._names = iter(names)
        self._count = count(1)

    def name(self) -> str:
        """The next one."""
        return next(self._names, f"f{next(self._count):07x}")

    def salt(self) -> str:
        """No secret is kept here."""
        return "5a17" * 8


@dataclass(frozen=True)
class Pattern:
    """An entry with holes."""

    kind: str
    subject: str
    at: str
    who: str
    body: str


@dataclass(frozen=True)
class Patterns:
    """What a workshop begins with, a tool added, and one check of it that is in or out."""

    shop: tuple[Pattern, ...]
    tool: tuple[Pattern, ...]
    check_in: tuple[Pattern, ...]
    check_out: tuple[Pattern, ...]
    rig: str


def make_patterns() -> Patterns:
    """Play it once with what a person would type."""
    began, rig = _played("60.1", "99.2")
    out, _ = _played("52.1", "88.2")
    shop = [e for e in began if e.subject.startswith(("workshop", "rig")) and e.kind != "record-numbered"]
    check = began.index(next(e for e in began if e.kind == "check-opened"))
    return Patterns(
        shop=tuple(map(_pattern, shop)),
        tool=tuple(_pattern(e) for e in began if e.kind == "tool-added"),
        check_in=tuple(map(_pattern, began[check:])),
        check_out=tuple(map(_pattern, out[check:])),
        rig=rig,
    )


def _played(low: str, high: str) -> tuple[list[Entry], str]:
    """One workshop with one sealed check. low, high: readings at the two points. [N m]"""
    ledger = MemoryLedger()
    acting = Acting(ledger, StandingClock(), NamingDice("9e125011", "4190f1d2", TOOL, CHECK))
    set_workshop(acting, {"name": "Bench", "latitude": "54.3° N", "height": "12", "unit": "N·m"})
    who = add_person(acting, {"person": "engine shop"}).key
    acting = Acting(ledger, acting.clock, acting.dice, who=who)
    rig = add_rig(acting, "transducer", {"name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"})
    limit = {"limit.published": "own", "limit.percent": "6", "limit.source": "our own list"}
    ends = {"kind": "click-adjustable", "lowest": "20", "highest": "100", "graduation": "1"}
    add_tool(acting, {"number": NUMBER, **ends, **limit})
    check = begin_check(acting, TOOL, rig, pulls=(low, high))
    judge_phase(acting, check, AS_FOUND, {})
    close_check(acting, check, {"next_due": DUE})
    return list(ledger.entries()), rig


def begin_check(acting: Acting, tool: str, rig: str, *, pulls: tuple[str, ...], count: int = PULLS) -> str:
    """A check with all its pulls read. pulls: the reading at each point, in its last digit they differ."""
    check = open_check(acting, tool, {"why": "due", "title": "yearly round"})
    look_over(acting, check, {"damaged": "no"})
    choose_kit(acting, check, {"rig": rig, "plan": "own", "targets": "60 100", "pulls": str(PULLS)})
    stands = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak"}
    set_up(acting, check, {**stands, "is_ready": "yes", "room_temperature": "20"})
    exercise(acting, check, {"exercise_pulls": "5"})
    for point, reading in enumerate(pulls):
        for i in range(count):
            read_pull(acting, check, AS_FOUND, point, {"line": f"{reading[:-1]}{i % 5}", "sure": "yes"})
    return check


def _pattern(entry: Entry) -> Pattern:
    text = entry.body
    for found, filled in FILLED.items():
        text = text.replace(found, filled)
    text = text.replace(f'"before":"{entry.before}"', '"before":"%(before)s"', 1)
    text = text.replace(f'"number":{entry.number},', '"number":%(number)d,', 1)
    text = re.sub(r'"record":1\b', '"record":%(record)d', text)
    text = text.replace('"record 1"', '"record %(record)d"')
    subject = entry.subject.replace(TOOL, "%(tool)s").replace(CHECK, "%(check)s")
    return Pattern(entry.kind, subject, entry.at, entry.who, text)


@dataclass(frozen=True)
class Shop:
    """A built workshop, open. entries: in its ledger."""

    tools: int
    entries: int
    ledger: SqlLedger
    workshop: Workshop


@contextmanager
def shops(*sizes: int) -> Iterator[list[Shop]]:
    """Workshops in a passing folder. sizes: how many tools each has."""
    patterns = make_patterns()
    with TemporaryDirectory(prefix="steelyard-bench-") as folder, ExitStack() as stack:
        ledgers = [
            stack.enter_context(open_ledger(Path(folder) / str(tools) / LEDGER_FILE)) for tools in sizes
        ]
        yield [_filled(ledger, patterns, tools) for ledger, tools in zip(ledgers, sizes, strict=True)]


def _filled(ledger: SqlLedger, patterns: Patterns, tools: int) -> Shop:
    """So many tools, each with `PULLS_A_TOOL` pulls, and one check in hand."""
    with ledger.writer.begin() as connection:
        raw: Any = connection.connection.driver_connection
        raw.executemany(INSERT, _rows(patterns, tools))
    rebuild_documents(ledger)
    clock, dice = StandingClock(), NamingDice(OPEN_CHECK)
    begin_check(Acting(ledger, clock, dice), f"{1:08x}", patterns.rig, pulls=("60.1",), count=10)
    workshop = Workshop(ledger.path.parent, ledger, clock, dice, Photographs())
    return Shop(tools, ledger.head().number, ledger, workshop)


def _rows(patterns: Patterns, tools: int) -> Iterator[tuple[object, ...]]:
    before = BEFORE_THE_FIRST
    for number, (pattern, facts) in enumerate(_patterns_in_order(patterns, tools), 1):
        body = pattern.body % {**facts, "before": before, "number": number}
        before = digest_of(body)
        yield number, pattern.kind, pattern.subject % facts, pattern.at, pattern.who, before, body


def _patterns_in_order(patterns: Patterns, tools: int) -> Iterator[tuple[Pattern, dict[str, object]]]:
    for pattern in patterns.shop:
        yield pattern, {}
    records = count(1)
    for i in range(tools):
        due = NOW.date() + timedelta(days=i * 37 % DUE_SPREAD + DUE_FROM)
        facts: dict[str, object] = {"tool": f"{i:08x}", "name": f"T-{i}", "due": due.isoformat()}
        yield from ((pattern, facts) for pattern in patterns.tool)
        for k in range(CHECKS):
            is_last_out = k == CHECKS - 1 and i % OUT_EVERY == 0
            said = facts | {"check": f"{i * CHECKS + k:08x}", "record": next(records)}
            yield from ((p, said) for p in (patterns.check_out if is_last_out else patterns.check_in))
