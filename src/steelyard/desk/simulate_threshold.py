"""Asking what a threshold from yes/no trials is worth: how many tools, and what came of it as content."""

from typing import Any

from steelyard.desk.simulate import refuse_outside
from steelyard.simulation import (
    CELL_LEAST,
    DRIFT_PERCENT,
    FALSELY_IN,
    LENGTHS,
    MOST_ERROR_PERCENT,
    OFF_PERCENT,
    SCATTERS_PERCENT,
    STOOD_ON_PERCENT,
    SURE_PERCENT,
    SURE_SCATTER,
    SURE_TRIALS,
    SURE_WAY,
    THRESHOLD_BOUNDS,
    TRIALS,
    Progress,
    ThresholdCell,
    ThresholdCounts,
    ThresholdPlan,
    ThresholdWay,
    simulate_thresholds,
)

__all__ = [
    "CELL_LEAST",
    "DRIFT_PERCENT",
    "FALSELY_IN",
    "LENGTHS",
    "STOOD_ON_PERCENT",
    "MOST_ERROR_PERCENT",
    "OFF_PERCENT",
    "SCATTERS_PERCENT",
    "SURE_PERCENT",
    "SURE_SCATTER",
    "SURE_TRIALS",
    "SURE_WAY",
    "THRESHOLD_BOUNDS",
    "TRIALS",
    "Progress",
    "ThresholdCell",
    "ThresholdCounts",
    "ThresholdWay",
    "simulate_threshold",
    "threshold_content",
]

FEWEST_TOOLS, MOST_TOOLS = 10, 1_000_000


def simulate_threshold(*, tools: int, drift_tools: int, seed: int, progress: Progress) -> ThresholdCounts:
    """Made-up setting tools, tried in several ways, and counted.

    tools: in each cell of way and scatter, from 10. drift_tools: at each scatter, with a drift, without,
    and on the limit, from 10. seed: ≥ 0. progress: told of the runs done and of all.
    Raises InputRefused outside these limits.
    """
    refuse_outside("--tools", tools, least=FEWEST_TOOLS, most=MOST_TOOLS)
    refuse_outside("--drift-tools", drift_tools, least=FEWEST_TOOLS, most=MOST_TOOLS)
    refuse_outside("--seed", seed, least=0, most=2**63 - 1)
    return simulate_thresholds(ThresholdPlan(tools, drift_tools, seed), progress=progress)


def threshold_content(counts: ThresholdCounts) -> dict[str, Any]:
    """All counts and bounds for a machine, shares in percent."""
    return {
        "tools": counts.plan.tools,
        "drift_tools": counts.plan.drift_tools,
        "seed": counts.plan.seed,
        "trials": TRIALS,
        "bounds": {
            "error_percent_by_step": {str(step): most for step, most in MOST_ERROR_PERCENT.items()},
            "overall_percent": [100 * bound for bound in THRESHOLD_BOUNDS],
            "cell_percent": 100 * CELL_LEAST,
            "sure_percent": SURE_PERCENT,
            "sure_trials": SURE_TRIALS,
            "called_in_percent": 100 * FALSELY_IN,
        },
        "ways": [
            {
                **_named(way),
                "overall": _cell(counts.overall(way)),
                "by_scatter": {str(scatter): _cell(cell) for scatter, cell in by_scatter.items()},
            }
            for way, by_scatter in counts.cells.items()
        ],
        "drifts": [
            {
                "drift_percent": cell.drift_percent,
                "scatter_percent": cell.scatter,
                "trials": cell.trials,
                "drifting_percent": 100 * cell.drifting_ratio,
                "changed_percent": 100 * cell.changed_ratio,
                "held_mean_percent": 100 * cell.held_mean_ratio,
                "held_now_percent": 100 * cell.held_now_ratio,
                "odd_answer_percent": 100 * cell.odd_ratio,
            }
            for cell in counts.drifts
        ],
        "limits": [
            {
                "limit_percent": STOOD_ON_PERCENT,
                "scatter_percent": cell.scatter,
                "tools": cell.tools,
                "called_in_percent": 100 * cell.called_in / cell.tools,
                "by_interval_percent": 100 * cell.by_interval / cell.tools,
            }
            for cell in counts.limits
        ],
        "violations": [
            {"bound": bound, **_named(way), "scatter_percent": scatter}
            for bound, way, scatter in counts.violations
        ],
    }


def _named(way: ThresholdWay) -> dict[str, Any]:
    return {"method": way.method, "step_percent": way.step_percent}


def _cell(cell: ThresholdCell) -> dict[str, Any]:
    is_counted = bool(cell.sure_after)
    return {
        "tools": cell.tools,
        "without_estimate_percent": 100 * cell.missing_ratio,
        "error_percent": cell.error_percent if cell.estimated else None,
        "held_percent": 100 * cell.held_ratio if cell.estimated else None,
        "mean_trials": cell.mean_trials,
        "sure_trials_median": cell.sure_trials(0.5) if is_counted else None,
        "sure_trials_ninety_percent": cell.sure_trials(0.9) if is_counted else None,
        "sd_trials_median": cell.sd_trials(0.5) if is_counted else None,
        "sd_trials_ninety_percent": cell.sd_trials(0.9) if is_counted else None,
    }
