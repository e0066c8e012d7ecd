"""Yes/no answers over the level they were given at, in their order: circles click, crosses do not."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from steelyard.charts.chart import Chart, Table
from steelyard.charts.legend import Symbol, legend
from steelyard.charts.scale import Scale, spanning, ticks
from steelyard.charts.shapes import CROSS, HATCH_LENGTH, HATCH_STEP
from steelyard.charts.svg import box, disc, group, line, path, picture, text
from steelyard.charts.wording import FONT, apart, signed
from steelyard.words import say

SIDE, EDGE, TOP, FOOT = 30.0, 10.0, 8.0, 22.0  # beside the levels, room for their labels; of the key
ROW, ROW_LEAST, TALLEST = 18.0, 7.0, 150.0  # of one answer; of all of them
ESTIMATE = 24.0  # room for the bar of the estimate under the answers
RADIUS, RADIUS_LEAST = 6.5, 3.0
MOST_TICKS = 6
ANSWERS = ("click", "no-click", "between")


@dataclass(frozen=True, slots=True)
class Trial:
    """One answer. low, high: between which levels the trip lay, infinite where there is no end. [%]

    said: what it hung, in words. is_struck: it stands struck out.
    """

    low_percent: float
    high_percent: float
    said: str = ""
    is_struck: bool = False

    def __post_init__(self) -> None:
        if not self.low_percent < self.high_percent or not any(map(math.isfinite, self._ends)):
            raise ValueError(f"no such trial: {self!r}")

    @property
    def _ends(self) -> tuple[float, float]:
        return self.low_percent, self.high_percent

    @property
    def answer(self) -> str:
        """`click`, `no-click`, or `between`: loads without and with one."""
        if math.isinf(self.low_percent):
            return "click"
        return "no-click" if math.isinf(self.high_percent) else "between"

    @property
    def level_percent(self) -> float:
        """Where it is drawn. [%]"""
        ends = [end for end in self._ends if math.isfinite(end)]
        return sum(ends) / len(ends)


@dataclass(frozen=True, slots=True)
class Found:
    """What the answers say, all in percent of the setting.

    bracket: highest level without and lowest with a click, where the first is the lower. estimate: lower end,
    middle and upper end. limit: between which levels the tool is inside its limit. None where there is none.
    """

    bracket_percent: tuple[float, float] | None = None
    estimate_percent: tuple[float, float, float] | None = None
    limit_percent: tuple[float, float] | None = None


def trial_levels(
    trials: Sequence[Trial], found: Found, *, decimal_mark: str = ".", width: float = 360
) -> Chart:
    """Each answer at its level, the first at the top; the bracket, the estimate and the limit about them.

    One that is struck out and lies far away is drawn at the edge.
    Raises ValueError without a trial.
    """
    if not trials:
        raise ValueError("no trials to draw")
    row = max(ROW_LEAST, min(ROW, TALLEST / len(trials)))
    bottom = TOP + row * len(trials) + (ESTIMATE if found.estimate_percent else 4)
    x = spanning(_values(trials, found), start=SIDE, end=width - SIDE)
    radius = max(RADIUS_LEAST, min(RADIUS, row * 0.45))
    drawn = [
        _limit(x, found, bottom),
        _bracket(x, found, bottom),
        _axis(x, bottom, decimal_mark),
        *(_mark(trial, x, TOP + row * (i + 0.5), radius) for i, trial in enumerate(trials)),
        _estimate(x, found, bottom - ESTIMATE / 2),
    ]
    key, end = legend(_entries(trials, found), left=EDGE, right=width - EDGE, top=bottom + FOOT + 4)
    summary = _summary(trials, found, decimal_mark)
    svg = picture(
        *drawn, key, size=(width, end + 4), title=say("chart-trials-title"), summary=summary, css="ch-chart"
    )
    return Chart(svg, summary, _table(trials, decimal_mark))


def _values(trials: Sequence[Trial], found: Found) -> list[float]:
    stand = [t for t in trials if not t.is_struck]
    ends = [e for t in stand for e in (t.low_percent, t.high_percent) if math.isfinite(e)]
    return [0.0, *ends, *(found.estimate_percent or ()), *(found.limit_percent or ())]


def _limit(x: Scale, found: Found, bottom: float) -> str:
    """The band a threshold may lie in, edges hatched on the outer side."""
    if found.limit_percent is None:
        return ""
    low, high = map(x.at, found.limit_percent)
    band = box(low, TOP, high - low, bottom - TOP, css="ch-band")
    return band + _edge(low, bottom, outward=-1) + _edge(high, bottom, outward=1)


def _edge(at: float, bottom: float, *, outward: int) -> str:
    count = int((bottom - TOP) / HATCH_STEP)
    places = [TOP + HATCH_STEP * (i + 0.5) for i in range(count)]
    strokes = " ".join(f"M {at},{y} L {at + outward * HATCH_LENGTH},{y + HATCH_LENGTH}" for y in places)
    return (path(strokes, css="ch-hatch") if strokes else "") + line(at, TOP, at, bottom, css="ch-edge")


def _bracket(x: Scale, found: Found, bottom: float) -> str:
    if found.bracket_percent is None:
        return ""
    low, high = map(x.at, found.bracket_percent)
    return box(low, TOP, high - low, bottom - TOP, css="ch-reach")


def _axis(x: Scale, bottom: float, mark: str) -> str:
    values = ticks(x, most=MOST_TICKS)
    zero = line(x.at(0.0), TOP, x.at(0.0), bottom, css="ch-target")
    rail = line(x.start, bottom, x.end, bottom, css="ch-axis")
    stems = [line(x.at(v), bottom, x.at(v), bottom + 4, css="ch-axis") for v in values]
    places = 0 if all(abs(v - round(v)) < 1e-9 for v in values) else 1
    labels = [(x.at(v), say("chart-percent", number=signed(v, mark, places=places))) for v in values]
    said = [text(word, at, bottom + 4 + FONT, anchor="middle", css="ch-quiet") for at, word in apart(labels)]
    return zero + rail + "".join([*stems, *said])


def _mark(trial: Trial, x: Scale, y: float, radius: float) -> str:
    css = "ch-none" if trial.is_struck else "ch-plain"
    at = min(max(x.at(trial.level_percent), x.start + radius), x.end - radius)
    if trial.answer == "between":
        bar = line(x.at(trial.low_percent), y, x.at(trial.high_percent), y, css="ch-sign")
        return group(bar + disc(at, y, radius, css="ch-open" if trial.is_struck else "ch-full"), css=css)
    return _answer(trial.answer, at, y, radius=radius, css=css, is_struck=trial.is_struck)


def _answer(answer: str, x: float, y: float, *, radius: float, css: str, is_struck: bool = False) -> str:
    struck = line(x - 2 * radius, y, x + 2 * radius, y, css="ch-sign") if is_struck else ""
    shape = (
        path(CROSS, css="ch-cross", at=(x, y), size=radius * 0.8)
        if answer == "no-click"
        else disc(x, y, radius * 0.9, css="ch-open" if is_struck else "ch-full")
    )
    return group(shape + struck, css=css)


def _estimate(x: Scale, found: Found, y: float) -> str:
    if found.estimate_percent is None:
        return ""
    low, middle, high = map(x.at, found.estimate_percent)
    steps = f"M {low},{y} L {high},{y} M {low},{y - 6} L {low},{y + 6} M {high},{y - 6} L {high},{y + 6}"
    bar = path(steps, css="ch-sign") + box(middle - 2.5, y - 8, 5, 16, css="ch-full")
    return group(bar, css="ch-accent")


def _entries(trials: Sequence[Trial], found: Found) -> list[tuple[Symbol, str]]:
    """The key: only what occurs."""
    kinds = {trial.answer for trial in trials}
    entries: list[tuple[Symbol, str]] = []
    if kinds & {"click", "between"}:
        entries.append((partial(_sign, "click"), say("chart-trial-click")))
    if "no-click" in kinds:
        entries.append((partial(_sign, "no-click"), say("chart-trial-no-click")))
    if found.bracket_percent is not None:
        entries.append((partial(_patch, "ch-reach"), say("chart-key-bracket")))
    if found.estimate_percent is not None:
        entries.append((_bar, say("chart-key-estimate")))
    if found.limit_percent is not None:
        entries.append((partial(_patch, "ch-band"), say("chart-key-inside")))
    return entries


def _sign(answer: str, x: float, y: float) -> str:
    return _answer(answer, x, y, radius=RADIUS, css="ch-plain")


def _patch(css: str, x: float, y: float) -> str:
    return box(x - 8, y - 6, 16, 12, css=css)


def _bar(x: float, y: float) -> str:
    steps = (
        f"M {x - 8},{y} L {x + 8},{y} M {x - 8},{y - 4} L {x - 8},{y + 4} M {x + 8},{y - 4} L {x + 8},{y + 4}"
    )
    return group(path(steps, css="ch-sign"), css="ch-accent")


def _summary(trials: Sequence[Trial], found: Found, mark: str) -> str:
    stand = [trial for trial in trials if not trial.is_struck]
    no = sum(trial.answer == "no-click" for trial in stand)
    said = [say("chart-trials-summary", count=len(stand), yes=len(stand) - no, no=no)]
    if found.bracket_percent is not None:
        low, high = (signed(end, mark) for end in found.bracket_percent)
        said.append(say("chart-trials-bracket", low=low, high=high))
    if found.estimate_percent is not None:
        low, middle, high = (signed(end, mark) for end in found.estimate_percent)
        said.append(say("chart-trials-estimate", middle=middle, low=low, high=high))
    if found.limit_percent is not None:
        low, high = (signed(end, mark) for end in found.limit_percent)
        said.append(say("chart-trials-limit", low=low, high=high))
    return " ".join(said)


def _table(trials: Sequence[Trial], mark: str) -> Table:
    head = (
        say("chart-head-trial"),
        say("chart-head-hung"),
        say("chart-head-level"),
        say("chart-head-answer"),
    )
    rows = []
    for i, trial in enumerate(trials, 1):
        said = say(f"chart-trial-{trial.answer}")
        if trial.is_struck:
            said = say("chart-trial-struck", said=said)
        rows.append((str(i), trial.said, signed(trial.level_percent, mark), said))
    return Table(head, tuple(rows))
