"""Asking how many turns the advice takes: how many tools, and what came of it as content."""

from typing import Any

from steelyard.desk.simulate import refuse_outside
from steelyard.simulation import (
    LEAST_TRUE,
    MENDABLE_RATIO,
    MOST_MEAN_TURNS,
    MOST_TURNS,
    MOST_UNFINISHED,
    READ_TO_RATIO,
    TRUE_RATIO,
    AdjustingCell,
    AdjustingCounts,
    AdjustingPlan,
    Progress,
    simulate_adjustings,
)

__all__ = [
    "LEAST_TRUE",
    "MENDABLE_RATIO",
    "MOST_MEAN_TURNS",
    "MOST_TURNS",
    "MOST_UNFINISHED",
    "READ_TO_RATIO",
    "TRUE_RATIO",
    "AdjustingCell",
    "AdjustingCounts",
    "Progress",
    "adjusting_content",
    "simulate_adjusting",
]

FEWEST_TOOLS, MOST_TOOLS = 10, 1_000_000


def simulate_adjusting(*, tools: int, seed: int, progress: Progress) -> AdjustingCounts:
    """Made-up tools, adjusted in several ways, and counted.

    tools: in each case and way, from 10. seed: ≥ 0. progress: told of the runs done and of all.
    Raises InputRefused outside these limits.
    """
    refuse_outside("--tools", tools, least=FEWEST_TOOLS, most=MOST_TOOLS)
    refuse_outside("--seed", seed, least=0, most=2**63 - 1)
    return simulate_adjustings(AdjustingPlan(tools, seed), progress=progress)


def adjusting_content(counts: AdjustingCounts) -> dict[str, Any]:
    """All counts and bounds for a machine, shares in percent."""
    return {
        "tools": counts.plan.tools,
        "seed": counts.plan.seed,
        "bounds": {
            "mean_turns": MOST_MEAN_TURNS,
            "unfinished_percent": 100 * MOST_UNFINISHED,
            "true_percent": 100 * LEAST_TRUE,
            "true_within_percent": 100 * TRUE_RATIO,
        },
        "cases": {
            case.name: {way: _cell(cell) for way, cell in by_way.items()}
            for case, by_way in counts.cells.items()
        },
        "violations": list(counts.violations),
    }


def _cell(cell: AdjustingCell) -> dict[str, Any]:
    return {
        "mean_turns": cell.mean_turns,
        "median_turns": cell.quantile_turns(0.5),
        "ninety_percent_turns": cell.quantile_turns(0.9),
        "mean_rounds": cell.mean_rounds,
        "unfinished_percent": 100 * cell.unfinished_ratio,
        "true_percent": 100 * cell.true_ratio,
    }
