"""How the tests look at a picture: as XML, with the places of all that is drawn."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree

from steelyard.charts import (
    Chart,
    Found,
    PastCheck,
    Point,
    Pull,
    Series,
    Share,
    Trial,
    Wanted,
    deviation_chart,
    error_curve,
    history_strip,
    own_weight_drawing,
    pull_dots,
    rig_drawing,
    tool_drawing,
    trial_levels,
    turn_dial,
)
from steelyard.charts import budget_bars as bars
from steelyard.tools import Kind

SVG = "{http://www.w3.org/2000/svg}"
MEASURE = "ISO deviation (set − true)/true"
VERDICTS = ("in", "out", "cant-tell", "no-limit")


def tree(picture: Chart | str) -> ElementTree.Element:
    """The picture as a tree; raises where it is not well-formed."""
    return ElementTree.fromstring(picture if isinstance(picture, str) else picture.svg)


def with_class(root: ElementTree.Element, css: str) -> list[ElementTree.Element]:
    """All elements of a class."""
    return [e for e in root.iter() if css in e.get("class", "").split()]


def texts(root: ElementTree.Element) -> list[str]:
    """All that is written in the picture."""
    return [e.text or "" for e in root.iter(f"{SVG}text")]


def places(e: ElementTree.Element) -> Iterator[tuple[float, float]]:
    """The corners of one element; for a text where it begins and ends."""
    x, y = float(e.get("x", 0)), float(e.get("y", 0))
    if e.tag == f"{SVG}path":
        yield from ((float(a), float(b)) for a, b in re.findall(r"(-?[\d.]+),(-?[\d.]+)", e.get("d", "")))
    elif e.tag == f"{SVG}circle":
        cx, cy, r = (float(e.get(k, "nan")) for k in ("cx", "cy", "r"))
        yield from ((cx - r, cy - r), (cx + r, cy + r))
    elif e.tag == f"{SVG}rect":
        yield from ((x, y), (x + float(e.get("width", "nan")), y + float(e.get("height", "nan"))))
    elif e.tag == f"{SVG}line":
        yield from ((float(e.get(f"x{i}", "nan")), float(e.get(f"y{i}", "nan"))) for i in "12")
    elif e.tag == f"{SVG}text":
        width = len(e.text or "") * 14 * 0.6
        start = {"start": x, "middle": x - width / 2, "end": x - width}[e.get("text-anchor", "start")]
        yield from ((start, y - 10.5), (start + width, y + 3))


def point(
    target: float, percent: float, within: float = 1, verdict: str = "in", limit: float | None = 4
) -> Point:
    """A point with an even interval."""
    return Point(target, percent, percent - within, percent + within, verdict, limit)


def series(*points: Point, stage: str = "as-found", direction: str = "cw") -> Series:
    """A series, as found and clockwise where nothing else is said."""
    return Series(stage, direction, points)


def many(count: int, **kind: str) -> Series:
    """So many points, all verdicts, limits that differ, some without."""
    limits = (4.0, 6.0, 4.0, None)
    made = [point(5.0 * (i + 1), i * 7 % 9 - 4, 0.8, VERDICTS[i % 4], limits[i % 4]) for i in range(count)]
    return series(*made, **kind)


def deviations(*shown: Series, width: float = 360) -> Chart:
    """The chart of deviation of some series."""
    return deviation_chart(shown, unit="N·m", measure=MEASURE, width=width)


WANTED = Wanted(50, "N·m", 48, 52, planned=5)
FAR = [Pull(900, "struck"), Pull(49.2), Pull(75), Pull(51, "never"), Pull(50.25)]
HISTORY = [
    PastCheck(f"T-0{i % 2 + 1}", f"20{10 + i // 3}-0{1 + i % 9}-11", VERDICTS[i % 4], i % 9 - 4, 0.8, 4)
    for i in range(40)
]

INF = float("inf")
TRIALS = [
    Trial(-INF, 2.5, "M-10 + M-2"),
    Trial(0.2, INF, "M-10 + M-1"),
    Trial(1.1, 1.4, "9.62 kg on S-2"),
    Trial(80, INF, "M-10", is_struck=True),
]
FOUND = Found((0.2, 1.4), (0.1, 1.2, 2.3), (-3.8, 4.2))

EVERY: dict[str, Chart] = {
    "one point": deviations(many(1)),
    "24 points, both stages": deviations(many(24), many(24, stage="as-left")),
    "two directions": deviations(many(5), many(3, direction="ccw")),
    "huge": deviations(series(point(8, -90, 3, "out"), point(40, 2), point(300, 4000, 10, "out"))),
    "wide": deviations(many(12), width=720),
    "curve": error_curve([many(6), many(4, direction="ccw")], unit="N·m", measure=MEASURE),
    "curve of one": error_curve([many(1)], unit="N·m", measure=MEASURE),
    "no pulls": pull_dots([], WANTED),
    "pulls": pull_dots(FAR, WANTED, mean=58.2, within=4),
    "50 pulls": pull_dots([Pull(49 + i * 13 % 17 / 8) for i in range(50)], WANTED, mean=50, within=0.4),
    "pulls without limit": pull_dots([Pull(50)], Wanted(50, "N·m")),
    "trials": trial_levels(TRIALS, FOUND),
    "one trial": trial_levels(TRIALS[:1], Found()),
    "trials struck out": trial_levels(TRIALS[-1:], Found()),
    "40 trials": trial_levels([TRIALS[i % 2] for i in range(40)], FOUND, decimal_mark=","),
    "budget": bars([Share("spread of the pulls", 30), Share("scale " * 20, 66.6), Share("droop", 3.4)]),
    "history": history_strip(HISTORY),
    "history of one": history_strip(HISTORY[:1]),
    "own weight": own_weight_drawing(),
    "turn in": turn_dial(5 / 8, "5/8"),
    "smallest turn out": turn_dial(-1 / 24, "1/24"),
    "one turn out": turn_dial(-1.0, "1"),
    "two turns": turn_dial(1.75, "1 3/4"),
    **{f"rig {kind}": rig_drawing(kind) for kind in ("hung-weight", "drum", "transducer")},
    **{f"tool {kind}": tool_drawing(kind) for kind in Kind},
}
"""One of each, the awkward ones too."""
