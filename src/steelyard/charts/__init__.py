"""Charts and drawings: what is known, drawn for page and paper alike.

In: plain values: numbers in percent or in the unit that is named, words for stages, verdicts and kinds.
Out: a `Chart`: one SVG element without size, style or script, a sentence that says the same, and a table that
repeats it; or a `mark`, a sign to stand before a word. The same values give the same bytes.
State is told by shape and word; colour only repeats it. The classes are drawn by `web/static/charts.css`.
Refuses nothing a person typed: an unknown verdict, stage or kind, or a number that is not finite, is a
ValueError, our bug.
"""

from steelyard.charts.budget import Share, budget_bars
from steelyard.charts.chart import Chart, Table
from steelyard.charts.deviation import deviation_chart
from steelyard.charts.error_curve import error_curve
from steelyard.charts.history_strip import PastCheck, history_strip
from steelyard.charts.marks import MARKS, mark
from steelyard.charts.points import Point, Series
from steelyard.charts.pull_dots import Pull, Wanted, pull_dots
from steelyard.charts.rig_drawings import own_weight_drawing, rig_drawing
from steelyard.charts.tool_drawings import tool_drawing
from steelyard.charts.trial_levels import Found, Trial, trial_levels
from steelyard.charts.turn_dial import turn_dial

__all__ = [
    "MARKS",
    "Chart",
    "Found",
    "PastCheck",
    "Point",
    "Pull",
    "Series",
    "Share",
    "Table",
    "Trial",
    "Wanted",
    "budget_bars",
    "deviation_chart",
    "error_curve",
    "history_strip",
    "mark",
    "own_weight_drawing",
    "pull_dots",
    "rig_drawing",
    "tool_drawing",
    "trial_levels",
    "turn_dial",
]
