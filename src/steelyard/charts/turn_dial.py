"""A turn of an adjuster as a dial: how far and which way, seen from the adjuster's side."""

import math

from steelyard.charts.chart import Chart, Table
from steelyard.charts.svg import disc, group, joined, line, path, picture, text
from steelyard.words import say

SIZE, RING, ARC = 220.0, 88.0, 68.0
MIDDLE = SIZE / 2
STEP_DEGREES = 3.0
TICK = 8.0
HEAD, HALF_HEAD = 22.0, 13.0  # length and half width of the arrow's head
WHOLE = 360.0


def turn_dial(turns: float, said: str) -> Chart:
    """An arc with an arrow from the mark at the top; clockwise is in.

    turns: signed, "in" positive, not zero. said: the size in fractions of a turn, such as `5/8`.
    Raises ValueError for no turn.
    """
    if not turns or not math.isfinite(turns):
        raise ValueError(f"no turn to draw: {turns!r}")
    way = "in" if turns > 0 else "out"
    degrees = abs(turns) * WHOLE
    summary = say(f"chart-turn-{way}", turns=said, degrees=round(degrees))
    drawn = [
        disc(MIDDLE, MIDDLE, RING, css="ch-ring"),
        *(_tick(i * WHOLE / 8, long=i % 2 == 0) for i in range(8)),
        line(MIDDLE, MIDDLE - RING - 12, MIDDLE, MIDDLE - RING + TICK, css="ch-edge"),
        _arc(degrees, 1 if turns > 0 else -1),
        text(say(f"chart-way-{way}"), MIDDLE, MIDDLE - 2, anchor="middle", css="ch-strong"),
        text(said, MIDDLE, MIDDLE + 17, anchor="middle", css="ch-text"),
    ]
    svg = picture(*drawn, size=(SIZE, SIZE), title=say("chart-turn-title"), summary=summary)
    head = (say("chart-head-way"), say("chart-head-turns"), say("chart-head-degrees"))
    row = (say(f"chart-way-{way}"), said, f"{round(degrees)}")
    return Chart(svg, summary, Table(head, (row,)))


def _at(degrees: float, radius: float) -> tuple[float, float]:
    """A place on the dial; 0 at the top, clockwise."""
    angle = math.radians(degrees)
    return MIDDLE + radius * math.sin(angle), MIDDLE - radius * math.cos(angle)


def _tick(degrees: float, *, long: bool) -> str:
    (x1, y1), (x2, y2) = _at(degrees, RING - (TICK if long else TICK / 2)), _at(degrees, RING)
    return line(x1, y1, x2, y2, css="ch-axis")


def _arc(degrees: float, sense: int) -> str:
    """The way the adjuster goes; beyond a whole turn the ring is closed and the arrow goes on inside it."""
    rest = degrees % WHOLE or WHOLE
    whole = path(joined(_round(WHOLE, sense, RING - 10)), css="ch-curve") if degrees > WHOLE else ""
    short = max(rest - math.degrees(HEAD / ARC), 0.0)
    tip, foot = _at(sense * (short + math.degrees(HEAD / ARC)), ARC), short * sense
    head = [tip, _at(foot, ARC + HALF_HEAD), _at(foot, ARC - HALF_HEAD)]
    shaft = path(joined(_round(short, sense, ARC)), css="ch-cross") if short else ""
    return group(whole + shaft + path(joined(head, closed=True), css="ch-full"), css="ch-accent")


def _round(degrees: float, sense: int, radius: float) -> list[tuple[float, float]]:
    steps = max(2, math.ceil(degrees / STEP_DEGREES))
    return [_at(sense * degrees * i / steps, radius) for i in range(steps + 1)]
