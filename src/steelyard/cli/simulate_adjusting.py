"""`steelyard simulate adjusting`: how many turns the advice takes, beside older rules."""

import argparse
import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

from steelyard.cli.sentences import mark
from steelyard.cli.simulate_progress import progress_line
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk.simulate_adjusting import AdjustingCounts

DEFAULTS = {"tools": 3_000, "seed": 1}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    tools, seed = DEFAULTS["tools"], DEFAULTS["seed"]
    help_tools = say("option-adjusting-tools", default=tools)
    parser.add_argument("--tools", type=int, default=tools, metavar="N", help=help_tools)
    parser.add_argument("--seed", type=int, default=seed, metavar="N", help=say("option-seed", default=seed))
    parser.add_argument("--json", action="store_true", help=say("option-json"))


def answer(read: argparse.Namespace) -> bool:
    """Simulate, print, return whether every bound is kept."""
    from steelyard.desk.simulate_adjusting import adjusting_content, simulate_adjusting

    counts = simulate_adjusting(tools=read.tools, seed=read.seed, progress=progress_line())
    if read.json:
        print(json.dumps(adjusting_content(counts), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(report(counts)))
    return not counts.violations


def report(counts: "AdjustingCounts") -> Iterator[str]:
    """The population, the table, the bounds."""
    from steelyard.desk.simulate_adjusting import (
        LEAST_TRUE,
        MENDABLE_RATIO,
        MOST_MEAN_TURNS,
        MOST_TURNS,
        MOST_UNFINISHED,
        READ_TO_RATIO,
        TRUE_RATIO,
    )

    plan = counts.plan
    yield say("adjusting-population", best=100 * MENDABLE_RATIO, tools=plan.tools, seed=plan.seed)
    yield say("adjusting-done", limit=100 * READ_TO_RATIO, most=MOST_TURNS)
    yield ""
    yield say("adjusting-columns", most=MOST_TURNS, within=100 * TRUE_RATIO)
    for case, by_way in counts.cells.items():
        yield say(f"adjusting-case-{case.name}")
        for way, cell in by_way.items():
            yield say(
                "adjusting-row",
                way=say(f"adjusting-{way}"),
                mean=cell.mean_turns,
                median=cell.quantile_turns(0.5),
                ninety=_turns(cell.quantile_turns(0.9), MOST_TURNS),
                rounds=cell.mean_rounds,
                unfinished=100 * cell.unfinished_ratio,
                within=100 * cell.true_ratio,
            )
    yield ""
    yield say(
        "adjusting-bounds",
        mark=mark("out" if counts.violations else "in"),
        turns=MOST_MEAN_TURNS,
        unfinished=100 * MOST_UNFINISHED,
        within=100 * TRUE_RATIO,
        least=100 * LEAST_TRUE,
    )
    for bound in counts.violations:
        yield say(f"adjusting-violated-{bound}")


def _turns(turns: int, most: int) -> str:
    return say("adjusting-more", most=most) if turns > most else str(turns)
