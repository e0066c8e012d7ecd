"""A panel of deviation against torque: axes, limit band, labels. Drawn by the charts that share it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from steelyard.charts.points import Point, limit_cells
from steelyard.charts.scale import Scale, spanning, ticks
from steelyard.charts.shapes import limit_edge
from steelyard.charts.svg import box, line, text
from steelyard.charts.wording import FONT, apart, plain, room, signed, wrapped

MOST_TICKS = 8
EDGE, GAP = 6.0, 6.0  # free at the outer edge; between a label and what it labels
LINE_HEIGHT = 18.0
PLOT_RATIO, PLOT_LEAST = 0.42, 170.0  # height of a panel to the width of the chart, and at least
BESIDE = 22.0  # between the axis and the outermost point


@dataclass(frozen=True, slots=True)
class Panel:
    """Where a panel lies and how its values are placed."""

    x: Scale
    y: Scale
    left: float
    right: float
    top: float
    bottom: float
    decimal_mark: str

    def place(self, target: float, percent: float) -> tuple[float, float]:
        """Where a torque and a deviation are drawn."""
        return self.x.at(target), self.y.at(percent)


def all_percents(points: Sequence[Point]) -> list[float]:
    """Everything that must lie on the axis of deviation: zero, intervals, limits."""
    ends = [p.low_percent for p in points] + [p.high_percent for p in points]
    limits = [sign * p.limit_percent for p in points if p.limit_percent is not None for sign in (-1, 1)]
    return [0.0, *ends, *(p.deviation_percent for p in points), *limits]


def make_panel(points: Sequence[Point], *, width: float, top: float, mark: str) -> Panel:
    """A panel with room for the points of all panels, which share their scales."""
    height = max(PLOT_LEAST, width * PLOT_RATIO)
    y = spanning(all_percents(points), start=top + height, end=top)
    labels = [tick_text(value, ticks(y, most=MOST_TICKS), mark) for value in ticks(y, most=MOST_TICKS)]
    left, right = EDGE + max(map(room, labels)) + GAP, width - EDGE
    targets = [p.target for p in points]
    low, high = min(targets), max(targets)
    if low == high:
        x = Scale(low - 1, high + 1, left + BESIDE, right - BESIDE)
    else:
        x = Scale(low, high, left + BESIDE, right - BESIDE)
    return Panel(x, y, left, right, top, top + height, mark)


def tick_text(value: float, others: Sequence[float], mark: str) -> str:
    """A round deviation with its sign, with as many places as the step between ticks needs."""
    step = min((abs(b - a) for a, b in pairwise(others)), default=1.0)
    places = 0 if step >= 1 else 1 if step >= 0.1 else 2
    return signed(value, mark, places=places)


def axes(panel: Panel, targets: Sequence[float]) -> str:
    """Grid, zero line, deviations at the left, checked torques below: those that have room."""
    drawn: list[str] = []
    values = ticks(panel.y, most=MOST_TICKS)
    for value in values:
        y = panel.y.at(value)
        css = "ch-axis" if abs(value) < 1e-12 else "ch-grid"
        drawn.append(line(panel.left, y, panel.right, y, css=css))
        label = tick_text(value, values, panel.decimal_mark)
        drawn.append(text(label, panel.left - GAP, y + FONT * 0.36, anchor="end", css="ch-quiet"))
    drawn.append(line(panel.left, panel.bottom, panel.right, panel.bottom, css="ch-axis"))
    places = [(panel.x.at(t), plain(t, panel.decimal_mark)) for t in sorted(set(targets))]
    drawn += [line(x, panel.bottom, x, panel.bottom + 4, css="ch-axis") for x, _ in places]
    drawn += [text(t, x, panel.bottom + LINE_HEIGHT, anchor="middle") for x, t in apart(places)]
    return "".join(drawn)


def limit_band(panel: Panel, points: Sequence[Point]) -> str:
    """The band a deviation may lie in, edges hatched on the outer side; nothing where no limit applies."""
    drawn: list[str] = []
    reach = BESIDE * (panel.x.high - panel.x.low) / (panel.x.end - panel.x.start)
    for low, high, limit in limit_cells(points, low=panel.x.low - reach, high=panel.x.high + reach):
        if limit is None:
            continue
        x1, x2 = panel.x.at(low), panel.x.at(high)
        upper, lower = panel.y.at(limit), panel.y.at(-limit)
        drawn.append(box(x1, upper, x2 - x1, lower - upper, css="ch-band"))
        drawn += [limit_edge(x1, x2, upper, outward=-1), limit_edge(x1, x2, lower, outward=1)]
    return "".join(drawn)


def band_symbol(x: float, y: float) -> str:
    """The limit band for the key."""
    band = box(x - 8, y - 4, 16, 8, css="ch-band")
    return band + limit_edge(x - 8, x + 8, y - 4, outward=-1) + limit_edge(x - 8, x + 8, y + 4, outward=1)


def heading(lines: str, *, width: float, top: float, css: str) -> tuple[str, float]:
    """Text over a panel, on as many lines as it needs, and where it ends."""
    rows = wrapped(lines, width - 2 * EDGE, most=3)
    drawn = [text(row, EDGE, top + LINE_HEIGHT * (i + 0.8), css=css) for i, row in enumerate(rows)]
    return "".join(drawn), top + LINE_HEIGHT * len(rows)
