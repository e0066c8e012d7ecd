"""A load weighed well, or a scale checked with water: worked out, weighed up beforehand, kept.

In: what was read off a scale of the shop, texts by field. Out: masses, the gain of a scale, each with its ±;
what every way would be worth. Refuses: what cannot have been read, a load that drowns in its own ±.
"""

from steelyard.desk.weighing.keeping import keep_weighing
from steelyard.desk.weighing.ways import PLACEMENTS, WEIGH_FIELDS, WEIGH_WAYS, weigh
from steelyard.desk.weighing.weighed import CheckedScale, WeighedMass, Weighing, as_kept, true_mass
from steelyard.desk.weighing.worth import Worth, WorthAsked, better_way, weighing_worth

__all__ = [
    "PLACEMENTS",
    "WEIGH_FIELDS",
    "WEIGH_WAYS",
    "CheckedScale",
    "WeighedMass",
    "Weighing",
    "Worth",
    "WorthAsked",
    "as_kept",
    "better_way",
    "keep_weighing",
    "true_mass",
    "weigh",
    "weighing_worth",
]
