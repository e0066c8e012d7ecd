"""What is usual: how soon is soon, and pulls at the maximum that let grease and spring settle."""

from datetime import timedelta

from steelyard.published import EXERCISE_INDICATING, EXERCISE_SETTING
from steelyard.tools import Kind

DUE_SOON_DAYS = 30
DUE_SOON = timedelta(days=DUE_SOON_DAYS)
"""A check is due soon, a paper runs out soon, within this time."""


def usual_exercise(kind: Kind) -> int:
    """How many are usual before the first reading. Source: `published`, at each figure."""
    return int((EXERCISE_INDICATING if kind.is_indicating else EXERCISE_SETTING).least)


AFTER_LOCK = 3
"""Pulls that let an adjuster settle after its lock nut was tightened: our choice."""


def exercise_after_lock(kind: Kind) -> int:
    """How many are usual between the lock of an adjuster and the first reading as left."""
    return min(AFTER_LOCK, usual_exercise(kind))
