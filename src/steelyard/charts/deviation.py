"""Deviation against torque, as found and as left, with the limit and the ± of each point."""

from collections.abc import Sequence
from functools import partial

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
from steelyard.charts.points import DIRECTIONS, Point, Series, limit_text, points_table, series_sentence
from steelyard.charts.shapes import (
    COLOURS,
    SIGNS,
    STAGES,
    reach_bar,
    stage_marker,
    verdict_shape,
    verdict_word,
)
from steelyard.charts.svg import box as square
from steelyard.charts.svg import disc, group, picture, text
from steelyard.charts.wording import FONT
from steelyard.words import say

RADIUS_FEW, RADIUS_MANY, FEW = 8.0, 6.0, 8  # of a marker; up to so many points in a panel


def deviation_chart(
    series: Sequence[Series], *, unit: str, measure: str, decimal_mark: str = ".", width: float = 360
) -> Chart:
    """Deviation of each checked torque, one panel per direction.

    series: each stage and direction once. unit: of the torques, as read. measure: a deviation, in words.
    width: of the view box; text is 14 in the same measure.
    Raises ValueError without a series.
    """
    if not series:
        raise ValueError("no series to draw")
    summary = " ".join(
        [
            say("chart-deviation-summary", measure=measure),
            *(series_sentence(one, unit=unit, mark=decimal_mark) for one in series),
        ]
    )
    every = [p for one in series for p in one.points]
    title = say("chart-deviation-axis", measure=measure)
    head, y = heading(title, width=width, top=4, css="ch-text")
    drawn = [head]
    for direction in DIRECTIONS:
        shown = [one for one in series if one.direction == direction]
        if shown:
            over, y = heading(say(f"chart-direction-{direction}"), width=width, top=y, css="ch-strong")
            points = [p for one in shown for p in one.points]
            panel = make_panel(every, width=width, top=y + 6, mark=decimal_mark)
            drawn += [over, _panel(panel, shown, points)]
            y = panel.bottom + LINE_HEIGHT + 6
    drawn.append(
        text(say("chart-torque-axis", unit=unit), width - EDGE, y + FONT, anchor="end", css="ch-quiet")
    )
    key, y = legend(_entries(series, decimal_mark), left=EDGE, right=width - EDGE, top=y + LINE_HEIGHT + 4)
    svg = picture(*drawn, key, size=(width, y + 4), title=title, summary=summary)
    return Chart(svg, summary, points_table(series, unit=unit, measure=measure, mark=decimal_mark))


def _panel(panel: Panel, shown: Sequence[Series], points: Sequence[Point]) -> str:
    """One direction: what was found stands a little left of its torque, what was left a little right."""
    radius = RADIUS_FEW if len(points) <= FEW else RADIUS_MANY
    aside = {"as-found": -0.6 * radius, "as-left": 0.6 * radius} if len({s.stage for s in shown}) > 1 else {}
    bars, markers = [], []
    for one in shown:
        for p in one.points:
            x, y = panel.place(p.target, p.deviation_percent)
            x += aside.get(one.stage, 0)
            low, high = panel.y.at(p.low_percent), panel.y.at(p.high_percent)
            bars.append(reach_bar(x, low, high, css=COLOURS[p.verdict], half=radius * 0.6))
            markers.append(stage_marker(one.stage, p.verdict, x, y, radius=radius))
    return group(limit_band(panel, points), axes(panel, [p.target for p in points]), *bars, *markers)


def _entries(series: Sequence[Series], mark: str) -> list[tuple[Symbol, str]]:
    """The key: only what occurs."""
    points = [p for one in series for p in one.points]
    entries: list[tuple[Symbol, str]] = [
        (partial(_outline, stage), say(f"chart-stage-{stage}"))
        for stage in STAGES
        if any(one.stage == stage for one in series)
    ]
    for verdict in SIGNS:
        if any(p.verdict == verdict for p in points):
            entries.append((partial(_verdict, verdict), verdict_word(verdict)))
    limits = {p.limit_percent for p in points} - {None}
    if len(limits) == 1:
        entries.append((band_symbol, say("chart-key-limit", limit=limit_text(limits.pop(), mark))))
    elif limits:
        entries.append((band_symbol, say("chart-key-limits")))
    entries.append((_bar, say("chart-key-within")))
    return entries


def _outline(stage: str, x: float, y: float) -> str:
    shape = (
        disc(x, y, 7, css="ch-open")
        if stage == "as-found"
        else square(x - 6.5, y - 6.5, 13, 13, css="ch-full")
    )
    return group(shape, css="ch-plain")


def _verdict(verdict: str, x: float, y: float) -> str:
    return verdict_shape(verdict, x, y, radius=7)


def _bar(x: float, y: float) -> str:
    return reach_bar(x, y - 7, y + 7, css="ch-plain", half=4)
