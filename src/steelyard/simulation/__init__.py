"""What is made up: tools on kits, to count how often the ± holds the truth; the story of the demo workshop.

In: numbers of cases and draws, a seed. Out: `Coverage`, counts per cell of kit, dominant part and pulls;
`story`, deeds as plain values, the same each time.
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
from steelyard.simulation.story import BEGUN, PEOPLE, WORKSHOP, story
from steelyard.simulation.story_shape import (
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

__all__ = [
    "ARMS_METRE",
    "BEGUN",
    "CELL_BOUNDS",
    "FALSELY_IN",
    "LIMIT_PERCENT",
    "OVERALL_BOUNDS",
    "OVERALL_PULLS",
    "OVERALL_REACH",
    "PARTS",
    "PEOPLE",
    "PULLS",
    "STANDARD_ERRORS",
    "TARGETS_NEWTON_METRE",
    "WORKSHOP",
    "Before",
    "Cell",
    "Checks",
    "Closing",
    "Corrects",
    "Coverage",
    "Deed",
    "Happens",
    "Part",
    "Plan",
    "Points",
    "Progress",
    "Retires",
    "RigComes",
    "RigKind",
    "Tally",
    "ToolComes",
    "simulate",
    "story",
]
