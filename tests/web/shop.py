"""A workshop in memory behind the real pages, at a fixed hour; what most tests of pages start from."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from pathlib import Path

from starlette.testclient import TestClient

from steelyard.bootstrap import Photographs, Workshop
from steelyard.store import MemoryLedger
from steelyard.web import make_app

HOME = "http://127.0.0.1"
HOUR = datetime(2026, 11, 25, 10, 0, tzinfo=timezone(timedelta(hours=1)))

CLICK = {
    "number": "T-04",
    "kind": "click-adjustable",
    "lowest": "20",
    "highest": "100",
    "unit": "N·m",
    "graduation": "0.5",
    "limit.published": "own",
    "limit.percent": "4",
    "limit.source": "our own list",
    "own_way": "skip",
}
"""A tool of the rack, as typed."""
CHECK: dict[str, object] = {
    "check": "c1",
    "record": 7,
    "day": "2026-11-20",
    "verdict": "in",
    "next_due": "2027-11-20",
    "worst_percent": -1.25,
    "worst_expanded_percent": 0.8,
    "curve": [],
}
"""What a check left with the tool."""


class StandingClock:
    """A clock that goes on by a second at every look."""

    def __init__(self, hour: datetime = HOUR) -> None:
        self.hour = hour

    def now(self) -> datetime:
        """The hour, a second later each time."""
        self.hour += timedelta(seconds=1)
        return self.hour


class CountingDice:
    """Names that count, so that tests can say them."""

    def __init__(self) -> None:
        self.count = 0

    def name(self) -> str:
        """00000001, 00000002, …"""
        self.count += 1
        return f"{self.count:08x}"

    def salt(self) -> str:
        """The same each time; a test keeps no secret."""
        return "5a17" * 8


@dataclass
class Shop:
    """A client that speaks like one of our own pages, and the workshop behind it."""

    client: TestClient
    workshop: Workshop

    def page(self, path: str, status: int = 200) -> str:
        """The text of a page; raises unless it has the status."""
        answer = self.client.get(path)
        if answer.status_code != status:
            raise AssertionError(f"{path}: {answer.status_code}\n{answer.text}")
        return answer.text

    def send(self, path: str, status: int = 303, /, **typed: str) -> str:
        """Send a form; returns where it leads, or the text of the page that stays. Field names with a dot
        or a dash come as `limit__percent` and `set_up`; two underscores stand for a dot."""
        names = {name.replace("__", "."): text for name, text in typed.items()}
        answer = self.client.post(path, data=names, follow_redirects=False)
        if answer.status_code != status:
            raise AssertionError(f"{path}: {answer.status_code}\n{answer.text}")
        return answer.headers.get("location", answer.text)


def make_workshop(folder: Path = Path(), *, is_demo: bool = False) -> Workshop:
    """A workshop in memory."""
    return Workshop(folder, MemoryLedger(), StandingClock(), CountingDice(), Photographs(), is_demo=is_demo)


@contextmanager
def shop(workshop: Workshop | None = None) -> Iterator[Shop]:
    """An open shop."""
    opened = workshop or make_workshop()
    with TestClient(make_app(opened), base_url=HOME, headers={"Origin": HOME}) as client:
        yield Shop(client, opened)
