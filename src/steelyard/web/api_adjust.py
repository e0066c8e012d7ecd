"""The adjuster for a program: what to do now, how sure, what can be reached; and its lock."""

from fastapi import APIRouter
from pydantic import BaseModel

from steelyard.desk import check_view, correct_turn, guide, guide_content, lock_adjuster
from steelyard.errors import NotFound
from steelyard.web.api_check import CheckAnswer, check_answer
from steelyard.web.api_sent import Asked, FindingAnswer, SentKnowing, Text, finding_answer

router = APIRouter(prefix="/api/checks", tags=["bench"])


class LockTyped(SentKnowing):
    """The adjuster is locked. What was read as left before it is struck out: the lock moves the setting."""

    lock_note: Text = ""


class WayTyped(SentKnowing):
    """How a turn was really made. way: in or out; as it was written: it is stood by, and the turns before it
    teach nothing any more.
    """

    way: Text = ""


class AdviceAnswer(BaseModel):
    """The next turn. sort: test (to learn the sense), turn, or stay (good as it is). turns: "in" positive.

    straight: what the last turn alone would say; null before the first. needed_low, needed_high: 95 % of the
    size it takes in all. sense_probability: that the way is right. is_shortened: less than the straight line,
    because it is not sure yet. worst_ratio: expected worst |d|/aim after it.
    """

    sort: str
    turns: float
    straight_turns: float | None
    needed_low_turns: float
    needed_high_turns: float
    sense_probability: float
    is_shortened: bool
    worst_ratio: float


class GuidedAnswer(BaseModel):
    """A point: its limit, the deviation to stay within while adjusting, and where it is believed to stand.

    now: what it delivers against what was set.
    """

    name: str
    target_newton_metre: float
    limit_percent: float
    aim_percent: float
    now_percent: float


class StretchAnswer(BaseModel):
    """A part of the range that one shift brings inside the limit."""

    low_newton_metre: float
    high_newton_metre: float


class OutlookAnswer(BaseModel):
    """Whether the adjuster can mend it. mending: mendable, cannot or not-known.

    probability: that the best lies inside the limits. best: best possible worst |d|/limit, and its 95 %.
    both_percent: the same for a tool with two adjusters, one of which adds a percentage. lacking: points with
    too few pulls as found for `cannot`. stretch: null where none, or where the whole range can be mended.
    """

    mending: str
    probability: float
    best_ratio: float
    best_low_ratio: float
    best_high_ratio: float
    best_percent: float
    both_percent: float | None
    lacking: list[str]
    stretch: StretchAnswer | None


class QuestionAnswer(BaseModel):
    """A turn that moved the points the other way than those before it would.

    turn: its place in the log, from 1. way: as it is written.
    """

    turn: int
    way: str


class GuideAnswer(BaseModel):
    """What to do at the adjuster now.

    advice: null where nothing was read since the last turn, it is locked, or a turn is in question: that is
    put right first. way: in, out or empty.
    unread: points not read since the last turn. readings: fewest pulls as found at any point.
    moved_percent: for each turn what it did to each point, with its ± (k = 2); null where not read before
    and after. shift_percent: what locking did, with its ±; empty before.
    gain_newton_metre: of a turn at the highest point and its standard deviation.
    learned_from: earlier adjustments of this kind here.
    """

    points: list[GuidedAnswer]
    readings: int
    unread: list[str]
    advice: AdviceAnswer | None
    way: str
    outlook: OutlookAnswer
    moved_percent: list[list[float | None]]
    moved_within_percent: list[list[float | None]]
    shift_percent: list[float | None]
    shift_within_percent: list[float | None]
    gain_newton_metre: tuple[float, float] | None
    learned_from: int
    is_locked: bool
    question: QuestionAnswer | None
    doubts: list[FindingAnswer]


@router.get("/{check}/guide")
def get_guide(ask: Asked, check: str) -> GuideAnswer:
    """The next turn, how sure, and whether the adjuster can mend it; 404 before as found is judged."""
    found = guide(ask.workshop.ledger, check_view(ask.workshop.ledger, check).body)
    if found is None:
        raise NotFound(f"{check}/guide")
    content = guide_content(found)
    return GuideAnswer(**{**content, "doubts": [finding_answer(doubt) for doubt in found.doubts]})


@router.post("/{check}/turns/{turn}/way")
def post_way(ask: Asked, check: str, turn: int, body: WayTyped) -> CheckAnswer:
    """Say how a turn was really made; its place in the log, from 1."""
    typed = body.typed()
    correct_turn(ask.acting(typed), check, turn, typed.values, seen=typed.seen)
    return check_answer(check_view(ask.workshop.ledger, check))


@router.post("/{check}/lock")
def post_lock(ask: Asked, check: str, body: LockTyped) -> CheckAnswer:
    """Say that the adjuster is locked; refused before a turn."""
    typed = body.typed()
    lock_adjuster(ask.acting(typed), check, typed.values, seen=typed.seen)
    return check_answer(check_view(ask.workshop.ledger, check))
