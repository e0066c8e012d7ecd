"""What is usual before a check: pulls at the maximum that let grease and spring settle."""

from steelyard.published import EXERCISE_INDICATING, EXERCISE_SETTING
from steelyard.tools import Kind


def usual_exercise(kind: Kind) -> int:
    """How many are usual before the first reading. Source: `published`, at each figure."""
    return int((EXERCISE_INDICATING if kind.is_indicating else EXERCISE_SETTING).least)
