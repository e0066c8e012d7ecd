"""What all our drawings are made of: dimensions with arrows, leaders, ground, level, balance point, load."""

import math

from steelyard.charts.svg import box, coordinate, disc, group, line, path, tag, text

ARROW, HALF = 9.0, 3.2
HATCH, STROKE = 9.0, 7.0

Place = tuple[float, float]


def arrow_head(tip: Place, angle: float) -> str:
    """A full arrow head at `tip`, pointing along `angle`. [rad]"""
    c, s = math.cos(angle), math.sin(angle)
    x, y = tip
    ends = [(x - ARROW * c + side * HALF * s, y - ARROW * s - side * HALF * c) for side in (1, -1)]
    (x1, y1), (x2, y2) = ends
    return path(f"M {x},{y} L {x1},{y1} L {x2},{y2} Z", css="ch-arrow")


def dimension(start: Place, end: Place) -> str:
    """A length between two places: a line with an arrow head at either end."""
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    bar = line(*start, *end, css="ch-dimension")
    return bar + arrow_head(end, angle) + arrow_head(start, angle + math.pi)


def width_dimension(start: Place, end: Place) -> str:
    """A short length, measured from outside: two arrows that point at each other."""
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    c, s, tail = math.cos(angle), math.sin(angle), 20.0
    before = line(start[0] - tail * c, start[1] - tail * s, *start, css="ch-dimension")
    after = line(end[0] + tail * c, end[1] + tail * s, *end, css="ch-dimension")
    return before + after + arrow_head(start, angle) + arrow_head(end, angle + math.pi)


def pull_arrow(start: Place, end: Place) -> str:
    """A direction: one arrow head at the end."""
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    return line(*start, *end, css="ch-dimension") + arrow_head(end, angle)


def ground(x1: float, x2: float, y: float, *, outward: int = 1) -> str:
    """Something that does not move, its hatched side outward. outward: +1 below the line, −1 above."""
    count = int((x2 - x1) / HATCH)
    strokes = " ".join(
        f"M {x1 + HATCH * (i + 0.9)},{y} L {x1 + HATCH * (i + 0.9) - STROKE},{y + outward * STROKE}"
        for i in range(count)
    )
    return path(strokes, css="ch-hatch") + line(x1, y, x2, y, css="ch-edge")


def axis_mark(x: float, y: float) -> str:
    """The drive axis seen along itself: the square in its circle."""
    return disc(x, y, 6.5, css="ch-body") + box(x - 3.5, y - 3.5, 7, 7, css="ch-dark")


def balance_mark(x: float, y: float) -> str:
    """The balance point: a disc of two dark and two light quarters."""
    quarters = path(
        "M 0,0 L 0,-1 C 0.55,-1 1,-0.55 1,0 Z M 0,0 L 0,1 C -0.55,1 -1,0.55 -1,0 Z",
        css="ch-dark",
        at=(x, y),
        size=8,
    )
    return disc(x, y, 8, css="ch-body") + quarters


def grip_mark(x: float, y: float, half: float) -> str:
    """The line on the grip where the hand pulls, with a wedge above that points at it."""
    wedge = path("M 0,0 L -6,-9 L 6,-9 Z", css="ch-dark", at=(x, y - half - 2))
    return line(x, y - half, x, y + half, css="ch-ring") + wedge


def spirit_level(x: float, y: float, *, turned_degrees: float = 0) -> str:
    """A small spirit level that lies with its middle on (x, y); its bubble goes to the higher end."""
    vial = box(x - 11, y - 12, 22, 7, css="ch-detail", round_by=3.5)
    bubble = disc(x - (6 if turned_degrees > 0 else 0), y - 8.5, 2.6, css="ch-dark")
    turned = f"rotate({coordinate(turned_degrees)} {coordinate(x)} {coordinate(y)})"
    return tag("g", box(x - 22, y - 16, 44, 16, css="ch-body", round_by=2), vial, bubble, transform=turned)


def stand(x: float, y: float) -> str:
    """A stand in which the square at (x, y) can turn freely; its foot is 62 lower."""
    return path("M 0,-4 L 30,62 L -30,62 Z", css="ch-body", at=(x, y))


def vice(x: float, y: float) -> str:
    """Jaws that hold the square from below and stand on the bench; (x, y) is the drive axis."""
    jaws = box(x - 24, y + 10, 20, 34, css="ch-body") + box(x + 4, y + 10, 20, 34, css="ch-body")
    return (
        box(x - 5, y - 2, 10, 40, css="ch-body")
        + jaws
        + box(x - 30, y + 44, 60, 18, css="ch-body", round_by=2)
    )


def weight(x: float, y: float) -> str:
    """A marked weight that hangs by its eye from (x, y)."""
    eye = disc(x, y + 6, 5, css="ch-body")
    steps = "M -9,11 L 9,11 L 9,17 L 24,24 L 24,62 L -24,62 L -24,24 L -9,17 Z"
    return (
        eye + path(steps, css="ch-body", at=(x, y)) + text("kg", x, y + 50, anchor="middle", css="ch-strong")
    )


def boot_crossed_out(x: float, y: float) -> str:
    """A boot that must not stand here; (x, y) is its heel on the floor."""
    boot = path("M 0,0 L 0,-34 L 15,-34 L 15,-16 C 24,-14 36,-12 38,-4 L 38,0 Z", css="ch-body", at=(x, y))
    sole = line(x, y - 5, x + 37, y - 5, css="ch-detail")
    cross = path("M -4,-38 L 42,4 M 42,-38 L -4,4", css="ch-cross", at=(x, y))
    return boot + sole + group(cross, css="ch-out")


def leader(start: Place, end: Place) -> str:
    """From a label to what it names, with a dot there."""
    return group(line(*start, *end, css="ch-lead"), disc(*end, 2.2, css="ch-dark"))
