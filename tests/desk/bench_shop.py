"""A shop at the desk: a workshop in memory, and a check brought as far as a test needs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from steelyard.bootstrap import Workshop
from steelyard.desk import (
    AS_FOUND,
    Acting,
    Body,
    Ledger,
    add_rig,
    add_tool,
    check_view,
    choose_kit,
    exercise,
    look_over,
    open_check,
    read_pull,
    set_up,
    set_workshop,
)
from steelyard.records import Entry, Stamp
from steelyard.store import MemoryLedger
from web.shop import make_workshop

WRENCH = {
    "number": "T-04",
    "kind": "click-adjustable",
    "lowest": "20",
    "highest": "100",
    "graduation": "1",
    "directions": "cw",
    "grip_mark": "450 ± 2",
    "mass": "1.300 ± 0.005",
    "balance_point": "220 ± 3",
    "limit.published": "own",
    "limit.percent": "4",
    "limit.source": "our own list",
}
READINGS = ("19.6 19.7 19.5 19.7 19.6", "58.9 59.2 58.8 59.1 59.0", "97.4 98.1 97.8 98.0 97.7")
HIGH_READINGS = ("18.2 18.3 18.2 18.4 18.3", "54.9 55.2 54.8 55.1 55.0", "91.4 91.1 91.8 92.0 91.7")


class CrossedLedger(MemoryLedger):
    """A ledger to which somebody else writes first, between what a deed read and what it writes."""

    crossing: Callable[[], object] | None = None

    def append(self, drafts: Any, stamp: Stamp, **how: Any) -> tuple[Entry, ...]:
        """As ever, after what comes across."""
        crossing, self.crossing = self.crossing, None
        if crossing is not None:
            crossing()
        return super().append(drafts, stamp, **how)


@dataclass
class BenchShop:
    """A workshop with one wrench and one adapter; `check` is the check in hand."""

    workshop: Workshop
    tool: str
    rig: str
    check: str = ""

    @property
    def acting(self) -> Acting:
        """Somebody at the desk."""
        return self.workshop.acting()

    @property
    def body(self) -> Body:
        """The check as it stands."""
        return check_view(self.workshop.ledger, self.check).body

    def open(self) -> None:
        """Open a check and look the tool over."""
        self.check = open_check(self.acting, self.tool, {"why": "due"})
        look_over(self.acting, self.check, {"damaged": "no"})

    def stand(self, *, plan: Mapping[str, str] | None = None) -> None:
        """Open a check, choose the adapter, set it up and exercise the tool."""
        self.open()
        choose_kit(self.acting, self.check, {"rig": self.rig, "plan": "full", **(plan or {})})
        setup = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"}
        set_up(self.acting, self.check, setup)
        exercise(self.acting, self.check, {"exercise_pulls": "5"})

    def pull(self, rows: tuple[str, ...], phase: str = AS_FOUND) -> None:
        """Read a row of pulls at each point."""
        for point, row in enumerate(rows):
            for line in row.split():
                read_pull(self.acting, self.check, phase, point, {"line": line})


def bench_shop(ledger: Ledger | None = None) -> BenchShop:
    """A workshop with one click wrench and one adapter."""
    workshop = replace(make_workshop(), ledger=ledger or MemoryLedger())
    acting = workshop.acting()
    set_workshop(acting, {"name": "Tern Point", "latitude": "54.3", "height": "12", "unit": "N·m"})
    tool = add_tool(acting, WRENCH)
    rig = add_rig(acting, "transducer", {"name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"})
    return BenchShop(workshop, tool, rig)
