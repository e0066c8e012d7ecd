"""Kits that say what the torque was: hung weights and drums, weighing, transducers.

In: lengths, masses, papers and readings as values with what is not known of them (`Line`).
Out: `Reference`, a model of torque about the drive with its lines; `Load`, what hangs.
Refuses: a load outside a scale's class, an indication outside a paper, a tool's own weight left out.
"""

from steelyard.rigs.combinations import weighed_in_combinations
from steelyard.rigs.hung_weight import (
    Air,
    BeamPlace,
    Drum,
    HungWeight,
    Lead,
    OwnWeight,
    Pivot,
    drum_reference,
    hung_weight_reference,
)
from steelyard.rigs.load import Knowing, Load
from steelyard.rigs.reference import Reference
from steelyard.rigs.transducer import (
    Axis,
    OwnActs,
    Paper,
    PaperRow,
    PaperStates,
    PullWay,
    Transducer,
    Zeroed,
    how_own_acts,
    read_paper,
    transducer_reference,
)
from steelyard.rigs.weighing import (
    marked_mass,
    together,
    weighed_by_difference,
    weighed_directly,
    weighed_in_placements,
)
from steelyard.rigs.weighing_scale import (
    Household,
    LegalClass,
    Scale,
    Stated,
    canister_litre,
    scale_from_water,
    water_shows_kilogram,
)
from steelyard.rigs.weight_torque import hung_weight_torque, pivot_from_two_marks, pivoted_head_torque

__all__ = [
    "Air",
    "Axis",
    "BeamPlace",
    "Drum",
    "Household",
    "HungWeight",
    "Knowing",
    "Lead",
    "LegalClass",
    "Load",
    "OwnActs",
    "OwnWeight",
    "Paper",
    "PaperRow",
    "PaperStates",
    "Pivot",
    "PullWay",
    "Reference",
    "Scale",
    "Stated",
    "Transducer",
    "Zeroed",
    "canister_litre",
    "drum_reference",
    "how_own_acts",
    "hung_weight_reference",
    "hung_weight_torque",
    "marked_mass",
    "pivot_from_two_marks",
    "pivoted_head_torque",
    "read_paper",
    "scale_from_water",
    "together",
    "transducer_reference",
    "water_shows_kilogram",
    "weighed_by_difference",
    "weighed_directly",
    "weighed_in_combinations",
    "weighed_in_placements",
]
