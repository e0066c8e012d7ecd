"""Made-up tools on made-up kits: how often the ± holds the truth, and how often a bad tool slips through.

In: numbers of cases and draws, a seed. Out: `Coverage`, counts per cell of kit, dominant part and pulls.
Refuses: nothing; the desk has looked at the numbers. Pure and seeded: the same seed gives the same counts.
"""

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
from steelyard.simulation.tally import CELL_BOUNDS, FALSELY_IN, STANDARD_ERRORS, Cell, Tally

__all__ = [
    "ARMS_METRE",
    "CELL_BOUNDS",
    "FALSELY_IN",
    "LIMIT_PERCENT",
    "OVERALL_BOUNDS",
    "OVERALL_PULLS",
    "OVERALL_REACH",
    "PARTS",
    "PULLS",
    "STANDARD_ERRORS",
    "TARGETS_NEWTON_METRE",
    "Cell",
    "Coverage",
    "Part",
    "Plan",
    "Progress",
    "RigKind",
    "Tally",
    "simulate",
]
