"""A shop that hangs weights: marked masses, a hook that hangs at every pull, an arm of 450 mm."""

from collections.abc import Mapping

from desk.bench_shop import BenchShop, bench_shop
from steelyard.desk import (
    AS_FOUND,
    Running,
    add_rig,
    add_tool,
    choose_kit,
    exercise,
    look_over,
    open_check,
    read_pull,
    running_point,
    set_up,
)

MASSES = {
    "M-10": "10 kg ± 5 g",
    "M-2": "2 kg ± 2 g",
    "M-1": "1 kg ± 1 g",
    "B-500": "500 g ± 1 g",
    "B-200": "200 g ± 1 g",
    "B-100": "100 g ± 1 g",
    "HOOK": "310 g ± 2 g",
}
BEAM = {
    "number": "T-07",
    "kind": "beam",
    "lowest": "5",
    "highest": "30",
    "graduation": "0.5",
    "directions": "cw",
    "grip_mark": "450 ± 1",
    "mass": "0.900 ± 0.005",
    "balance_point": "150 ± 3",
    "limit.published": "own",
    "limit.percent": "6",
    "limit.source": "our own list",
}
GOOD = {"no_click": "M-2 + M-1 + B-500", "click": "M-2 + M-1 + B-500 + B-100"}
"""A click at about the 3.9 kg in all that make 20 N·m."""


class HungShop(BenchShop):
    """A check with the arm in hand, its points at 20 and 60 N·m or as said."""

    def hang(
        self, *, tool: str = "", targets: str = "20; 60", planned: str = "3", ready: bool = True, **setup: str
    ) -> None:
        """Bring a check as far as its pulls, or as far as the choice of the kit."""
        self.check = open_check(self.acting, tool or self.tool, {"why": "due"})
        look_over(self.acting, self.check, {"damaged": "no"})
        plan = {"plan": "own", "targets": targets, "pulls": planned}
        choose_kit(self.acting, self.check, {"rig": self.rig, **plan})
        if ready:
            set_up(self.acting, self.check, {"arm": "450", "always": "HOOK", "is_ready": "yes", **setup})
            exercise(self.acting, self.check, {"exercise_pulls": "5"})

    def hang_beam(self, *, load_0: str, load_1: str) -> None:
        """A beam wrench, zeroed as it stands, with known loads at 10 and 20 N·m."""
        tool = add_tool(self.acting, BEAM)
        self.hang(tool=tool, targets="10; 20", zeroed_tool="yes", load_0=load_0, load_1=load_1)

    def take(self, typed: Mapping[str, str], point: int = 0) -> int:
        """One pull as found; the number of its entry."""
        return read_pull(self.acting, self.check, AS_FOUND, point, typed).number

    def at(self, point: int = 0) -> Running:
        """A point as it stands."""
        return running_point(self.body, AS_FOUND, point)

    def codes(self, point: int = 0) -> list[str]:
        """The doubts that show at a point."""
        return [doubt.code for doubt in self.at(point).doubts]


def hung_shop() -> HungShop:
    """The shop, without a check yet."""
    ready = bench_shop()
    acting = ready.acting
    for name, value in MASSES.items():
        add_rig(acting, "mass", {"name": name, "value": value})
    add_rig(acting, "scale", {"name": "S-2", "step": "5", "knows": "mass", "within": "10"})
    arm = add_rig(acting, "hung-weight", {"name": "W-1", "always": "HOOK"})
    return HungShop(ready.workshop, ready.tool, arm)
