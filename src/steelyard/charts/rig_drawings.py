"""How a rig is set up: which two points to measure between, what must be level, when to zero."""

import math
from collections.abc import Callable

from steelyard.charts.chart import Chart, Table
from steelyard.charts.parts import (
    Place,
    axis_mark,
    boot_crossed_out,
    dimension,
    ground,
    leader,
    pull_arrow,
    spirit_level,
    stand,
    vice,
    weight,
    width_dimension,
)
from steelyard.charts.svg import box, disc, group, joined, line, path, picture, text
from steelyard.words import say

WIDTH = 360.0
DROOP = math.radians(9)  # drawn larger than it should be, to be seen
AXIS: Place = (52.0, 104.0)
ARM, DROP, ARC = 226.0, 36.0, 288.0  # drawn lengths


def rig_drawing(kind: str) -> Chart:
    """The set-up of a kind of rig: hung-weight, drum or transducer. Raises ValueError for another."""
    drawings: dict[str, Callable[[], Chart]] = {
        "hung-weight": _hung_weight,
        "drum": _drum,
        "transducer": _transducer,
    }
    if kind not in drawings:
        raise ValueError(f"no drawing of {kind!r}")
    return drawings[kind]()


def _finished(code: str, height: float, drawn: list[str], rows: list[tuple[str, str]]) -> Chart:
    summary = say(f"drawing-seen-{code}")
    svg = picture(*drawn, size=(WIDTH, height), title=say(f"drawing-title-{code}"), summary=summary)
    return Chart(svg, summary, Table((say("drawing-head-measure"), say("drawing-head-why")), tuple(rows)))


def _along(distance: float, aside: float = 0) -> Place:
    """A place on the drooping arm: so far from the axis, so far below the arm's line."""
    c, s = math.cos(DROOP), math.sin(DROOP)
    return AXIS[0] + distance * c - aside * s, AXIS[1] + distance * s + aside * c


def _bar(start: float, stop: float, upper: float, lower: float, *, css: str) -> str:
    """A bar along the arm, from `upper` to `lower` beside its line; above is minus."""
    corners = [_along(start, upper), _along(stop, upper), _along(stop, lower), _along(start, lower)]
    return path(joined(corners, closed=True), css=css)


def _hung_weight() -> Chart:
    hang = _along(ARM, DROP)
    arm = _bar(0, 190, -7, 7, css="ch-body") + _bar(186, 276, -10, 10, css="ch-body")
    held = vice(*AXIS) + ground(8, 116, AXIS[1] + 62)
    head = disc(*AXIS, 18, css="ch-body") + axis_mark(*AXIS)
    level = spirit_level(*_along(92, -7), turned_degrees=math.degrees(DROOP))
    clamp = _bar(ARM - 5, ARM + 5, 0, DROP + 6, css="ch-body") + _bar(
        ARM - 13, ARM + 13, -14, 14, css="ch-body"
    )
    clamp += _bar(ARM - 1, ARM + 1, -14, 14, css="ch-dark") + disc(*hang, 2.5, css="ch-dark")
    drawn = [held, arm, head, level, weight(*hang), clamp, _hung_lengths(hang), _hung_floor(hang)]
    rows = [
        (say("drawing-arm"), say("drawing-arm-why")),
        (say("drawing-droop"), say("drawing-droop-why")),
        (say("drawing-drop"), say("drawing-drop-why")),
    ]
    return _finished("hung-weight", 336, drawn, rows)


def _hung_lengths(hang: Place) -> str:
    """Arm along the line axis–mark, droop against the horizontal, drop below the line."""
    ends = line(*_along(0, -22), *_along(0, -50), css="ch-lead")
    ends += line(*_along(ARM, -16), *_along(ARM, -50), css="ch-lead")
    arm = dimension(_along(0, -44), _along(ARM, -44)) + text(say("drawing-arm"), 8, 24, css="ch-measure")
    names = text(say("drawing-drive-axis-and-mark"), 8, 43)
    straight = line(*_along(8), *_along(ARC + 6), css="ch-centre")
    level = line(AXIS[0] + 8, AXIS[1], 354, AXIS[1], css="ch-centre")
    x, y = AXIS[0] + ARC, AXIS[1]
    x2, y2 = _along(ARC)
    arc = path(f"M {x},{y} C {x},{y + 15} {x - 1},{y + 30} {x2},{y2}", css="ch-dimension")
    droop = arc + text(say("drawing-droop"), 354, AXIS[1] - 8, anchor="end", css="ch-measure")
    guide = line(*hang, *_along(ARM - 52, DROP), css="ch-lead")
    drop = dimension(_along(ARM - 44), _along(ARM - 44, DROP))
    named = text(
        say("drawing-drop"),
        _along(ARM - 58)[0],
        _along(ARM - 52, DROP)[1] - 3,
        anchor="end",
        css="ch-measure",
    )
    return ends + arm + names + straight + level + droop + guide + drop + named


def _hung_floor(hang: Place) -> str:
    """The crate just under the load, and feet away from it."""
    crate = box(hang[0] - 40, 288, 80, 22, css="ch-body") + line(
        hang[0] - 40, 299, hang[0] + 40, 299, css="ch-detail"
    )
    said = leader((112, 194), _along(92, 7)) + text(say("drawing-level-under-load"), 8, 206)
    said += text(say("drawing-level-best"), 8, 225)
    said += text(say("drawing-keep-clear"), 8, 262, css="ch-strong") + text(
        say("drawing-keep-clear-more"), 8, 281
    )
    return ground(8, 352, 310) + crate + boot_crossed_out(hang[0] - 96, 309) + said


