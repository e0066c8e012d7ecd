"""What every turn of the adjuster did to each point, from the pulls that were read between the turns."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.adjustment import Reading, Turned
from steelyard.desk.cases import answers_of, read_pulls
from steelyard.desk.ports import Body
from steelyard.desk.running import point_form
from steelyard.desk.turns import read_turns, struck_by_turning
from steelyard.errors import InputRefused
from steelyard.readings.threshold import estimate_threshold
from steelyard.records import AS_FOUND, AS_LEFT, pulls_by_point

LEAST_SCATTER = 0.002  # of single pulls, where fewer were read than show any: our choice
COMFORT = 0.7  # of the limit: |d| + U should stay inside, our choice
LEAST_AIM = 0.2  # of the limit
COVERAGE = 2.0  # of the ± of what a turn or the lock did
KEPT_PLACES = 3  # of a percentage in a sealed record
WAYS = {"in": 1, "out": -1}

Moved = tuple[float | None, ...]
"""Change of each point, T against X [%]; None where it was not read before and after."""


@dataclass(frozen=True)
class Row:
    """One point: as found, and after each turn."""

    place: int
    name: str
    target: float
    limit: float
    kit: float
    first: Reading


def rows_of(body: Body, content: Sequence[Mapping[str, Any]]) -> list[Row]:
    """The points with a limit and something read, as found, rising."""
    planned = [(p["target"], p["direction"]) for p in body["setup"]["points"]]
    rows = []
    for said in content:
        if said["limit_percent"] is None:
            continue
        place = planned.index((said["target"], said["direction"]))
        first = reading_of(body, AS_FOUND, place, None)
        if first is not None:
            limit, kit = float(said["limit_percent"]), float(said["counted"]["expanded_kit_percent"])
            name = f"{said['target']} {said['direction']}"
            rows.append(Row(place, name, float(said["target_newton_metre"]), limit, kit, first))
    return sorted(rows, key=lambda row: row.target)


def aim_of(row: Row) -> float:
    """The deviation to stay within while adjusting: comfortable with the kit's U, not finer. [1]"""
    return max(COMFORT * row.limit - row.kit, LEAST_AIM * row.limit) / 100


def turned_of(body: Body, rows: Sequence[Row]) -> list[Turned]:
    """Each turn with what was read after it, before the next one or the lock.

    Where somebody stands by a turn as it was written, against those before it, these teach nothing any more.
    """
    turns = body["turns"]
    if not turns:
        return []
    ends = [*(turn["number"] for turn in turns[1:]), _locked_at(body)]
    known_from = max((i for i, turn in enumerate(turns) if turn.get("stands")), default=0)
    return [
        Turned(
            _signed(turn) if i >= known_from else None,
            tuple(reading_of(body, AS_LEFT, row.place, (turn["number"], end)) for row in rows),
        )
        for i, (turn, end) in enumerate(zip(turns, ends, strict=True))
    ]


def _locked_at(body: Body) -> float:
    locked = body.get("locked")
    return float(locked["number"]) if locked is not None else math.inf


def _signed(turn: Mapping[str, Any]) -> float | None:
    """As the adjuster was turned, "in" positive; None where it was moved some other way."""
    if turn["way"] not in WAYS:
        return None
    try:
        return WAYS[turn["way"]] * read_turns(str(turn["turns"]), field="turns")
    except InputRefused:  # written before turns had to be numbers
        return None


def _standing(body: Body, phase: str, place: int, between: tuple[float, float] | None) -> list[Any]:
    """Pulls that were only struck out because the tool was turned or locked since."""
    moved = (None, *struck_by_turning())
    low, high = between or (0, math.inf)
    rows = pulls_by_point(body, phase)[place]
    return [r for r in rows if r["struck_out"] in moved and low < r["number"] < high]


