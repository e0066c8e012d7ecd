"""Between two turns of the adjuster: how many pulls each point needs before the next one can be advised."""

import math

from steelyard.desk.at_a_glance import points_at_a_glance
from steelyard.desk.ports import Body
from steelyard.desk.turn_readings import reading_of
from steelyard.records import AS_LEFT

PULLS_AFTER_A_TURN = 3
"""Enough to advise the next turn by: our choice, `steelyard simulate adjusting`."""


def is_turning(body: Body) -> bool:
    """The adjuster was turned and is not locked yet."""
    return bool(body["turns"]) and body.get("locked") is None


def wanted_pulls(body: Body, phase: str, planned: int) -> int:
    """How many pulls a point is to get now: between turns fewer than planned."""
    between = phase == AS_LEFT and is_turning(body)
    return min(planned, PULLS_AFTER_A_TURN) if between else planned


def next_unread(body: Body, phase: str) -> int | None:
    """The first point that is not read as far as it is to be now; None where every one is."""
    if phase == AS_LEFT and is_turning(body):
        return next(iter(unread_points(body)), None)
    return next((p.number for p in points_at_a_glance(body, phase) if not p.is_done), None)


def unread_points(body: Body) -> tuple[int, ...]:
    """Between turns: the points not yet read often enough that the next turn can be advised.

    By pulls, or by yes/no answers that have both a click and a no-click.
    """
    since = (float(body["turns"][-1]["number"]), math.inf)
    return tuple(
        point.number
        for point in points_at_a_glance(body, AS_LEFT)
        if (
            reading_of(body, AS_LEFT, point.number, since) is None
            if point.trials
            else point.counted < wanted_pulls(body, AS_LEFT, point.planned)
        )
    )


def is_read_again(body: Body) -> bool:
    """Every point was read often enough since the last turn that the next one can be advised."""
    return is_turning(body) and not unread_points(body)
