"""Where to measure on a tool: drive axis, grip mark, balance point, and the pivot of a head that trips."""

import math
from collections.abc import Callable

from steelyard.charts import tool_shapes as shapes
from steelyard.charts.chart import Chart, Table
from steelyard.charts.parts import arrow_head, balance_mark, dimension, grip_mark, leader
from steelyard.charts.svg import coordinate, disc, line, path, picture, tag, text
from steelyard.charts.tool_shapes import AXIS, BALANCE_X, GRIP_X, MIDDLE, PIVOT_X
from steelyard.words import say

WIDTH, HEIGHT = 360.0, 232.0
RAISED = 48.0  # a driver needs less room above
FIRST, SECOND, LABEL = 156.0, 200.0, 17.0  # heights of the dimensions; of the label under its line

BODIES: dict[str, Callable[[], str]] = {
    "click-adjustable": lambda: shapes.click_wrench(scale=True, cap=False),
    "click-preset": lambda: shapes.click_wrench(scale=False, cap=False),
    "click-no-scale": lambda: shapes.click_wrench(scale=False, cap=True),
    "split-beam": shapes.split_beam,
    "break-over": shapes.break_over,
    "slipper-wrench": shapes.slipper_wrench,
    "dial": shapes.dial_wrench,
    "beam": shapes.beam,
    "electronic": shapes.electronic_wrench,
}
DRIVERS: dict[str, Callable[[], str]] = {
    "slipper-driver": shapes.driver_that_slips,
    "driver-adjustable": shapes.driver_with_collar,
    "driver-preset": shapes.driver,
    "driver-dial": shapes.driver_with_dial,
    "driver-electronic": shapes.driver_with_display,
}
PIVOTED = {"click-adjustable", "click-preset", "click-no-scale", "break-over"}
"""The pivot lies where it can be found from outside: a pin across the neck."""


def tool_drawing(kind: str) -> Chart:
    """The drawing of a kind of tool.

    kind: as in a check form. The table names each measure and what it is for.
    Raises ValueError for a kind without a drawing.
    """
    if kind in DRIVERS:
        return _driver(kind)
    if kind not in BODIES:
        raise ValueError(f"no drawing of {kind!r}")
    grip = say("drawing-handle-pin") if kind == "beam" else say("drawing-grip-mark")
    drawn = [BODIES[kind](), _names(kind, grip), _lengths(kind, grip)]
    rows = [
        (say("drawing-to-grip", grip=grip), say("drawing-to-grip-why")),
        (say("drawing-to-balance"), say("drawing-to-balance-why")),
    ]
    if kind in PIVOTED:
        rows.append((say("drawing-to-pivot"), say("drawing-to-pivot-why")))
    return _finished(kind, drawn, rows)


def _finished(kind: str, drawn: list[str], rows: list[tuple[str, str]], height: float = HEIGHT) -> Chart:
    summary = say(
        "drawing-tool-summary",
        kind=say(f"drawing-kind-{kind}"),
        measures="; ".join(dict.fromkeys(row[0] for row in rows)),
    )
    svg = picture(*drawn, size=(WIDTH, height), title=say("drawing-tool-title"), summary=summary)
    return Chart(svg, summary, Table((say("drawing-head-measure"), say("drawing-head-why")), tuple(rows)))


def _names(kind: str, grip: str) -> str:
    """The places, named above the tool."""
    x, _ = AXIS
    centre = line(x, 30, x, FIRST - 22, css="ch-centre")
    said = text(say("drawing-drive-axis"), 8, 22) + text(
        say("drawing-balance-point"), BALANCE_X, 44, anchor="middle"
    )
    said += text(grip, WIDTH - 8, 22, anchor="end")
    balance = line(BALANCE_X, 50, BALANCE_X, MIDDLE - 8, css="ch-lead") + balance_mark(BALANCE_X, MIDDLE)
    if kind == "beam":
        return centre + said + balance + line(GRIP_X, 30, GRIP_X, MIDDLE - 5, css="ch-lead")
    mark = line(GRIP_X, 30, GRIP_X, MIDDLE - 25, css="ch-lead") + grip_mark(GRIP_X, MIDDLE, 14)
    if kind not in PIVOTED:
        return centre + said + balance + mark
    pivot = disc(PIVOT_X, MIDDLE, 3, css="ch-dark") + leader((PIVOT_X + 16, 128), (PIVOT_X, MIDDLE))
    return centre + said + balance + mark + pivot + text(say("drawing-pivot"), PIVOT_X + 18, 136)


def _lengths(kind: str, grip: str) -> str:
    """The two lengths under the tool, both from the drive axis."""
    x, _ = AXIS
    ends = line(x, MIDDLE + 24, x, SECOND + 5, css="ch-lead")
    ends += line(BALANCE_X, MIDDLE + 12, BALANCE_X, FIRST + 5, css="ch-lead")
    ends += line(GRIP_X, MIDDLE + 16, GRIP_X, SECOND + 5, css="ch-lead")
    first = dimension((x, FIRST), (BALANCE_X, FIRST)) + text(
        say("drawing-to-balance"), x + 6, FIRST + LABEL, css="ch-measure"
    )
    second = dimension((x, SECOND), (GRIP_X, SECOND))
    return (
        ends
        + first
        + second
        + text(say("drawing-to-grip", grip=grip), x + 6, SECOND + LABEL, css="ch-measure")
    )


def _driver(kind: str) -> Chart:
    """A driver has no arm: only its axis counts, and that it is held straight."""
    body = DRIVERS[kind]()
    axis = line(6, MIDDLE, 350, MIDDLE, css="ch-centre") + text(say("drawing-drive-axis"), 8, MIDDLE - 16)
    turn = path("M 322,-30 C 348,-28 348,28 330,29", css="ch-dimension", at=(0, MIDDLE))
    turn += arrow_head((321, MIDDLE + 31), math.pi * 0.95)
    notes = [say("drawing-driver-no-arm"), say("drawing-driver-straight")]
    said = "".join(text(note, 8, FIRST + 4 + 22 * i) for i, note in enumerate(notes))
    rows = [(say("drawing-drive-axis"), note) for note in reversed(notes)]
    raised = tag("g", body, axis, turn, said, transform=f"translate(0 {coordinate(-RAISED)})")
    return _finished(kind, [raised], rows, height=HEIGHT - RAISED - 24)
