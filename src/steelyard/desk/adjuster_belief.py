"""What the turns of a check say of its adjuster, and which of them cannot be as it was written."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from steelyard.adjustment import SURE_OF_SENSE, Belief, GainPrior, Point, Turned, learn
from steelyard.desk.earlier_turns import usual_gain
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.turn_readings import Row, aim_of, rows_of, turned_of
from steelyard.records import AS_FOUND

REVERSED = 3.0  # standard uncertainties of a change the wrong way, from which the sense is asked about


@dataclass(frozen=True)
class Question:
    """A turn that moved the points the other way than those before it would.

    turn: its place in the log, from 1. way: as it is written, in or out.
    """

    turn: int
    way: str


@dataclass(frozen=True)
class Known:
    """What is known of the adjuster of a check.

    rows: the points with a limit and readings, rising. turned: every turn with what was read after it.
    belief: what they teach together; a turn in question teaches nothing. learned_from: earlier adjustments
    of this kind. question: the first turn that cannot be as it was written; None for none.
    """

    rows: tuple[Row, ...]
    turned: tuple[Turned, ...]
    belief: Belief
    learned_from: int
    question: Question | None


@dataclass(frozen=True)
class Stands:
    """As left, where a point is believed to stand before it is read there.

    percent: torque against what was set; None where nobody can say it. sd_percent: of that.
    is_locked: the lock came after it, and may have moved it.
    """

    percent: float | None
    sd_percent: float
    is_locked: bool


def known_adjuster(ledger: Ledger | None, body: Body) -> Known | None:
    """What is known of an adjuster; None where no point has a limit and readings as found.

    ledger: None where nothing is known of other adjustments.
    """
    said = body["verdicts"].get(AS_FOUND)
    rows = rows_of(body, said["content"]["points"]) if said else []
    if not rows:
        return None
    points = [Point(row.target, aim_of(row)) for row in rows]
    prior, learned_from = usual_gain(ledger, body, points[-1].target_newton_metre)
    turned = turned_of(body, rows)
    odd = _contradicted(points, rows, turned, prior)
    question = None
    if odd is not None:
        question = Question(odd + 1, str(body["turns"][odd]["way"]))
        turned[odd] = replace(turned[odd], turns=None)
    belief = learn(points, [row.first for row in rows], turned, prior=prior)
    return Known(tuple(rows), tuple(turned), belief, learned_from, question)


def stands(body: Body, place: int) -> Stands:
    """Where a point is believed to stand: after the last turn, or before the lock. place: in the plan."""
    is_locked = body.get("locked") is not None
    known = known_adjuster(None, body) if body["turns"] else None
    for i, row in enumerate(known.rows if known is not None else ()):
        if known is not None and row.place == place:
            percent = 100 / row.target
            now, spread = known.belief.deviations_newton_metre[i], known.belief.spreads_newton_metre[i]
            return Stands(percent * now, percent * spread, is_locked)
    return Stands(None, 0.0, is_locked)


def _contradicted(
    points: Sequence[Point], rows: Sequence[Row], turned: Sequence[Turned], prior: GainPrior
) -> int | None:
    """The first turn that moved the points the other way than those before it would, from 0."""
    first = [row.first for row in rows]
    for i, turn in enumerate(turned):
        before = learn(points, first, turned[:i], prior=prior) if i and turn.turns else None
        if before is not None and before.sense_probability >= SURE_OF_SENSE and _goes_back(before, turn):
            return i
    return None


def _goes_back(before: Belief, turn: Turned) -> bool:
    """By the mean of the points that were read before it and after it."""
    expected = (turn.turns or 0.0) * float(before.weights @ before.effects[:, -1])
    changes, u2 = [], 0.0
    for now, then in zip(turn.readings, before.last, strict=True):
        if now is not None and then is not None:
            changes.append(now.deviation_newton_metre - then.deviation_newton_metre)
            u2 += now.u_newton_metre**2 + then.u_newton_metre**2
    change = math.fsum(changes)
    return bool(changes) and change * expected < 0 and abs(change) > REVERSED * math.sqrt(u2)
