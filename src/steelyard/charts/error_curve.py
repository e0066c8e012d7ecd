"""The error curve of a tool: its last record, joined by straight lines between the checked torques."""

from collections.abc import Sequence

from steelyard.charts.chart import Chart
from steelyard.charts.legend import Symbol, legend
from steelyard.charts.panel import (
    EDGE,
    LINE_HEIGHT,
    Panel,
    axes,
    band_symbol,
    heading,
    limit_band,
    make_panel,
)
from steelyard.charts.points import DIRECTIONS, Point, Series, points_table, series_sentence
from steelyard.charts.shapes import reach_bar
from steelyard.charts.svg import box, disc, group, joined, line, path, picture, text
from steelyard.charts.wording import FONT, plain
from steelyard.words import say

RADIUS = 5.0


def error_curve(
    series: Sequence[Series], *, unit: str, measure: str, decimal_mark: str = ".", width: float = 360
) -> Chart:
    """Deviation along the range of a tool, one panel per direction; nothing beyond the outermost points.

    series: one per direction, the state the tool was left in. unit, measure, width: as in `deviation_chart`.
    Raises ValueError without a series, or with two of one direction.
    """
    if not series or len({one.direction for one in series}) < len(series):
        raise ValueError("one series per direction, at least one")
    summary = " ".join(
        [
            say("chart-curve-summary", measure=measure),
            *(series_sentence(one, unit=unit, mark=decimal_mark) for one in series),
        ]
    )
    every = [p for one in series for p in one.points]
    title = say("chart-deviation-axis", measure=measure)
    head, y = heading(title, width=width, top=4, css="ch-text")
    drawn = [head]
    for one in sorted(series, key=lambda s: DIRECTIONS.index(s.direction)):
        over, y = heading(_known(one, unit, decimal_mark), width=width, top=y, css="ch-strong")
        panel = make_panel(every, width=width, top=y + 6, mark=decimal_mark)
        drawn += [over, _panel(panel, one.points)]
        y = panel.bottom + LINE_HEIGHT + 6
    drawn.append(
        text(say("chart-torque-axis", unit=unit), width - EDGE, y + FONT, anchor="end", css="ch-quiet")
    )
    key, y = legend(_entries(every), left=EDGE, right=width - EDGE, top=y + LINE_HEIGHT + 4)
    svg = picture(*drawn, key, size=(width, y + 4), title=title, summary=summary)
    return Chart(svg, summary, points_table(series, unit=unit, measure=measure, mark=decimal_mark))


def _known(one: Series, unit: str, mark: str) -> str:
    lowest, highest = plain(one.points[0].target, mark), plain(one.points[-1].target, mark)
    code = "chart-curve-only-at" if lowest == highest else "chart-curve-known"
    return say(
        code, direction=say(f"chart-direction-{one.direction}"), lowest=lowest, highest=highest, unit=unit
    )


def _panel(panel: Panel, points: Sequence[Point]) -> str:
    lows = [panel.place(p.target, p.low_percent) for p in points]
    highs = [panel.place(p.target, p.high_percent) for p in points]
    middle = [panel.place(p.target, p.deviation_percent) for p in points]
    drawn = [limit_band(panel, points), axes(panel, [p.target for p in points])]
    if len(points) > 1:
        drawn.append(path(joined([*lows, *reversed(highs)], closed=True), css="ch-reach"))
        drawn.append(path(joined(middle), css="ch-curve"))
    for (x, low), (_, high) in zip(lows, highs, strict=True):
        drawn.append(reach_bar(x, low, high, css="ch-accent", half=4))
    drawn += [group(disc(x, y, RADIUS, css="ch-full"), css="ch-accent") for x, y in middle]
    return group(*drawn)


def _entries(points: Sequence[Point]) -> list[tuple[Symbol, str]]:
    entries: list[tuple[Symbol, str]] = [(_dot, say("chart-key-checked")), (_reach, say("chart-key-between"))]
    if any(p.limit_percent is not None for p in points):
        entries.append((band_symbol, say("chart-key-limits")))
    return entries


def _dot(x: float, y: float) -> str:
    return group(disc(x, y, RADIUS, css="ch-full"), css="ch-accent")


def _reach(x: float, y: float) -> str:
    return box(x - 8, y - 6, 16, 12, css="ch-reach") + line(x - 8, y, x + 8, y, css="ch-curve")
