"""What is made up: tools on kits, click tools, adjusters, to count what is found of them; the demo's story.

In: numbers of cases, tools and draws, a seed. Out: `Coverage`, counts per cell of kit, dominant part and
pulls; `ThresholdCounts`, per way of finding a threshold; `AdjustingCounts`, per way of adjusting; `story`,
deeds as plain values, the same each time.
Refuses: nothing; the desk has looked at the numbers. Pure and seeded: the same seed gives the same counts.
"""

from steelyard.simulation.adjusted_tools import MENDABLE_RATIO
from steelyard.simulation.adjusting import (
    CASES,
    LEAST_TRUE,
    MOST_MEAN_TURNS,
    MOST_UNFINISHED,
    TRUE_RATIO,
    UNKNOWN,
    AdjustingCase,
    AdjustingCell,
    AdjustingCounts,
    AdjustingPlan,
    simulate_adjustings,
)
from steelyard.simulation.adjusting_ways import MOST_TURNS, READ_TO_RATIO, AdjustingWay
from steelyard.simulation.click_tools import OFF_PERCENT, SCATTERS_PERCENT
from steelyard.simulation.coverage import (
    LIMIT_PERCENT,
    OVERALL_BOUNDS,
    OVERALL_PULLS,
    OVERALL_REACH,
    PULLS,
    Coverage,
    Plan,
    Progress,
    simulate,
)
from steelyard.simulation.made_up import ARMS_METRE, TARGETS_NEWTON_METRE
from steelyard.simulation.population import PARTS, Part, RigKind
from steelyard.simulation.story import BEGUN, PEOPLE, WORKSHOP, story
from steelyard.simulation.story_adjuster import HiddenTool, hidden_tool
from steelyard.simulation.story_shape import (
    Adjusts,
    Before,
    Checks,
    Closing,
    Corrects,
    Deed,
    Happens,
    Points,
    Retires,
    RigComes,
    ToolComes,
)
from steelyard.simulation.tally import CELL_BOUNDS, FALSELY_IN, STANDARD_ERRORS, Cell, Tally
from steelyard.simulation.threshold import (
    CELL_LEAST,
    MOST_ERROR_PERCENT,
    SURE_SCATTER,
    SURE_TRIALS,
    SURE_WAY,
    THRESHOLD_BOUNDS,
    WAYS,
    DriftCell,
    ThresholdCell,
    ThresholdCounts,
    ThresholdPlan,
    simulate_thresholds,
)
from steelyard.simulation.threshold_drift import DRIFT_PERCENT, LENGTHS
from steelyard.simulation.threshold_limit import STOOD_ON_PERCENT, LimitCell
from steelyard.simulation.threshold_ways import SURE_PERCENT, TRIALS, Method, ThresholdWay

__all__ = [
    "ARMS_METRE",
    "BEGUN",
    "CASES",
    "CELL_BOUNDS",
    "CELL_LEAST",
    "DRIFT_PERCENT",
    "FALSELY_IN",
    "LEAST_TRUE",
    "LENGTHS",
    "LIMIT_PERCENT",
    "MENDABLE_RATIO",
    "MOST_ERROR_PERCENT",
    "MOST_MEAN_TURNS",
    "MOST_TURNS",
    "MOST_UNFINISHED",
    "OFF_PERCENT",
    "OVERALL_BOUNDS",
    "OVERALL_PULLS",
    "OVERALL_REACH",
    "PARTS",
    "PEOPLE",
    "PULLS",
    "READ_TO_RATIO",
    "SCATTERS_PERCENT",
    "STANDARD_ERRORS",
    "SURE_PERCENT",
    "SURE_SCATTER",
    "SURE_TRIALS",
    "STOOD_ON_PERCENT",
    "SURE_WAY",
    "TARGETS_NEWTON_METRE",
    "THRESHOLD_BOUNDS",
    "TRIALS",
    "TRUE_RATIO",
    "UNKNOWN",
    "WAYS",
    "WORKSHOP",
    "AdjustingCase",
    "AdjustingCell",
    "AdjustingCounts",
    "AdjustingPlan",
    "AdjustingWay",
    "Adjusts",
    "Before",
    "Cell",
    "Checks",
    "Closing",
    "Corrects",
    "Coverage",
    "Deed",
    "DriftCell",
    "Happens",
    "HiddenTool",
    "LimitCell",
    "Method",
    "Part",
    "Plan",
    "Points",
    "Progress",
    "Retires",
    "RigComes",
    "RigKind",
    "Tally",
    "ThresholdCell",
    "ThresholdCounts",
    "ThresholdPlan",
    "ThresholdWay",
    "ToolComes",
    "hidden_tool",
    "simulate",
    "simulate_adjustings",
    "simulate_thresholds",
    "story",
]