def _drum() -> Chart:
    centre, radius = (132.0, 128.0), 72.0
    x, y = centre
    right = x + radius + 3
    drum = (
        disc(*centre, radius + 3, css="ch-ring")
        + disc(*centre, radius, css="ch-body")
        + disc(*centre, 16, css="ch-detail")
        + axis_mark(*centre)
    )
    cord = line(right, y, right, 262, css="ch-ring")
    lines = line(x - radius, y, x - radius, 232, css="ch-lead") + line(
        x + radius, y, x + radius, 232, css="ch-lead"
    )
    across = dimension((x - radius, 224), (x + radius, 224)) + text(
        say("drawing-drum"), x - radius, 245, css="ch-measure"
    )
    thick = width_dimension((right - 2, 190), (right + 2, 190)) + text(
        say("drawing-cord"), right + 28, 195, css="ch-measure"
    )
    named = leader((x + 52, 40), (x, y)) + text(say("drawing-drive-axis"), x + 56, 38)
    notes = text(say("drawing-axis-horizontal"), x + 56, 57, css="ch-quiet")
    cord_down = leader((right + 24, 150), (right, 150)) + text(say("drawing-cord-straight"), right + 28, 154)
    rows = [
        (say("drawing-drum"), say("drawing-drum-why")),
        (say("drawing-cord"), say("drawing-cord-why")),
    ]
    load = weight(right, 258)
    return _finished("drum", 336, [lines, drum, cord, across, thick, named, notes, cord_down, load], rows)


def _tool_from_side(x: float, y: float, reach: float) -> str:
    """A tool lying level with its square downward at (x, y)."""
    square = box(x - 4, y + 8, 8, 14, css="ch-dark")
    arm = box(x, y - 7, reach - 70, 14, css="ch-body") + box(
        x + reach - 74, y - 9, 74, 18, css="ch-body", round_by=6
    )
    return square + arm + box(x - 18, y - 10, 36, 20, css="ch-body", round_by=4)


def _transducer() -> Chart:
    x, y = 70.0, 92.0
    upright = box(x - 34, y + 20, 68, 40, css="ch-body", round_by=3) + _tool_from_side(x, y, 240)
    upright += line(x, y - 34, x, y + 68, css="ch-centre") + ground(8, 352, y + 60)
    said = text(say("drawing-axis-vertical"), 8, 22, css="ch-strong") + text(
        say("drawing-zero-with-tool"), 8, 42
    )
    away = text(say("drawing-pull-level"), 352, y + 42, anchor="end", css="ch-quiet")
    a, b = 70.0, 272.0
    lying = box(a - 40, b - 40, 80, 80, css="ch-body", round_by=4) + disc(a, b, 26, css="ch-detail")
    tool = box(a, b - 7, 176, 14, css="ch-body") + box(a + 168, b - 10, 76, 20, css="ch-body", round_by=6)
    tool += disc(a, b, 18, css="ch-body") + axis_mark(a, b)
    under = text(say("drawing-axis-horizontal-title"), 8, 200, css="ch-strong") + text(
        say("drawing-zero-before-tool"), 8, 220
    )
    down = pull_arrow((a + 206, b + 14), (a + 206, b + 44)) + ground(8, 130, b + 40)
    added = text(say("drawing-own-weight-acts"), 8, b + 70, css="ch-quiet")
    rows = [
        (say("drawing-axis-vertical"), say("drawing-zero-with-tool")),
        (say("drawing-axis-horizontal-title"), say("drawing-zero-before-tool")),
    ]
    return _finished("transducer", 352, [upright, said, away, lying, tool, under, down, added], rows)


def own_weight_drawing() -> Chart:
    """How the own weight of a tool is taken: resting level on a small scale, its square free to turn."""
    x, y, rest = 52.0, 104.0, 270.0
    tool = box(x, y - 7, 180, 14, css="ch-body") + box(x + 172, y - 10, 108, 20, css="ch-body", round_by=6)
    head = disc(x, y, 18, css="ch-body") + axis_mark(x, y)
    scale = path(f"M {rest - 8},{y + 26} L {rest},{y + 11} L {rest + 8},{y + 26} Z", css="ch-body")
    scale += box(rest - 34, y + 26, 68, 8, css="ch-body", round_by=2) + box(
        rest - 28, y + 34, 56, 28, css="ch-body", round_by=3
    )
    display = box(rest - 20, y + 38, 40, 20, css="ch-detail", round_by=2) + text(
        "kg", rest, y + 52, anchor="middle"
    )
    length = dimension((x, 196), (rest, 196)) + text(
        say("drawing-rest-distance"), x + 6, 214, css="ch-measure"
    )
    ends = line(x, y + 68, x, 201, css="ch-lead") + line(rest, y + 66, rest, 201, css="ch-lead")
    said = text(say("drawing-square-free"), 8, 24) + leader((x, 30), (x, y - 6))
    said += text(say("drawing-tool-level"), 178, y - 15) + spirit_level(150, y - 7)
    drawn = [stand(x, y), ground(8, 352, y + 62), tool, head, scale, display, group(length, ends), said]
    rows = [
        (say("drawing-rest-distance"), say("drawing-rest-distance-why")),
        (say("drawing-rest-reading"), say("drawing-rest-reading-why")),
    ]
    return _finished("own-weight", 226, drawn, rows)
