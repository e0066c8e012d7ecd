"""What stands behind the verdict that the yes/no answers of a point would give now."""

from steelyard.evaluation import Cause, PointResult, budget
from steelyard.quantities import Line


def trial_cause(result: PointResult) -> tuple[Cause, Line | None]:
    """The cause of the verdict, and the line that adds most to the ±: what would help, where it is too wide.

    Approximate, first order, as the budget of a record is; None where nothing adds to it.
    """
    rows = budget(result.counted.first)
    return result.judged.cause, rows[0].line if rows else None
