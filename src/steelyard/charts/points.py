"""What the charts of deviation show: points, each with its ±, its limit and its verdict."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from steelyard.charts.chart import Table
from steelyard.charts.shapes import STAGES, verdict_word
from steelyard.charts.wording import plain, signed, unsigned
from steelyard.words import say

DIRECTIONS = ("cw", "ccw")


@dataclass(frozen=True, slots=True)
class Point:
    """One checked torque.

    target: in the unit of the chart, > 0. deviation, low, high: as counted, and the ends of its interval. [%]
    limit: to either side, as counted, > 0; None where no limit applies. [%]
    verdict: in, out, cant-tell or no-limit.
    Raises ValueError for a number that is not finite, or an unknown verdict.
    """

    target: float
    deviation_percent: float
    low_percent: float
    high_percent: float
    verdict: str
    limit_percent: float | None = None

    def __post_init__(self) -> None:
        numbers = (self.target, self.deviation_percent, self.low_percent, self.high_percent)
        if not all(map(math.isfinite, (*numbers, self.limit_percent or 0))):
            raise ValueError(f"not finite: {self!r}")
        verdict_word(self.verdict)

    @property
    def within_percent(self) -> float:
        """Half the interval. [%]"""
        return (self.high_percent - self.low_percent) / 2


@dataclass(frozen=True, slots=True)
class Series:
    """The points of one stage in one direction, in rising torque.

    stage: as-found or as-left. direction: cw or ccw.
    """

    stage: str
    direction: str
    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        if self.stage not in STAGES:
            raise ValueError(f"no stage is called {self.stage!r}")
        if self.direction not in DIRECTIONS:
            raise ValueError(f"no direction is called {self.direction!r}")
        if not self.points:
            raise ValueError("a series without points")
        object.__setattr__(self, "points", tuple(sorted(self.points, key=lambda p: p.target)))


Cell = tuple[float, float, float | None]
"""From, to, and the limit that holds there; None where there is none."""


def limit_cells(points: Iterable[Point], *, low: float, high: float) -> Iterator[Cell]:
    """The limit along the axis: each point's reaches half-way to its neighbours; equal ones are joined.

    low, high: ends of the axis, in the unit of the chart.
    """
    by_target = {p.target: p.limit_percent for p in sorted(points, key=lambda p: p.target)}
    ends = [low, *((a + b) / 2 for a, b in pairwise(by_target)), high]
    begun: Cell | None = None
    for (start, stop), limit in zip(pairwise(ends), by_target.values(), strict=True):
        if begun and begun[2] == limit:
            begun = (begun[0], stop, limit)
            continue
        if begun:
            yield begun
        begun = (start, stop, limit)
    if begun:
        yield begun


def limit_text(limit: float | None, mark: str) -> str:
    """A limit as read."""
    return say("chart-limit-none") if limit is None else say("chart-plus-minus", size=plain(limit, mark))


def points_table(series: Sequence[Series], *, unit: str, measure: str, mark: str) -> Table:
    """Every point, one to a row."""
    head = (
        say("chart-head-stage"),
        say("chart-head-direction"),
        say("chart-head-torque", unit=unit),
        say("chart-head-deviation", measure=measure),
        say("chart-head-within"),
        say("chart-head-limit"),
        say("chart-head-verdict"),
    )
    rows = tuple(
        (
            say(f"chart-stage-{one.stage}"),
            say(f"chart-direction-{one.direction}"),
            plain(p.target, mark),
            signed(p.deviation_percent, mark),
            unsigned(p.within_percent, mark),
            limit_text(p.limit_percent, mark),
            verdict_word(p.verdict),
        )
        for one in series
        for p in one.points
    )
    return Table(head, rows)


def series_sentence(one: Series, *, unit: str, mark: str) -> str:
    """A series in words: how many points, where, how they were judged, the largest deviation."""
    worst = max(one.points, key=lambda p: abs(p.deviation_percent))
    counts = {v: sum(p.verdict == v for p in one.points) for v in ("in", "out", "cant-tell", "no-limit")}
    targets = {
        "lowest": plain(one.points[0].target, mark),
        "highest": plain(one.points[-1].target, mark),
        "unit": unit,
    }
    return say(
        "chart-series",
        stage=say(f"chart-stage-{one.stage}"),
        direction=say(f"chart-direction-{one.direction}"),
        where=say(
            "chart-one-point" if len(one.points) == 1 else "chart-points", count=len(one.points), **targets
        ),
        judged=", ".join(f"{count} {verdict_word(v)}" for v, count in counts.items() if count),
        worst=signed(worst.deviation_percent, mark),
        within=unsigned(worst.within_percent, mark),
        target=plain(worst.target, mark),
        unit=unit,
    )