def reading_of(body: Body, phase: str, place: int, between: tuple[float, float] | None) -> Reading | None:
    """Deviation T − X of a point with its standard uncertainty; None where nothing or one side was read."""
    rows = [{**row, "struck_out": None} for row in _standing(body, phase, place, between)]
    if not rows:
        return None
    form = point_form(body, place, rows)
    point = form.points[0]
    reference, reads = read_pulls(form, point)
    target = point.target.base
    if point.is_threshold:
        found = estimate_threshold(answers_of(form, point, reference, reads))
        if not found.is_two_sided:
            return None
        return Reading(target * found.percent / 100, target * found.u_percent / 100)
    shares = [read.torque_newton_metre / read.shown_newton_metre - 1 for read in reads]
    mean = math.fsum(shares) / len(shares)
    squares = math.fsum((share - mean) ** 2 for share in shares)
    s = math.sqrt(squares / (len(shares) - 1)) if len(shares) > 1 else 0.0
    return Reading(target * mean, target * max(s, LEAST_SCATTER) / math.sqrt(len(shares)))


def readings_of(body: Body, place: int) -> int:
    """As found, how many were read."""
    return len(_standing(body, AS_FOUND, place, None))


def lock_shift(body: Body, rows: Sequence[Row]) -> tuple[Moved, Moved]:
    """By which locking moved each point, T against X, and within which ± (k = 2) that is known. [%]

    Both empty where nothing was locked, or no point was read before and after it.
    """
    locked = body.get("locked")
    if locked is None or not body["turns"]:
        return (), ()
    last, lock = float(body["turns"][-1]["number"]), float(locked["number"])
    moved, within = [], []
    for row in rows:
        before = reading_of(body, AS_LEFT, row.place, (last, lock))
        after = reading_of(body, AS_LEFT, row.place, (lock, math.inf))
        moved.append(_change(row, before, after))
        within.append(_within(row, before, after))
    return (tuple(moved), tuple(within)) if any(change is not None for change in moved) else ((), ())


@dataclass(frozen=True)
class TurnsDone:
    """The turns of a check, as a record shows them. points: their names.

    moved: what each turn did, moved_within: its ± (k = 2). shift: what locking did, within: its ±; empty
    where nothing was locked or read after it.
    """

    points: tuple[str, ...]
    moved: tuple[Moved, ...]
    moved_within: tuple[Moved, ...]
    shift: Moved
    within: Moved

    @property
    def content(self) -> dict[str, Any]:
        """As it is kept: percent with three decimals, null where it was not read."""
        return {
            "points": list(self.points),
            "moved_percent": [_rounded(row) for row in self.moved],
            "moved_within_percent": [_rounded(row) for row in self.moved_within],
            "lock_moved_percent": _rounded(self.shift),
            "lock_moved_within_percent": _rounded(self.within),
        }


def _rounded(row: Moved) -> list[float | None]:
    return [None if change is None else round(change, KEPT_PLACES) for change in row]


def turns_done(body: Body) -> TurnsDone | None:
    """What the turns of a check did; None where nothing was turned or no point can say it."""
    said = body["verdicts"].get(AS_FOUND)
    rows = rows_of(body, said["content"]["points"]) if said and body["turns"] else []
    if not rows:
        return None
    return TurnsDone(
        tuple(row.name for row in rows),
        *moved(rows, turned_of(body, rows)),
        *lock_shift(body, rows),
    )


def moved(rows: Sequence[Row], turned: Sequence[Turned]) -> tuple[tuple[Moved, ...], tuple[Moved, ...]]:
    """What each turn did to each point, against what was read just before it, and its ± (k = 2). [%]"""
    before: Sequence[Reading | None] = [row.first for row in rows]
    changes, within = [], []
    for turn in turned:
        pairs = list(zip(rows, before, turn.readings, strict=True))
        changes.append(tuple(_change(row, then, now) for row, then, now in pairs))
        within.append(tuple(_within(row, then, now) for row, then, now in pairs))
        before = turn.readings
    return tuple(changes), tuple(within)


def _within(row: Row, before: Reading | None, after: Reading | None) -> float | None:
    if before is None or after is None:
        return None
    return 100 * COVERAGE * math.hypot(before.u_newton_metre, after.u_newton_metre) / row.target


def _change(row: Row, before: Reading | None, after: Reading | None) -> float | None:
    if before is None or after is None:
        return None
    return 100 * (after.deviation_newton_metre - before.deviation_newton_metre) / row.target
