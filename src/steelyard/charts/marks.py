"""Small signs of state to stand before a word, one line high; the word says it, the sign only repeats it."""

from steelyard.charts.shapes import COLOURS, DIAMOND, SIGNS
from steelyard.charts.svg import disc, group, path, tag

MIDDLE = (12.0, 12.0)
RADIUS = 9.0
VERDICTS = ("in", "out", "cant-tell", "no-limit")

CLOCK = "M 0,-0.5 L 0,0.05 L 0.38,0.3"
DRAWN: dict[str, tuple[str, str]] = {
    "quarantined": ("ch-out", "M -0.62,-0.62 L 0.62,0.62"),
    "overdue": ("ch-out", "M 0,-0.5 L 0,0.1 M 0,0.48 L 0,0.49"),
    "due-soon": ("ch-doubt", CLOCK),
    "retired": (
        "ch-none",
        "M -0.9,-0.75 L 0.9,-0.75 L 0.9,-0.3 L -0.9,-0.3 Z "
        "M -0.75,-0.3 L -0.75,0.85 L 0.75,0.85 L 0.75,-0.3 M -0.25,0.05 L 0.25,0.05",
    ),
    "running": ("ch-accent", "M -0.35,-0.5 L 0.55,0 L -0.35,0.5 Z"),
    "sealed": (
        "ch-plain",
        "M -0.75,-0.05 L 0.75,-0.05 L 0.75,0.95 L -0.75,0.95 Z "
        "M -0.45,-0.05 L -0.45,-0.45 C -0.45,-1.1 0.45,-1.1 0.45,-0.45 L 0.45,-0.05 M 0,0.3 L 0,0.55",
    ),
    "changed": (
        "ch-accent",
        "M -0.9,0.9 L -0.7,0.25 L 0.45,-0.9 L 0.9,-0.45 L -0.25,0.7 Z M 0.15,-0.6 L 0.6,-0.15",
    ),
}
RINGED = {"quarantined", "overdue", "due-soon", "running"}
MARKS = (*VERDICTS, *DRAWN)


def mark(name: str) -> str:
    """The sign of a state as one element, hidden from readers that speak.

    name: of `MARKS`. Raises ValueError for another.
    """
    if name not in MARKS:
        raise ValueError(f"no mark is called {name!r}")
    inside = _verdict(name) if name in VERDICTS else _state(name)
    return tag(
        "svg",
        inside,
        css="ch-mark",
        xmlns="http://www.w3.org/2000/svg",
        viewBox="0 0 24 24",
        width="1em",
        height="1em",
        aria_hidden="true",
        focusable="false",
    )


def _verdict(name: str) -> str:
    if name == "out":
        return group(path(SIGNS[name], css="ch-cross", at=MIDDLE, size=2 * RADIUS), css=COLOURS[name])
    outline = {
        "in": disc(*MIDDLE, RADIUS + 1, css="ch-full"),
        "cant-tell": path(DIAMOND, css="ch-open", at=MIDDLE, size=RADIUS),
        "no-limit": disc(*MIDDLE, RADIUS, css="ch-open"),
    }[name]
    sign = path(SIGNS[name], css="ch-sign-on" if name == "in" else "ch-sign", at=MIDDLE, size=RADIUS)
    return group(outline, sign, css=COLOURS[name])


def _state(name: str) -> str:
    css, steps = DRAWN[name]
    ring = disc(*MIDDLE, RADIUS, css="ch-open") if name in RINGED else ""
    return group(ring, path(steps, css="ch-sign", at=MIDDLE, size=RADIUS), css=css)
