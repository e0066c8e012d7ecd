"""`steelyard simulate threshold`: what a threshold from yes/no trials is worth, beside older ways."""

import argparse
import json
import math
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from steelyard.cli.sentences import mark
from steelyard.cli.simulate_progress import progress_line
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk.simulate_threshold import ThresholdCell, ThresholdCounts, ThresholdWay

DEFAULTS = {"tools": 2_000, "drift-tools": 500, "seed": 1}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    for name, default in DEFAULTS.items():
        parser.add_argument(
            f"--{name}",
            type=int,
            default=default,
            metavar="N",
            help=say("option-seed" if name == "seed" else f"option-threshold-{name}", default=default),
        )
    parser.add_argument("--json", action="store_true", help=say("option-json"))


def answer(read: argparse.Namespace) -> bool:
    """Simulate, print, return whether every bound is kept."""
    from steelyard.desk.simulate_threshold import simulate_threshold, threshold_content

    counts = simulate_threshold(
        tools=read.tools, drift_tools=read.drift_tools, seed=read.seed, progress=progress_line()
    )
    if read.json:
        print(json.dumps(threshold_content(counts), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(report(counts)))
    return not counts.violations


def report(counts: "ThresholdCounts") -> Iterator[str]:
    """The population, the table of ways, the drift, the tools on their limit, the bounds."""
    from steelyard.desk.simulate_threshold import OFF_PERCENT, SCATTERS_PERCENT, TRIALS

    scatters = ", ".join(f"{scatter:g}" for scatter in SCATTERS_PERCENT)
    plan = counts.plan
    yield say("threshold-population", off=OFF_PERCENT, scatters=scatters, tools=plan.tools, seed=plan.seed)
    yield say("threshold-ways", trials=TRIALS)
    yield ""
    yield from _table(counts)
    yield ""
    yield from _sure(counts)
    yield ""
    yield from _drifts(counts)
    yield ""
    yield from _limits(counts)
    yield ""
    yield from _bounds(counts)


def _table(counts: "ThresholdCounts") -> Iterator[str]:
    from steelyard.desk.simulate_threshold import SCATTERS_PERCENT

    columns = {f"s{i}": f"{scatter:g}" for i, scatter in enumerate(SCATTERS_PERCENT)}
    yield say("threshold-table-head")
    yield say("threshold-table-columns", **columns)
    for way, by_scatter in counts.cells.items():
        cells = [*by_scatter.values(), counts.overall(way)]
        facts = {f"e{i}": _number(cell.error_percent, 2) for i, cell in enumerate(cells)}
        facts |= {f"h{i}": _number(100 * cell.held_ratio, 1) for i, cell in enumerate(cells)}
        whole = cells[-1]
        missing = _number(100 * whole.missing_ratio, 1)
        yield say("threshold-row", way=_name(way), trials=whole.mean_trials, missing=missing, **facts)


def _sure(counts: "ThresholdCounts") -> Iterator[str]:
    from steelyard.desk.simulate_threshold import SCATTERS_PERCENT, SURE_PERCENT

    columns = {f"s{i}": f"{scatter:g}" for i, scatter in enumerate(SCATTERS_PERCENT)}
    yield say("threshold-sure-head", sure=SURE_PERCENT, **columns)
    yield from _until(counts, lambda cell, share: cell.sure_trials(share))
    yield say("threshold-sd-head", sure=SURE_PERCENT, **columns)
    yield from _until(counts, lambda cell, share: cell.sd_trials(share))


def _until(
    counts: "ThresholdCounts", trials: "Callable[[ThresholdCell, float], int | None]"
) -> Iterator[str]:
    def after(cell: "ThresholdCell") -> str:
        median, most = (trials(cell, share) for share in (0.5, 0.9))
        more = say("threshold-more-trials")
        return say(
            "threshold-sure-after",
            median=more if median is None else str(median),
            most=more if most is None else str(most),
        )

    for way, by_scatter in counts.cells.items():
        if way.method.is_posterior:
            facts = {f"t{i}": after(cell) for i, cell in enumerate(by_scatter.values())}
            yield say("threshold-sure-row", way=_name(way), whole=after(counts.overall(way)), **facts)


def _drifts(counts: "ThresholdCounts") -> Iterator[str]:
    from steelyard.desk.simulate_threshold import DRIFT_PERCENT

    yield say("threshold-drift-head", drift=abs(DRIFT_PERCENT), tools=counts.plan.drift_tools)
    yield say("threshold-drift-columns")
    for cell in counts.drifts:
        yield say(
            "threshold-drift-row",
            drift=say("threshold-drifts" if cell.drift_percent else "threshold-steady"),
            scatter=cell.scatter,
            trials=cell.trials,
            drifting=100 * cell.drifting_ratio,
            changed=100 * cell.changed_ratio,
            mean=100 * cell.held_mean_ratio,
            now=100 * cell.held_now_ratio,
            odd=100 * cell.odd_ratio,
        )


def _limits(counts: "ThresholdCounts") -> Iterator[str]:
    from steelyard.desk.simulate_threshold import STOOD_ON_PERCENT

    yield say("threshold-limit-head", limit=STOOD_ON_PERCENT, tools=counts.plan.drift_tools)
    yield say("threshold-limit-columns")
    for cell in counts.limits:
        yield say(
            "threshold-limit-row",
            scatter=cell.scatter,
            called=100 * cell.called_in / cell.tools,
            interval=100 * cell.by_interval / cell.tools,
        )


def _bounds(counts: "ThresholdCounts") -> Iterator[str]:
    from steelyard.desk.simulate_threshold import (
        CELL_LEAST,
        FALSELY_IN,
        MOST_ERROR_PERCENT,
        SURE_PERCENT,
        SURE_SCATTER,
        SURE_TRIALS,
        THRESHOLD_BOUNDS,
    )

    low, high = (100 * bound for bound in THRESHOLD_BOUNDS)
    yield say(
        "threshold-bounds",
        mark=mark("out" if counts.violations else "in"),
        errors="/".join(f"{most:g}" for most in MOST_ERROR_PERCENT.values()),
        steps="/".join(f"{step:g}" for step in MOST_ERROR_PERCENT),
        low=low,
        high=high,
        least=100 * CELL_LEAST,
        sure=SURE_PERCENT,
        trials=SURE_TRIALS,
        scatter=SURE_SCATTER,
        falsely=100 * FALSELY_IN,
    )
    for bound, way, scatter in counts.violations:
        where = say("threshold-overall") if scatter is None else say("threshold-at-scatter", scatter=scatter)
        yield say("threshold-violation", bound=say(f"threshold-bound-{bound}"), way=_name(way), where=where)


def _name(way: "ThresholdWay") -> str:
    return say(f"way-{way.method}", step=way.step_percent)


def _number(number: float, digits: int) -> str:
    return say("threshold-none") if math.isnan(number) else f"{number:.{digits}f}"
