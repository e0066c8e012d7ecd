"""The pulls at one torque in their order, against target and limit: wide and low, to be read from afar."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.charts.chart import Chart, Table
from steelyard.charts.scale import Scale, spanning
from steelyard.charts.shapes import CROSS, SIGNS, limit_edge, reach_bar
from steelyard.charts.svg import box, disc, group, line, path, picture, text
from steelyard.charts.wording import FONT, plain, room
from steelyard.words import say

TOP, HEIGHT, FOOT, SIDE = 16.0, 96.0, 34.0, 12.0
BASE, MEAN = 28.0, 58.0  # of the numbers under the dots; room for the mean beside them
NUMBER_STEPS, NUMBER_ROOM = (1, 5, 10, 25, 50, 100), 24.0
RADIUS_LARGEST, RADIUS_SLOT_RATIO, RADIUS_LEAST = 8.0, 0.36, 2.5
NEWEST_RATIO, RING = 1.25, 4.0
UP, DOWN = "M -1.05,0.8 L 1.05,0.8 L 0,-1.1 Z", "M -1.05,-0.8 L 1.05,-0.8 L 0,1.1 Z"
STATES = ("counted", "struck", "never")


@dataclass(frozen=True, slots=True)
class Pull:
    """One pull. torque: true torque or reading, in the unit of the chart.

    state: counted; struck, when struck out; never, when the tool did not signal.
    """

    torque: float
    state: str = "counted"

    def __post_init__(self) -> None:
        if self.state not in STATES or not math.isfinite(self.torque):
            raise ValueError(f"no such pull: {self!r}")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the pulls are held against, all in the unit of the chart.

    target; low, high: where the limit lies, None where none applies; unit: as read.
    planned: how many pulls there shall be; places are kept for those to come.
    """

    target: float
    unit: str
    low: float | None = None
    high: float | None = None
    planned: int = 0

    def side(self, torque: float) -> int:
        """−1 below the limit, +1 above, 0 inside or without one."""
        if self.low is not None and torque < self.low:
            return -1
        return int(self.high is not None and torque > self.high)


@dataclass(frozen=True, slots=True)
class _Strip:
    x: Scale
    y: Scale
    right: float
    radius: float
    slot: float


def pull_dots(
    pulls: Sequence[Pull],
    wanted: Wanted,
    *,
    mean: float | None = None,
    within: float | None = None,
    decimal_mark: str = ".",
    width: float = 360,
) -> Chart:
    """A dot per pull from left to right; higher is more torque.

    mean: of the counted pulls; within: its ±; both in the unit of the chart, drawn at the right where given.
    A struck-out pull far away is drawn at the edge; a counted one always has its true place.
    """
    strip = _strip(pulls, wanted, mean, within, decimal_mark, width)
    newest = len(pulls) - 1
    dots = [_dot(strip, wanted, i, pull, i == newest) for i, pull in enumerate(pulls)]
    waiting = [
        disc(strip.x.at(i), strip.y.at(wanted.target), min(3, strip.radius), css="ch-wait")
        for i in range(len(pulls), wanted.planned)
    ]
    drawn = [
        _limits(strip, wanted, decimal_mark),
        *waiting,
        *dots,
        _numbers(strip, max(len(pulls), wanted.planned)),
    ]
    if mean is not None:
        drawn.append(_mean(strip, mean, within))
    summary = _summary(pulls, wanted, mean, within, decimal_mark)
    svg = picture(
        *drawn,
        size=(width, TOP + HEIGHT + FOOT),
        title=say("chart-pulls-title"),
        summary=summary,
        css="ch-strip",
    )
    return Chart(svg, summary, _table(pulls, wanted, decimal_mark))


def _labels(wanted: Wanted, mark: str) -> list[tuple[float, str]]:
    """Value and label of each line, the target first."""
    lines = [(wanted.target, say("chart-pulls-target", torque=plain(wanted.target, mark)))]
    limits = [
        say("chart-pulls-limit", torque=plain(v, mark, digits=4))
        for v in (wanted.low, wanted.high)
        if v is not None
    ]
    return lines + list(zip([v for v in (wanted.low, wanted.high) if v is not None], limits, strict=True))


def _strip(
    pulls: Sequence[Pull], wanted: Wanted, mean: float | None, within: float | None, mark: str, width: float
) -> _Strip:
    values = [v for v, _ in _labels(wanted, mark)] + [p.torque for p in pulls if p.state == "counted"]
    if mean is not None:
        values += [mean - (within or 0), mean + (within or 0)]
    right = width - max(room(label) for _, label in _labels(wanted, mark)) - SIDE
    count = max(len(pulls), wanted.planned, 1)
    last = right if mean is None else right - MEAN
    slot = (last - SIDE) / count
    radius = max(RADIUS_LEAST, min(RADIUS_LARGEST, slot * RADIUS_SLOT_RATIO))
    x = Scale(0, count, SIDE + slot / 2, last + slot / 2)
    return _Strip(x, spanning(values, start=TOP + HEIGHT, end=TOP), right, radius, slot)


