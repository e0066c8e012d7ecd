"""Drafts for the tests of the ledger: tools and checks of Tern Point Boatyard."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from steelyard.desk.ports import Ledger
from steelyard.records import Draft, Kind, Stamp, Subject

STAMP = Stamp("2026-11-25T13:54:28.123Z", 60, "p1", "tablet")


def at(moment: str, who: str = "p1") -> Stamp:
    """A stamp at a moment, such as `2026-11-25T13:54`."""
    return Stamp(f"{moment}:00.000Z", 60, who, "tablet")


def tool(name: str, number: str, **more: Any) -> Draft:
    """A tool is put on the rack."""
    return Draft(
        Kind.TOOL_ADDED, Subject.TOOL.named(name), {"tool": {"number": number, "kind": "click"}, **more}
    )


def event(name: str, what: str = "dropped", **more: Any) -> Draft:
    """Something happened to a tool."""
    return Draft(Kind.TOOL_EVENT, Subject.TOOL.named(name), {"what": what, **more})


def opened(name: str, tool_name: str, number: str) -> Draft:
    """A check is opened."""
    return Draft(
        Kind.CHECK_OPENED, Subject.CHECK.named(name), {"tool": tool_name, "tool_number": number, "why": "due"}
    )


def closed(name: str, record: int, verdict: str, day: str) -> Draft:
    """A check is closed."""
    return Draft(
        Kind.CHECK_CLOSED, Subject.CHECK.named(name), {"record": record, "verdict": verdict, "day": day}
    )


def pull(name: str, text: str) -> Draft:
    """A pull is read."""
    return Draft(Kind.PULL_READ, Subject.CHECK.named(name), {"text": text, "struck_out": None})


def fill(ledger: Ledger, count: int = 3) -> None:
    """A tool, and so many pulls of its first check."""
    ledger.append([tool("t1", "T-01"), opened("c1", "t1", "T-01")], STAMP)
    for number in range(count):
        ledger.append([pull("c1", f"{60 + number % 3},0 Nm")], STAMP, submission=f"pull-{number}")


def files_in(folder: Path) -> Iterator[str]:
    """Names of everything in a folder and below, in order."""
    return (str(path.relative_to(folder)) for path in sorted(folder.rglob("*")))
