"""Which sentence says a turn: the code, for every door alike."""

from steelyard.adjustment import Advice

OPEN_SENSE = 0.65  # below it nobody knows; from the next on it is as good as sure: our choice
SURE_SENSE = 0.95
ONE = 1.0


def turn_code(way: str, size: float) -> str:
    """The code of the sentence for a turn. way: in or out. size: > 0. [turn]"""
    more = "-one" if size == ONE else "-whole" if size > ONE else ""
    return f"adjust-now-{way}{more}"


def sense_code(advice: Advice) -> str:
    """The code of the sentence for how sure the way is."""
    if advice.sense_probability < OPEN_SENSE:
        return "adjust-sense-open"
    return "adjust-sense-likely" if advice.sense_probability < SURE_SENSE else "adjust-sense-sure"
