"""`steelyard simulate coverage`: whether the ± of a point holds, in words or as JSON."""

import argparse
import json
import sys
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from steelyard.cli.sentences import mark
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk.simulate import Cell, Coverage, Progress

DEFAULTS = {"cases": 10_000, "cells-cases": 1_000, "draws": 4_000, "seed": 1}
WORST = 5  # cells printed of each sort
MISSED = 10


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parts = parser.add_subparsers(dest="question", metavar="coverage", required=True)
    purpose = say("simulate-coverage")
    coverage = parts.add_parser("coverage", help=purpose, description=purpose, allow_abbrev=False)
    for name, default in DEFAULTS.items():
        coverage.add_argument(
            f"--{name}", type=int, default=default, metavar="N", help=say(f"option-{name}", default=default)
        )
    coverage.add_argument("--rig", metavar="KIND", help=say("option-rig"))
    coverage.add_argument("--pulls", type=int, metavar="N", help=say("option-pulls"))
    coverage.add_argument("--json", action="store_true", help=say("option-json"))


def answer(read: argparse.Namespace) -> int:
    """Simulate, print, return 0 where every bound is kept and 10 where one is not."""
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
    return 0 if coverage.is_overall_within and not coverage.violations else MISSED


def progress_line() -> "Progress":
    """Says on standard error how far it is: one line renewed on a terminal, elsewhere a line every tenth."""
    is_terminal = sys.stderr.isatty()
    parts, start, end = (1000, "\r", "") if is_terminal else (10, "", "\n")

    def said(part: int, whole: int) -> None:
        if part * parts // whole != (part - 1) * parts // whole:
            sentence = say("program-progress", part=part, whole=whole)
            last = "\n" if is_terminal and part == whole else end
            print(start + sentence, end=last, file=sys.stderr, flush=True)

    return said


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
