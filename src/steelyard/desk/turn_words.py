"""Which sentence says a turn: the code, for every door alike."""

from steelyard.adjustment import Advice, Mending
from steelyard.desk.guide import Guide
from steelyard.desk.ports import Body
from steelyard.records import AS_FOUND

OPEN_SENSE = 0.65  # below it nobody knows; from the next on it is as good as sure: our choice
SURE_SENSE = 0.95
ONE = 1.0
HAND_STEPS = (8, 12)  # parts of a turn that a hand knows; finer ones are said in degrees first
NEAR = 1e-6


def turn_code(way: str, size: float) -> str:
    """The code of the sentence for a turn. way: in or out. size: > 0. [turn]"""
    more = "-one" if size == ONE else "-whole" if size > ONE else ""
    is_known = any(abs(size * steps - round(size * steps)) < NEAR for steps in HAND_STEPS)
    return f"adjust-now-{way}{more}{'' if is_known else '-degrees'}"


def is_good(guide: Guide) -> bool:
    """Every point stands inside its aim, as far as it is believed to stand anywhere."""
    return all(abs(point.now_percent) <= point.aim_percent for point in guide.points)


def stay_code(guide: Guide, *, is_turning: bool) -> str:
    """The code of the sentence for an adjuster that is to be left as it is. is_turning: it was turned."""
    if is_turning:
        return "adjust-now-stay" if is_good(guide) else "adjust-now-stay-seen"
    return "adjust-now-nothing" if is_good(guide) else "adjust-now-nothing-seen"


def unguided_code(body: Body) -> str:
    """The code of the sentence where there is no guide: no limit, or only one side heard as found."""
    points = body["verdicts"][AS_FOUND]["content"]["points"]
    has_limit = any(point["limit_percent"] is not None for point in points)
    return "adjust-now-one-side" if has_limit else "adjust-now-no-limit"


def cannot_code(guide: Guide) -> str:
    """The code of the sentence that the adjuster cannot mend it, above any advice; empty where it may.

    Empty too while a turn is in question: then nobody knows what the turns taught.
    """
    if guide.outlook.mending is not Mending.CANNOT or guide.is_locked or guide.question:
        return ""
    return "adjust-now-cannot" if guide.outlook.stretch is None else "adjust-now-stretch"


def sense_code(advice: Advice) -> str:
    """The code of the sentence for how sure the way is."""
    if advice.sense_probability < OPEN_SENSE:
        return "adjust-sense-open"
    return "adjust-sense-likely" if advice.sense_probability < SURE_SENSE else "adjust-sense-sure"
