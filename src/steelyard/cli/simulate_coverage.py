"""`steelyard simulate coverage`: whether the ± of a point holds, in words or as JSON."""

import argparse
import json
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from steelyard.cli.sentences import mark
from steelyard.cli.simulate_progress import progress_line
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk.simulate import Cell, Coverage

DEFAULTS = {"cases": 10_000, "cells-cases": 1_000, "draws": 4_000, "seed": 1}
WORST = 5  # cells printed of each sort


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    for name, default in DEFAULTS.items():
        parser.add_argument(
            f"--{name}", type=int, default=default, metavar="N", help=say(f"option-{name}", default=default)
        )
    parser.add_argument("--rig", metavar="KIND", help=say("option-rig"))
    parser.add_argument("--pulls", type=int, metavar="N", help=say("option-pulls"))
    parser.add_argument("--json", action="store_true", help=say("option-json"))


def answer(read: argparse.Namespace) -> bool:
    """Simulate, print, return whether every bound is kept."""
    from steelyard.desk.simulate import coverage_content, simulate_coverage

    coverage = simulate_coverage(
        cases=read.cases,
        cells_cases=read.cells_cases,
        draws=read.draws,
        seed=read.seed,
        rig=read.rig,
        pulls=read.pulls,
        progress=progress_line(),
    )
    if read.json:
        print(json.dumps(coverage_content(coverage), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(report(coverage)))
    return coverage.is_overall_within and not coverage.violations


def report(coverage: "Coverage") -> Iterator[str]:
    """The population, the counts over all, the cells and the worst of them."""
    yield from _population(coverage)
    yield ""
    yield from _overall(coverage)
    if coverage.cells:
        yield ""
        yield from _cells(coverage)


def _population(coverage: "Coverage") -> Iterator[str]:
    from steelyard.desk.simulate import ARMS_METRE, LIMIT_PERCENT, OVERALL_REACH, PARTS, TARGETS_NEWTON_METRE

    plan, (lowest, highest), (shortest, longest) = coverage.plan, TARGETS_NEWTON_METRE, ARMS_METRE
    yield say(
        "coverage-population",
        lowest=lowest,
        highest=highest,
        shortest=1000 * shortest,
        longest=1000 * longest,
        limit=LIMIT_PERCENT,
    )
    yield say("coverage-whole-widths", reach=float(LIMIT_PERCENT) * OVERALL_REACH)
    yield say("coverage-cell-widths")
    yield say("coverage-kinds-head")
    for kind in plan.kinds:
        parts = ", ".join(say(f"part-{part}") for part in PARTS[kind])
        yield say("coverage-kind", kind=say(f"rig-{kind}"), parts=parts)
    yield say("coverage-seed", seed=plan.seed, draws=plan.draws)


def _overall(coverage: "Coverage") -> Iterator[str]:
    from steelyard.desk.simulate import OVERALL_BOUNDS, OVERALL_PULLS

    tally, (low, high) = coverage.overall, OVERALL_BOUNDS
    yield say(
        "coverage-overall",
        mark=_kept(coverage.is_overall_within),
        cases=tally.cases,
        pulls=OVERALL_PULLS,
        held=100 * tally.held_ratio,
        error=100 * tally.held_error,
        low=100 * low,
        high=100 * high,
    )
    for kind, part in coverage.by_kind.items():
        held = 100 * part.held_ratio
        yield say("coverage-by-kind", kind=say(f"rig-{kind}"), held=held, cases=part.cases)


def _cells(coverage: "Coverage") -> Iterator[str]:
    from steelyard.desk.simulate import CELL_BOUNDS, FALSELY_IN, STANDARD_ERRORS

    cells, (low, high) = coverage.cells, CELL_BOUNDS
    yield say(
        "coverage-cells",
        mark=_kept(not coverage.violations),
        count=len(cells),
        cases=coverage.plan.cells_cases,
        violations=len(coverage.violations),
        low=100 * low,
        high=100 * high,
        most_in=100 * FALSELY_IN,
        errors=STANDARD_ERRORS,
    )
    yield from _table(coverage)
    by_held = sorted(cells, key=lambda cell: cell.tally.held_ratio)
    by_in = sorted(cells, key=lambda cell: -cell.tally.in_ratio)
    yield from _listed("coverage-worst-low", by_held[:WORST])
    yield from _listed("coverage-worst-high", by_held[: -WORST - 1 : -1])
    yield from _listed("coverage-worst-in", by_in[:WORST])
    if coverage.violations:
        yield from _listed("coverage-violations", coverage.violations)


def _table(coverage: "Coverage") -> Iterator[str]:
    yield say("coverage-table-head", fewest=min(coverage.plan.pulls), most=max(coverage.plan.pulls))
    rows: dict[tuple[str, str], list[Cell]] = {}
    for cell in coverage.cells:
        rows.setdefault((cell.kind, cell.part), []).append(cell)
    for (kind, part), cells in rows.items():
        held = [100 * cell.tally.held_ratio for cell in cells]
        called_in = max(100 * cell.tally.in_ratio for cell in cells)
        names = {"kind": say(f"rig-{kind}"), "part": say(f"part-{part}")}
        yield say("coverage-row", **names, low=min(held), high=max(held), called_in=called_in)


def _listed(head: str, cells: "Iterable[Cell]") -> Iterator[str]:
    yield ""
    yield say(head)
    for cell in cells:
        tally = cell.tally
        yield say(
            "coverage-cell",
            kind=say(f"rig-{cell.kind}"),
            part=say(f"part-{cell.part}"),
            pulls=cell.pulls,
            held=100 * tally.held_ratio,
            error=100 * tally.held_error,
            called_in=100 * tally.in_ratio,
        )


def _kept(is_kept: bool) -> str:
    return mark("in" if is_kept else "out")
