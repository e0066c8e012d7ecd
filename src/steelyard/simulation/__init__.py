"""Made-up tools on made-up kits: how often the ± holds the truth, and how often a bad tool slips through.

In: numbers of cases and draws, a seed. Out: `Coverage`, counts per cell of kit, dominant part and pulls.
Refuses: nothing; the desk has looked at the numbers. Pure and seeded: the same seed gives the same counts.
"""

from steelyard.simulation.coverage import (
    OVERALL_BOUNDS,
    Coverage,
    Plan,
    Progress,
    simulate,
)
from steelyard.simulation.population import PARTS, Part, RigKind
from steelyard.simulation.tally import CELL_BOUNDS, FALSELY_IN, STANDARD_ERRORS, Cell, Tally

__all__ = [
    "CELL_BOUNDS",
    "FALSELY_IN",
    "OVERALL_BOUNDS",
    "PARTS",
    "STANDARD_ERRORS",
    "Cell",
    "Coverage",
    "Part",
    "Plan",
    "Progress",
    "RigKind",
    "Tally",
    "simulate",
]
