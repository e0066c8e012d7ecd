"""What makes the ±: a bar per source, the largest first."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.charts.chart import Chart, Table
from steelyard.charts.svg import box, picture, text
from steelyard.charts.wording import room, unsigned, wrapped
from steelyard.words import say

SIDE, LINE_HEIGHT, BAR, BELOW = 10.0, 18.0, 14.0, 12.0
WHOLE = 100.0


@dataclass(frozen=True, slots=True)
class Share:
    """One source and its share of the variance. name: in words. percent: 0 to 100. [%]"""

    name: str
    percent: float


def budget_bars(rows: Sequence[Share], *, decimal_mark: str = ".", width: float = 360) -> Chart:
    """A bar per source on a common scale from 0 to 100 %.

    Raises ValueError without a row, or for a share that is not from 0 to 100.
    """
    if not rows or not all(math.isfinite(r.percent) and 0 <= r.percent <= WHOLE + 1e-6 for r in rows):
        raise ValueError(f"shares of a whole are needed, not {rows!r}")
    ordered = sorted(rows, key=lambda row: -row.percent)
    printed = [say("chart-percent", number=share_text(row.percent, decimal_mark)) for row in ordered]
    right = width - SIDE - max(map(room, printed)) - 6
    drawn, y = [], 4.0
    for row, percent in zip(ordered, printed, strict=True):
        lines = wrapped(row.name, width - 2 * SIDE, most=2)
        drawn += [text(one, SIDE, y + LINE_HEIGHT * (i + 0.8)) for i, one in enumerate(lines)]
        y += LINE_HEIGHT * len(lines) + 3
        drawn.append(box(SIDE, y, right - SIDE, BAR, css="ch-rail"))
        drawn.append(box(SIDE, y, (right - SIDE) * min(row.percent, WHOLE) / WHOLE, BAR, css="ch-bar"))
        drawn.append(text(percent, width - SIDE, y + BAR - 2, anchor="end", css="ch-strong"))
        y += BAR + BELOW
    largest = say(
        "chart-budget-largest", name=ordered[0].name, percent=share_text(ordered[0].percent, decimal_mark)
    )
    summary = f"{say('chart-budget-summary', count=len(ordered))} {largest}"
    svg = picture(*drawn, size=(width, y), title=say("chart-budget-title"), summary=summary)
    head = (say("chart-head-source"), say("chart-head-share"))
    table = Table(head, tuple((row.name, share_text(row.percent, decimal_mark)) for row in ordered))
    return Chart(svg, summary, table)


def share_text(percent: float, mark: str) -> str:
    """A share: whole percents, one decimal below ten."""
    return unsigned(percent, mark, places=0 if percent >= 9.95 else 1)