def _limits(strip: _Strip, wanted: Wanted, mark: str) -> str:
    """Target line, limit band, their values at the right: the target always, a limit where it has room."""
    drawn: list[str] = []
    top = TOP - 8 if wanted.high is None else strip.y.at(wanted.high)
    bottom = TOP + HEIGHT + 4 if wanted.low is None else strip.y.at(wanted.low)
    if wanted.low is not None or wanted.high is not None:
        drawn.append(box(SIDE / 2, top, strip.right - SIDE / 2, bottom - top, css="ch-band"))
    for value, outward in ((wanted.high, -1), (wanted.low, 1)):
        if value is not None:
            drawn.append(limit_edge(SIDE / 2, strip.right, strip.y.at(value), outward=outward))
    drawn.append(
        line(SIDE / 2, strip.y.at(wanted.target), strip.right, strip.y.at(wanted.target), css="ch-target")
    )
    taken: list[float] = []
    for value, label in _labels(wanted, mark):
        y = strip.y.at(value)
        if all(abs(y - other) > FONT for other in taken):
            taken.append(y)
            css = "ch-strong" if value == wanted.target else "ch-quiet"
            drawn.append(text(label, strip.right + 6, y + FONT * 0.36, css=css))
    return "".join(drawn)


def _dot(strip: _Strip, wanted: Wanted, i: int, pull: Pull, is_newest: bool) -> str:
    x = strip.x.at(i)
    y = min(max(strip.y.at(pull.torque), TOP), TOP + HEIGHT)
    radius = strip.radius * (NEWEST_RATIO if is_newest else 1)
    ring = disc(x, y, radius + RING, css="ch-ring") if is_newest else ""
    if pull.state != "counted":
        sign = CROSS if pull.state == "struck" else SIGNS["no-limit"]
        dot = disc(x, y, radius, css="ch-open") + path(sign, css="ch-sign", at=(x, y), size=radius * 1.3)
        return ring + group(dot, css="ch-none")
    side = wanted.side(pull.torque)
    if side:
        return ring + group(
            path(UP if side > 0 else DOWN, css="ch-full", at=(x, y), size=radius), css="ch-out"
        )
    return ring + group(disc(x, y, radius, css="ch-full"), css="ch-plain")


def _numbers(strip: _Strip, count: int) -> str:
    """Which pull it is: under each, or under the first and every fifth, tenth … where there are many."""
    step = next((s for s in NUMBER_STEPS if s * strip.slot >= NUMBER_ROOM), NUMBER_STEPS[-1])
    shown = [i for i in range(count) if (i + 1) % step == 0 or i == 0]
    return "".join(
        text(str(i + 1), strip.x.at(i), TOP + HEIGHT + BASE, anchor="middle", css="ch-quiet") for i in shown
    )


def _mean(strip: _Strip, mean: float, within: float | None) -> str:
    x = strip.right - MEAN * 0.42
    y, half = strip.y.at(mean), 7.0
    bar = reach_bar(
        x, strip.y.at(mean - (within or 0)), strip.y.at(mean + (within or 0)), css="ch-accent", half=half
    )
    middle = group(box(x - 9, y - 2.5, 18, 5, css="ch-full"), css="ch-accent")
    return (
        bar
        + middle
        + text(say("chart-pulls-mean"), x, TOP + HEIGHT + BASE, anchor="middle", css="ch-measure")
    )


def _summary(
    pulls: Sequence[Pull], wanted: Wanted, mean: float | None, within: float | None, mark: str
) -> str:
    counted = [p for p in pulls if p.state == "counted"]
    said = [
        say("chart-pulls-summary", count=len(counted), target=plain(wanted.target, mark), unit=wanted.unit)
    ]
    if wanted.low is not None or wanted.high is not None:
        said.append(_limit_sentence(wanted, mark))
        outside = sum(wanted.side(p.torque) != 0 for p in counted)
        said.append(say("chart-pulls-outside", count=outside))
    if len(counted) < len(pulls):
        said.append(say("chart-pulls-not-counted", count=len(pulls) - len(counted)))
    if mean is not None:
        said.append(say("chart-pulls-mean-is", mean=plain(mean, mark), unit=wanted.unit))
    if mean is not None and within is not None:
        said[-1] = say(
            "chart-pulls-mean-within", mean=plain(mean, mark), within=plain(within, mark), unit=wanted.unit
        )
    return " ".join(said)


def _limit_sentence(wanted: Wanted, mark: str) -> str:
    ends = [plain(end, mark) for end in (wanted.low, wanted.high) if end is not None]
    if len(ends) == 2:
        return say("chart-pulls-limits", low=ends[0], high=ends[1], unit=wanted.unit)
    code = "chart-pulls-limit-above" if wanted.low is None else "chart-pulls-limit-below"
    return say(code, torque=ends[0], unit=wanted.unit)


def _table(pulls: Sequence[Pull], wanted: Wanted, mark: str) -> Table:
    head = (say("chart-head-pull"), say("chart-head-torque", unit=wanted.unit), say("chart-head-state"))
    return Table(
        head, tuple((str(i), plain(p.torque, mark), _state(p, wanted)) for i, p in enumerate(pulls, 1))
    )


def _state(pull: Pull, wanted: Wanted) -> str:
    if pull.state != "counted":
        return say(f"chart-pull-{pull.state}")
    if wanted.low is None and wanted.high is None:
        return say("chart-pull-counted")
    return say(("chart-pull-inside", "chart-pull-above", "chart-pull-below")[wanted.side(pull.torque)])
