"""Past checks along time: a verdict, the deviation that decided it and its ±; one line per tool."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from itertools import pairwise

from steelyard.charts.chart import Chart, Table
from steelyard.charts.legend import Symbol, legend
from steelyard.charts.scale import Scale, spanning, spread
from steelyard.charts.shapes import COLOURS, SIGNS, limit_edge, reach_bar, verdict_shape, verdict_word
from steelyard.charts.svg import box, group, line, picture, text
from steelyard.charts.wording import FONT, apart, plain, room, signed, unsigned, wrapped
from steelyard.words import say

SIDE, NAME, ROW, BETWEEN, FOOT = 6.0, 22.0, 112.0, 10.0, 22.0
RADIUS, RADIUS_LEAST, GAP_RATIO = 6.5, 4.0, 2.6
BESIDE = 12.0  # of the outermost checks to the ends of the line


@dataclass(frozen=True, slots=True)
class PastCheck:
    """One closed check of a tool.

    day: ISO date. verdict: of the whole tool. worst, within: deviation of the deciding point, its ±. [%]
    limit: at that point, None where none applied. [%]
    Raises ValueError for an unknown day or verdict, or a number that is not finite.
    """

    tool: str
    day: str
    verdict: str
    worst_percent: float
    within_percent: float
    limit_percent: float | None = None

    def __post_init__(self) -> None:
        date.fromisoformat(self.day)
        verdict_word(self.verdict)
        if not all(map(math.isfinite, (self.worst_percent, self.within_percent, self.limit_percent or 0))):
            raise ValueError(f"not finite: {self!r}")

    @property
    def ordinal(self) -> int:
        """The day as a number."""
        return date.fromisoformat(self.day).toordinal()


def history_strip(checks: Sequence[PastCheck], *, decimal_mark: str = ".", width: float = 360) -> Chart:
    """A line per tool in the order in which the tools first come, over one axis of time.

    Raises ValueError without a check.
    """
    if not checks:
        raise ValueError("no check to draw")
    tools = list(dict.fromkeys(check.tool for check in checks))
    left = _left(checks, decimal_mark)
    x = _time(checks, left, width - SIDE)
    drawn, y = [], 4.0
    for tool in tools:
        own = sorted((c for c in checks if c.tool == tool), key=lambda c: c.day)
        name = wrapped(tool, width - 2 * SIDE, most=1)[0]
        drawn.append(text(name, SIDE, y + FONT, css="ch-strong"))
        drawn.append(_row(own, x, left, width - SIDE, y + NAME, decimal_mark))
        y += NAME + ROW + BETWEEN
    drawn.append(_days(checks, x, y, left, width))
    sentences = [say("chart-history-summary", count=len(checks))] + [
        _sentence(checks, t, decimal_mark) for t in tools
    ]
    summary = " ".join(sentences)
    key, y = legend(_entries(checks), left=SIDE, right=width - SIDE, top=y + FOOT)
    svg = picture(*drawn, key, size=(width, y + 4), title=say("chart-history-title"), summary=summary)
    return Chart(svg, summary, _table(checks, decimal_mark))


def _entries(checks: Sequence[PastCheck]) -> list[tuple[Symbol, str]]:
    """The key: the verdicts that occur, in words."""
    occurring = [verdict for verdict in SIGNS if any(c.verdict == verdict for c in checks)]
    return [(partial(verdict_shape, verdict, radius=RADIUS), verdict_word(verdict)) for verdict in occurring]


def _scale(own: Sequence[PastCheck], top: float) -> Scale:
    reach = [max(abs(c.worst_percent) + c.within_percent, c.limit_percent or 0) for c in own]
    most = max(reach) or 1.0
    return spanning([-most, most], start=top + ROW, end=top)


def _bound(own: Sequence[PastCheck]) -> float:
    """The value that is written at the side: the last limit, else the largest deviation."""
    limits = [c.limit_percent for c in own if c.limit_percent is not None]
    return limits[-1] if limits else max(abs(c.worst_percent) for c in own) or 1.0


def _left(checks: Sequence[PastCheck], mark: str) -> float:
    tools = {c.tool for c in checks}
    bounds = [_bound(sorted((c for c in checks if c.tool == t), key=lambda c: c.day)) for t in tools]
    return max(room(f"+{plain(float(f'{b:.3g}'), mark)}") for b in bounds) + SIDE + 6


def _time(checks: Sequence[PastCheck], left: float, right: float) -> Scale:
    days = [c.ordinal for c in checks]
    low, high = min(days), max(days)
    if low == high:
        low, high = low - 1, high + 1
    return Scale(low, high, left + BESIDE, right - BESIDE)


def _row(own: Sequence[PastCheck], x: Scale, left: float, right: float, top: float, mark: str) -> str:
    """One tool: zero line, limit, and the checks; those close in time are moved apart to be seen."""
    y = _scale(own, top)
    radius = max(RADIUS_LEAST, min(RADIUS, (x.end - x.start) / (GAP_RATIO * max(1, len(own) - 1))))
    places = spread([x.at(c.ordinal) for c in own], gap=GAP_RATIO * radius, low=x.start, high=x.end)
    drawn = [line(left, y.at(0), right, y.at(0), css="ch-axis"), *_bands(own, places, left, right, y)]
    bound = _bound(own)
    for value in (bound, 0.0, -bound) if y.at(-bound) - y.at(bound) > 2.4 * FONT else (0.0,):
        label = plain(float(f"{abs(value):.3g}"), mark)
        label = f"{'+' if value > 0 else '−' if value < 0 else ''}{label}"
        drawn.append(text(label, left - 6, y.at(value) + FONT * 0.36, anchor="end", css="ch-quiet"))
    bars, shapes = [], []
    for place, c in zip(places, own, strict=True):
        low, high = y.at(c.worst_percent - c.within_percent), y.at(c.worst_percent + c.within_percent)
        bars.append(reach_bar(place, low, high, css=COLOURS[c.verdict], half=radius * 0.6))
        shapes.append(verdict_shape(c.verdict, place, y.at(c.worst_percent), radius=radius))
    return group(*drawn, *bars, *shapes)


def _bands(
    own: Sequence[PastCheck], places: Sequence[float], left: float, right: float, y: Scale
) -> list[str]:
    """The limit of each check, half-way to its neighbours; equal ones are joined."""
    ends = [left, *((a + b) / 2 for a, b in pairwise(places)), right]
    cells: list[tuple[float, float, float | None]] = []
    for (start, stop), check in zip(pairwise(ends), own, strict=True):
        if cells and cells[-1][2] == check.limit_percent:
            cells[-1] = (cells[-1][0], stop, check.limit_percent)
        else:
            cells.append((start, stop, check.limit_percent))
    drawn: list[str] = []
    for start, stop, limit in cells:
        if limit is not None:
            upper, lower = y.at(limit), y.at(-limit)
            drawn.append(box(start, upper, stop - start, lower - upper, css="ch-band"))
            drawn += [limit_edge(start, stop, upper, outward=-1), limit_edge(start, stop, lower, outward=1)]
    return drawn


def _days(checks: Sequence[PastCheck], x: Scale, top: float, left: float, width: float) -> str:
    """The first and the last day in full, the years between where they have room."""
    days = sorted({c.day for c in checks})
    half = room(days[0]) / 2
    if len(days) == 1:
        return text(days[0], x.at(date.fromisoformat(days[0]).toordinal()), top + FONT, anchor="middle")
    years = range(int(days[0][:4]) + 1, int(days[-1][:4]) + 1)
    between = [(x.at(date(year, 1, 1).toordinal()), str(year)) for year in years]
    first, last = (left + half, days[0]), (width - SIDE - half, days[-1])
    kept = apart([first, *(b for b in between if first[0] < b[0] < last[0]), last])
    ticks = [
        line(place, top - BETWEEN + 2, place, top - 2, css="ch-axis")
        for place, label in kept
        if len(label) == 4
    ]
    return "".join(
        ticks + [text(label, place, top + FONT, anchor="middle", css="ch-quiet") for place, label in kept]
    )


def _sentence(checks: Sequence[PastCheck], tool: str, mark: str) -> str:
    own = sorted((c for c in checks if c.tool == tool), key=lambda c: c.day)
    last = own[-1]
    return say(
        "chart-history-tool",
        tool=tool,
        count=len(own),
        day=last.day,
        verdict=verdict_word(last.verdict),
        worst=signed(last.worst_percent, mark),
        within=unsigned(last.within_percent, mark),
    )


def _table(checks: Sequence[PastCheck], mark: str) -> Table:
    head = (
        say("chart-head-tool"),
        say("chart-head-day"),
        say("chart-head-verdict"),
        say("chart-head-decided"),
        say("chart-head-within"),
    )
    rows = tuple(
        (
            c.tool,
            c.day,
            verdict_word(c.verdict),
            signed(c.worst_percent, mark),
            unsigned(c.within_percent, mark),
        )
        for c in sorted(checks, key=lambda c: c.day)
    )
    return Table(head, rows)
