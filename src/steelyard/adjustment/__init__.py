"""How far to turn an adjuster, when to stop, and when it cannot mend the tool.

In: points with limits, readings as found and after each turn, each with its standard uncertainty; what is
usual of such tools. Out: what is believed of the adjuster, the next turn, whether the tool can be mended, the
part of the range that can. Refuses nothing: the desk has looked. Direction and gain are learned, never
asserted.
"""

from steelyard.adjustment.advice import SURE_OF_SENSE, Advice, Sort, advise
from steelyard.adjustment.belief import Belief, GainPrior, Point, Reading, Turned, learn
from steelyard.adjustment.best_shift import BestShift, Stretch, best_shift, restricted_range
from steelyard.adjustment.chebyshev_line import ChebyshevLine, chebyshev_line
from steelyard.adjustment.mending import Mending, Outlook, outlook

__all__ = [
    "SURE_OF_SENSE",
    "Advice",
    "Belief",
    "BestShift",
    "ChebyshevLine",
    "GainPrior",
    "Mending",
    "Outlook",
    "Point",
    "Reading",
    "Sort",
    "Stretch",
    "Turned",
    "advise",
    "best_shift",
    "chebyshev_line",
    "learn",
    "outlook",
    "restricted_range",
]
