"""Asking whether the ± holds: how much to simulate, and what came of it as content."""

from typing import Any

from steelyard.errors import InputRefused
from steelyard.simulation import (
    ARMS_METRE,
    CELL_BOUNDS,
    FALSELY_IN,
    LIMIT_PERCENT,
    OVERALL_BOUNDS,
    OVERALL_PULLS,
    OVERALL_REACH,
    PARTS,
    PULLS,
    STANDARD_ERRORS,
    TARGETS_NEWTON_METRE,
    Cell,
    Coverage,
    Plan,
    Progress,
    RigKind,
    Tally,
    simulate,
)

__all__ = [
    "ARMS_METRE",
    "CELL_BOUNDS",
    "FALSELY_IN",
    "LIMIT_PERCENT",
    "OVERALL_BOUNDS",
    "OVERALL_PULLS",
    "OVERALL_REACH",
    "PARTS",
    "STANDARD_ERRORS",
    "TARGETS_NEWTON_METRE",
    "Cell",
    "Coverage",
    "Progress",
    "coverage_content",
    "refuse_outside",
    "simulate_coverage",
]

MOST_CASES = 1_000_000
FEWEST_DRAWS, MOST_DRAWS = 1_000, 1_350_000


def simulate_coverage(
    *,
    cases: int,
    cells_cases: int,
    draws: int,
    seed: int,
    progress: Progress,
    rig: str | None = None,
    pulls: int | None = None,
) -> Coverage:
    """Made-up tools measured with erring kits, judged by the evaluation, and counted.

    cases: of the whole population, from 100. cells_cases: in each cell; 0 leaves the cells out.
    rig, pulls: the only kind of rig, 2 to 10, and number of pulls in the cells; None: every one.
    draws: of the Monte Carlo, from 1000. seed: ≥ 0. progress: told of the cases done and of all.
    Raises InputRefused outside these limits.
    """
    refuse_outside("--cases", cases, least=100, most=MOST_CASES)
    refuse_outside("--cells-cases", cells_cases, least=0, most=MOST_CASES)
    refuse_outside("--draws", draws, least=FEWEST_DRAWS, most=MOST_DRAWS)
    refuse_outside("--seed", seed, least=0, most=2**63 - 1)
    if rig is not None and rig not in list(RigKind):
        raise InputRefused("--rig", rig, "want-one-of", names=", ".join(RigKind))
    if pulls is not None:
        refuse_outside("--pulls", pulls, least=PULLS[0], most=PULLS[-1])
    plan = Plan(
        cases,
        cells_cases,
        draws,
        seed,
        kinds=tuple(RigKind) if rig is None else (RigKind(rig),),
        pulls=PULLS if pulls is None else (pulls,),
    )
    return simulate(plan, progress=progress)


def refuse_outside(field: str, given: int, *, least: int, most: int) -> None:
    """Raise InputRefused unless a whole number lies from least to most."""
    if not least <= given <= most:
        raise InputRefused(field, given, "want-whole", least=least, most=most)


def coverage_content(coverage: Coverage) -> dict[str, Any]:
    """All counts and bounds for a machine, shares in percent."""
    plan = coverage.plan
    return {
        "cases": plan.cases,
        "cells_cases": plan.cells_cases,
        "draws": plan.draws,
        "seed": plan.seed,
        "bounds": {
            "overall_percent": [100 * bound for bound in OVERALL_BOUNDS],
            "cell_percent": [100 * bound for bound in CELL_BOUNDS],
            "falsely_in_percent": 100 * FALSELY_IN,
            "standard_errors": STANDARD_ERRORS,
        },
        "population": {kind: list(PARTS[kind]) for kind in plan.kinds},
        "overall": {**_tally(coverage.overall), "is_within": coverage.is_overall_within},
        "by_kind": {kind: _tally(tally) for kind, tally in coverage.by_kind.items()},
        "cells": [_cell(cell) for cell in coverage.cells],
        "violations": [_cell(cell) for cell in coverage.violations],
    }


def _tally(tally: Tally) -> dict[str, Any]:
    return {
        "cases": tally.cases,
        "held": tally.held,
        "held_percent": 100 * tally.held_ratio,
        "held_error_percent": 100 * tally.held_error,
        "called_in": tally.called_in,
        "called_in_percent": 100 * tally.in_ratio,
    }


def _cell(cell: Cell) -> dict[str, Any]:
    return {
        "rig": cell.kind,
        "part": cell.part,
        "pulls": cell.pulls,
        **_tally(cell.tally),
        "is_within": cell.is_within,
    }
