"""A torque from yes/no answers: the threshold at which a setting tool trips.

In: answers, each one trip seen through a load or a setting, as deviations T/X − 1 in percent. Out: posterior
of threshold and scatter, the bracket beside it, the trial that tells most next, whether the answers can come
from one threshold and which fits the others least; up-and-down and maximum likelihood for comparison.
Refuses: maximum likelihood where it does not exist. Never an estimate from one side alone.
"""

from steelyard.readings.threshold.answer import Answer, bracket, clicked, not_clicked
from steelyard.readings.threshold.estimate import Sides, Threshold, estimate_threshold, sides_of
from steelyard.readings.threshold.fitting import LeastFitting, least_fitting
from steelyard.readings.threshold.grid import Grid, grid_for
from steelyard.readings.threshold.likeliest import Likeliest, has_likeliest, likeliest_threshold
from steelyard.readings.threshold.next_trial import expected_gain, most_telling
from steelyard.readings.threshold.steadiness import Steadiness, steadiness
from steelyard.readings.threshold.up_down import UpDown, dixon_mood

__all__ = [
    "Answer",
    "Grid",
    "LeastFitting",
    "Likeliest",
    "Sides",
    "Steadiness",
    "Threshold",
    "UpDown",
    "bracket",
    "clicked",
    "dixon_mood",
    "estimate_threshold",
    "expected_gain",
    "grid_for",
    "has_likeliest",
    "least_fitting",
    "likeliest_threshold",
    "most_telling",
    "not_clicked",
    "sides_of",
    "steadiness",
]
