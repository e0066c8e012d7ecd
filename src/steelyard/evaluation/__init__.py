"""From readings to a verdict: repeats, propagation, Monte Carlo, budget, rules, pattern, fitness of a kit.

In: a point's counted pulls, the kit's `Reference`, the tool's lines, a limit and a rule, a seed.
Out: deviation with interval, budget, verdict, pattern; what a kit can decide before any work.
Refuses: a tool whose own weight acts and is not given. Doubts about the work are findings, never exceptions.
"""

from steelyard.evaluation.budget import BudgetRow, budget
from steelyard.evaluation.curve import CurvePoint, OnCurve, at_shown, at_torque, curve_point, is_rising
from steelyard.evaluation.deviation import deviation
from steelyard.evaluation.enough import Enough, enough
from steelyard.evaluation.fit import PIVOT_UNKNOWN, own_weight, reference_for_indication, reference_for_load
from steelyard.evaluation.fitness import Fitness, Improvement, fitness, planned_raws
from steelyard.evaluation.fleet import FirstOrderMany, first_order_many
from steelyard.evaluation.level import LevelAndSlope, level_and_slope
from steelyard.evaluation.monte_carlo import DRAWS, METHOD, Distribution, monte_carlo
from steelyard.evaluation.pattern import Pattern, pattern, point_name
from steelyard.evaluation.point import FEWEST_FOR_IN, IN_TAIL, TAIL, Estimate, PointResult, evaluate_point
from steelyard.evaluation.point_model import PointCase
from steelyard.evaluation.posterior import Posterior, posterior
from steelyard.evaluation.propagation import (
    FirstOrder,
    SecondOrder,
    covariance,
    coverage_factor,
    first_order,
    second_order,
)
from steelyard.evaluation.repeats import Repeats, repeats
from steelyard.evaluation.resolution import ScaleStep, step_of_reading, step_of_setting
from steelyard.evaluation.verdict import (
    Cause,
    Evidence,
    Judged,
    Rule,
    Verdict,
    deciding_point,
    judge_point,
    judge_tool,
)
from steelyard.evaluation.yes_no import raw_at

__all__ = [
    "FEWEST_FOR_IN",
    "DRAWS",
    "IN_TAIL",
    "METHOD",
    "PIVOT_UNKNOWN",
    "TAIL",
    "BudgetRow",
    "Cause",
    "CurvePoint",
    "Distribution",
    "Enough",
    "Estimate",
    "Fitness",
    "Improvement",
    "Evidence",
    "FirstOrder",
    "FirstOrderMany",
    "Judged",
    "LevelAndSlope",
    "OnCurve",
    "Pattern",
    "PointCase",
    "PointResult",
    "Posterior",
    "Repeats",
    "Rule",
    "ScaleStep",
    "SecondOrder",
    "Verdict",
    "at_shown",
    "at_torque",
    "budget",
    "coverage_factor",
    "covariance",
    "curve_point",
    "deciding_point",
    "deviation",
    "enough",
    "evaluate_point",
    "first_order",
    "first_order_many",
    "fitness",
    "is_rising",
    "judge_point",
    "judge_tool",
    "level_and_slope",
    "monte_carlo",
    "own_weight",
    "planned_raws",
    "pattern",
    "point_name",
    "posterior",
    "reference_for_indication",
    "reference_for_load",
    "raw_at",
    "repeats",
    "second_order",
    "step_of_reading",
    "step_of_setting",
]
