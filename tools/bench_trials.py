"""The page of yes/no trials after ten answers against one grid likelihood.

The page is asked of the whole application in this process, as at the eleventh trial: it reads the check,
weighs all answers, the next trial, whether it is enough and whether they drift, and draws the picture. What
the program keeps of likelihoods at levels it met before it may use; the one likelihood is reckoned each time.
"""

import asyncio
import random
from pathlib import Path

from bench_page import asker
from bench_ratio import Bar

from steelyard.bootstrap import Photographs, SystemDice, WallClock, Workshop
from steelyard.desk import (
    AS_FOUND,
    Acting,
    add_rig,
    add_tool,
    answer_trial,
    check_view,
    choose_kit,
    exercise,
    look_over,
    open_check,
    set_up,
    set_workshop,
    trials_at,
)
from steelyard.readings.threshold import clicked, grid_for
from steelyard.readings.threshold.grid import log_between
from steelyard.store import MemoryLedger
from steelyard.web import make_app

ANSWERS = 10
TIMES = 3
MASSES = {"M-10": "10 kg", "M-2": "2 kg", "M-1": "1 kg", "B-500": "500 g", "B-200": "200 g", "B-100": "100 g"}
WRENCH = {
    "number": "T-01",
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


def trials() -> list[Bar]:
    """The page, weights stepped, against one likelihood that nobody reckoned before."""
    shop = Workshop(Path(), MemoryLedger(), WallClock(), SystemDice(), Photographs())
    check = _answered(shop.acting())
    ask = asker(asyncio.Runner(), make_app(shop))
    grid = grid_for(())
    place, scatter, answer = grid.places[:, None], grid.scatters[None, :], clicked(1.0)

    def page() -> None:
        ask(f"/bench/{check}/as-found/trials?point=0")

    def likelihood() -> object:
        return log_between(place, scatter, answer)

    name = f"the page of trials, {ANSWERS} answers : one grid likelihood"
    return [Bar(name, page, likelihood, 150, TIMES, 10 * TIMES)]


def _answered(acting: Acting) -> str:
    """A check with ten answers of a tool that trips 2 % above its setting."""
    set_workshop(acting, {"name": "Tern Point", "latitude": "54.3", "height": "12", "unit": "N·m"})
    tool = add_tool(acting, WRENCH)
    for mass, value in MASSES.items():
        add_rig(acting, "mass", {"name": mass, "value": f"{value} ± 2 g"})
    arm = add_rig(acting, "hung-weight", {"name": "W-1"})
    check = open_check(acting, tool, {"why": "due"})
    look_over(acting, check, {"damaged": "no"})
    choose_kit(acting, check, {"rig": arm, "plan": "own", "targets": "60", "pulls": "5"})
    set_up(acting, check, {"arm": "450", "is_ready": "yes"})
    exercise(acting, check, {"exercise_pulls": "5"})
    dice = random.Random(1)
    for _ in range(ANSWERS):
        wanted = trials_at(check_view(acting.ledger, check).body, AS_FOUND, 0).next
        if wanted is None:
            raise ValueError("no load can be made")
        answer = "yes" if dice.gauss(2.0, 0.7) <= wanted.level_percent else "no"
        answer_trial(acting, check, AS_FOUND, 0, {"load": wanted.load, "clicked": answer})
    return check
