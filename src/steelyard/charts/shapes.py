"""The shapes of state: a verdict has a shape and a sign, a stage has an outline; colour only repeats them."""

from functools import lru_cache

from steelyard.charts.svg import box, coordinate, disc, group, line, path, tag
from steelyard.words import say

SIGNS = {
    "in": "M -0.5,0.05 L -0.14,0.42 L 0.52,-0.4",
    "out": "M -0.42,-0.42 L 0.42,0.42 M 0.42,-0.42 L -0.42,0.42",
    "cant-tell": "M -0.28,-0.24 C -0.28,-0.66 0.32,-0.66 0.32,-0.24 C 0.32,0.04 0,0 0,0.24 M 0,0.56 L 0,0.57",
    "no-limit": "M -0.42,0 L 0.42,0",
}
COLOURS = {"in": "ch-in", "out": "ch-out", "cant-tell": "ch-doubt", "no-limit": "ch-none"}
DIAMOND = "M 0,-1.2 L 1.2,0 L 0,1.2 L -1.2,0 Z"
CROSS = "M -0.75,-0.75 L 0.75,0.75 M 0.75,-0.75 L -0.75,0.75"
SQUARE_RATIO = 0.9  # half side of a square that looks as large as a disc of radius 1
HATCH_STEP, HATCH_LENGTH = 8.0, 5.0
STAGES = ("as-found", "as-left")


def verdict_word(verdict: str) -> str:
    """A verdict in words. Raises ValueError when there is no such verdict."""
    if verdict not in SIGNS:
        raise ValueError(f"no verdict is called {verdict!r}")
    return say(f"chart-said-{verdict}")


def stage_marker(stage: str, verdict: str, x: float, y: float, *, radius: float) -> str:
    """A point of a series: open circle as found, full square as left; inside it the sign of the verdict."""
    half = radius * SQUARE_RATIO
    found = stage == "as-found"
    outline = (
        disc(x, y, radius, css="ch-open")
        if found
        else box(x - half, y - half, 2 * half, 2 * half, css="ch-full")
    )
    sign = path(SIGNS[verdict], css="ch-sign" if found else "ch-sign-on", at=(x, y), size=radius)
    return group(outline, sign, css=COLOURS[verdict])


def verdict_shape(verdict: str, x: float, y: float, *, radius: float) -> str:
    """In: disc with tick. Out: bare cross. Can't tell: diamond with question mark. No limit: ring, dash."""
    at = (x, y)
    if verdict == "out":
        halo = path(CROSS, css="ch-halo", at=at, size=radius)
        return group(halo, path(CROSS, css="ch-cross", at=at, size=radius), css=COLOURS[verdict])
    outline = {
        "in": disc(x, y, radius, css="ch-full"),
        "cant-tell": path(DIAMOND, css="ch-open", at=at, size=radius),
        "no-limit": disc(x, y, radius, css="ch-open"),
    }[verdict]
    sign = path(SIGNS[verdict], css="ch-sign-on" if verdict == "in" else "ch-sign", at=at, size=radius)
    return group(outline, sign, css=COLOURS[verdict])


def reach_bar(x: float, low: float, high: float, *, css: str, half: float) -> str:
    """The ± of a point: a bar from low to high with a foot at either end."""
    begin, end, middle = coordinate(x - half), coordinate(x + half), coordinate(x)
    ends = coordinate(low), coordinate(high)
    feet = " ".join(f"M {begin},{y} L {end},{y}" for y in ends)
    bar = f"M {middle},{ends[0]} L {middle},{ends[1]} {feet}"
    return group(tag("path", css="ch-sign", d=bar), css=css)


def limit_edge(x1: float, x2: float, y: float, *, outward: int) -> str:
    """The edge of a limit band, hatched on the side that is out. outward: −1 above, +1 below."""
    begin, end = coordinate(y), coordinate(y + outward * HATCH_LENGTH)
    strokes = " ".join(f"M {start},{begin} L {stop},{end}" for start, stop in _hatched(x1, x2))
    hatch = tag("path", css="ch-hatch", d=strokes) if strokes else ""
    return hatch + line(x1, y, x2, y, css="ch-edge")


@lru_cache(maxsize=64)
def _hatched(x1: float, x2: float) -> tuple[tuple[str, str], ...]:
    """Where each stroke of a hatched edge begins and ends; a band has two, and charts alike have the same."""
    places = (x1 + HATCH_STEP * (i + 0.5) for i in range(int((x2 - x1) / HATCH_STEP)))
    return tuple((coordinate(x), coordinate(min(x + HATCH_LENGTH, x2))) for x in places)
