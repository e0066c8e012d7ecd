"""Guidance at the adjuster: what the turns so far taught, the next one, and whether it can be mended."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from steelyard.adjustment import (
    Advice,
    Belief,
    Outlook,
    Point,
    Sort,
    Turned,
    advise,
    chebyshev_line,
    outlook,
)
from steelyard.desk.adjuster_belief import Question, known_adjuster
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.turn_readings import (
    Moved,
    Row,
    aim_of,
    lock_shift,
    moved,
    readings_of,
)
from steelyard.findings import Finding, Severity
from steelyard.records import AS_FOUND, standing_verdict

FEWEST_READINGS = 3  # of a point, below which "cannot be mended" is never said
EVEN = 0.5
SENSE_KEPT, LOOSEST = 0.95, 0.4  # probability, and relative uncertainty of a gain, from which it is kept


@dataclass(frozen=True)
class GuidedPoint:
    """A point as the guide sees it: [N m]; now: where it is believed to stand against what was set. [%]"""

    name: str
    target_newton_metre: float
    limit_percent: float
    aim_percent: float
    now_percent: float


@dataclass(frozen=True)
class Guide:
    """What to do at the adjuster.

    points: with a limit, in the order of their targets. readings: fewest pulls behind any of them.
    advice: the next turn; None where nothing was read since the last one, and while a turn is in question.
    question: the turn that cannot be as it was written, see `Question`. way: `in`, `out` or `` for none.
    outlook: the best that can be reached; both_percent: the same for a tool with two adjusters, one of which
    adds an amount and one a percentage, None where one point has nothing to tell.
    gain_newton_metre: of a turn at the highest point, with its standard deviation, once a turn taught it.
    learned_from: earlier adjustments of this kind in this shop.
    moved_percent: what each turn did to each point, and its ± (k = 2). shift_percent: what locking did, and
    its ±, where it was read before and after; else empty.
    unread: names of points not read since the last turn.
    lacking: names of points with too few pulls as found for "cannot be mended".
    """

    points: tuple[GuidedPoint, ...]
    readings: int
    advice: Advice | None
    way: str
    outlook: Outlook
    gain_newton_metre: tuple[float, float] | None
    learned_from: int
    is_locked: bool
    moved_percent: tuple[Moved, ...]
    moved_within_percent: tuple[Moved, ...]
    shift_percent: Moved
    shift_within_percent: Moved
    unread: tuple[str, ...]
    lacking: tuple[str, ...]
    both_percent: float | None
    question: Question | None
    doubts: tuple[Finding, ...]


def guide(ledger: Ledger | None, body: Body) -> Guide | None:
    """Guidance for a check whose as-found verdict stands; None where no point has a limit and readings.

    ledger: None where nothing is known of other adjustments. body: of the check.
    Nothing is asserted of the sense: it is learned from the turns.
    """
    if standing_verdict(body, AS_FOUND) is None:
        return None
    known = known_adjuster(ledger, body)
    if known is None:
        return None
    rows, turned, belief, question = known.rows, known.turned, known.belief, known.question
    is_read = not turned or any(reading is not None for reading in turned[-1].readings)
    is_free = body.get("locked") is None and question is None
    advice = advise(belief) if is_read and is_free else None
    fewest = min(readings_of(body, row.place) for row in rows)
    done, done_within = moved(rows, turned)
    shift, within = lock_shift(body, rows)
    return Guide(
        points=tuple(_guided(row, d) for row, d in zip(rows, belief.deviations_newton_metre, strict=True)),
        readings=fewest,
        advice=advice,
        way=_way(advice),
        outlook=_outlook(belief, rows, fewest, seed=int(body["first"])),
        gain_newton_metre=belief.gain_newton_metre if turned else None,
        learned_from=known.learned_from,
        is_locked=body.get("locked") is not None,
        moved_percent=done,
        moved_within_percent=done_within,
        shift_percent=shift,
        shift_within_percent=within,
        unread=_unread(rows, turned),
        lacking=tuple(row.name for row in rows if readings_of(body, row.place) < FEWEST_READINGS),
        both_percent=_both(belief, rows),
        question=question,
        doubts=tuple(_doubts(question)),
    )


def learned_gain(ledger: Ledger, body: Body) -> float | None:
    """What a turn "in" does to the torque at the highest point, over that torque. [1 per turn]

    None where no turn taught its sense and size well enough to expect the same of another tool.
    """
    known = known_adjuster(ledger, body) if body["turns"] else None
    if known is None:
        return None
    belief = known.belief
    size, u = belief.gain_newton_metre
    if belief.sense_probability < SENSE_KEPT or u > LOOSEST * size:
        return None
    sense = 1 if belief.rises_probability > EVEN else -1
    return sense * size / known.rows[-1].target


def _guided(row: Row, deviation_newton_metre: float) -> GuidedPoint:
    now = 100 * deviation_newton_metre / row.target
    return GuidedPoint(row.name, row.target, row.limit, 100 * aim_of(row), now)


def _way(advice: Advice | None) -> str:
    if advice is None or advice.sort is Sort.STAY:
        return ""
    return "in" if advice.turns > 0 else "out"


def _outlook(belief: Belief, rows: Sequence[Row], fewest: int, *, seed: int) -> Outlook:
    """Against the limits themselves, the kit's U in it."""
    limits = replace(belief, points=tuple(Point(row.target, row.limit / 100) for row in rows))
    kit = max(row.kit for row in rows) / 200
    return outlook(limits, fewest_readings=fewest, u_kit_ratio=kit, seed=seed)


def _doubts(question: Question | None) -> Iterator[Finding]:
    """A turn whose answers say that it went the other way than was written down."""
    if question is not None:
        yield Finding("turn-reversed", Severity.WARN, {"turn": question.turn, "way": question.way})


def _unread(rows: Sequence[Row], turned: Sequence[Turned]) -> tuple[str, ...]:
    last = turned[-1].readings if turned else (True,) * len(rows)
    return tuple(row.name for row, reading in zip(rows, last, strict=True) if reading is None)


def _both(belief: Belief, rows: Sequence[Row]) -> float | None:
    """Worst deviation that an amount and a percentage together would leave, of the tightest limit. [%]"""
    targets = [row.target for row in rows]
    if len(set(targets)) < 2:
        return None
    limits = [row.limit / 100 * row.target for row in rows]
    return chebyshev_line(targets, belief.deviations_newton_metre, limits=limits).worst * min(
        row.limit for row in rows
    )
