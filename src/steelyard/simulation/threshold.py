"""What a threshold from yes/no trials is worth: many made-up tools, several ways of finding it, counted."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from steelyard.simulation.click_tools import SCATTERS_PERCENT, click_tool
from steelyard.simulation.coverage import Progress
from steelyard.simulation.tally import FALSELY_IN, STANDARD_ERRORS
from steelyard.simulation.threshold_drift import DRIFT_PERCENT, LENGTHS, Drifted, drifted
from steelyard.simulation.threshold_limit import LimitCell, limit_cell
from steelyard.simulation.threshold_ways import Found, Method, ThresholdWay, found

WAYS = (
    *(ThresholdWay(Method.GUIDED, step) for step in (0.5,)),
    *(ThresholdWay(Method.UP_DOWN, step) for step in (1.0, 2.0, 4.0)),
    *(ThresholdWay(Method.DIXON_MOOD, step) for step in (1.0, 2.0)),
    ThresholdWay(Method.PROBIT, 2.0),
    ThresholdWay(Method.RISING, 1.0),
)
MOST_ERROR_PERCENT = {0.5: 0.55, 1.0: 0.58, 2.0: 0.62, 4.0: 0.85}  # root mean square by step, posterior
THRESHOLD_BOUNDS = (0.93, 0.97)  # of the share of intervals that hold the truth, all scatters together
CELL_LEAST = 0.90  # of that share at each scatter
SURE_WAY, SURE_SCATTER, SURE_TRIALS = ThresholdWay(Method.GUIDED, 0.5), 1.0, 10  # median trials until sure
NEVER = 99  # stands for more trials than were made, so that a median can be taken


@dataclass(frozen=True, slots=True)
class ThresholdPlan:
    """tools: in each cell of way and scatter. drift_tools: at each scatter, drifting, steady, on the limit.

    seed: ≥ 0. ways: which.
    """

    tools: int
    drift_tools: int
    seed: int
    ways: tuple[ThresholdWay, ...] = WAYS

    @property
    def whole(self) -> int:
        """Number of all runs."""
        return len(SCATTERS_PERCENT) * (len(self.ways) * self.tools + 3 * self.drift_tools)


@dataclass(frozen=True, slots=True)
class ThresholdCell:
    """What came of many tools. squares: sum of the squared errors of those that gave an estimate. [%²]

    estimated, held: how many gave an estimate, and an interval with the truth in it. trials: of all.
    sure_after, sd_after: of each tool, trials until u ≤ 0.5 %, and the standard deviation; 99 where never.
    """

    tools: int
    estimated: int
    held: int
    squares: float
    trials: int
    sure_after: tuple[int, ...]
    sd_after: tuple[int, ...]

    @property
    def error_percent(self) -> float:
        """Root mean square error of the threshold. [%]"""
        return math.sqrt(self.squares / self.estimated) if self.estimated else math.nan

    @property
    def held_ratio(self) -> float:
        """Share of the intervals that hold the truth."""
        return self.held / self.estimated if self.estimated else math.nan

    @property
    def held_error(self) -> float:
        """Standard error of that share where the truth is the least that is allowed."""
        return math.sqrt(CELL_LEAST * (1 - CELL_LEAST) / self.estimated) if self.estimated else math.nan

    @property
    def missing_ratio(self) -> float:
        """Share of the tools without an estimate."""
        return 1 - self.estimated / self.tools

    @property
    def mean_trials(self) -> float:
        """Trials of a tool."""
        return self.trials / self.tools

    def sure_trials(self, share: float) -> int | None:
        """Trials until that share of the tools is known to u ≤ 0.5 %; None where more than were made."""
        return _reached(self.sure_after, share)

    def sd_trials(self, share: float) -> int | None:
        """The same for the standard deviation of the posterior."""
        return _reached(self.sd_after, share)


def _reached(after: Sequence[int], share: float) -> int | None:
    trials = sorted(after)[max(math.ceil(share * len(after)) - 1, 0)]
    return None if trials == NEVER else trials


@dataclass(frozen=True, slots=True)
class DriftCell:
    """Shares of the tools. trials: after how many."""

    drift_percent: float
    scatter: float
    trials: int
    drifting_ratio: float
    changed_ratio: float
    held_mean_ratio: float
    held_now_ratio: float
    odd_ratio: float


@dataclass(frozen=True, slots=True)
class ThresholdCounts:
    """What was counted. cells: by way, then by scatter."""

    plan: ThresholdPlan
    cells: dict[ThresholdWay, dict[float, ThresholdCell]]
    drifts: tuple[DriftCell, ...]
    limits: tuple[LimitCell, ...]

    def overall(self, way: ThresholdWay) -> ThresholdCell:
        """All scatters together."""
        return together(tuple(self.cells[way].values()))

    @property
    def violations(self) -> tuple[tuple[str, ThresholdWay, float | None], ...]:
        """Bounds that are not kept: which, the way, and the scatter where it is one alone."""
        return tuple(self._violated())

    def _violated(self) -> Iterator[tuple[str, ThresholdWay, float | None]]:
        for way, by_scatter in self.cells.items():
            if not way.method.is_posterior:
                continue
            whole = self.overall(way)
            if whole.error_percent > MOST_ERROR_PERCENT[way.step_percent]:
                yield "error", way, None
            if not THRESHOLD_BOUNDS[0] <= whole.held_ratio <= THRESHOLD_BOUNDS[1]:
                yield "held", way, None
            for scatter, cell in by_scatter.items():
                if cell.held_ratio < CELL_LEAST - STANDARD_ERRORS * cell.held_error:
                    yield "held", way, scatter
        if SURE_WAY in self.cells:
            after = self.cells[SURE_WAY][SURE_SCATTER].sure_trials(0.5)
            if after is None or after > SURE_TRIALS:
                yield "sure", SURE_WAY, SURE_SCATTER
        if self.is_called_in_too_often:
            yield "limit", SURE_WAY, None

    @property
    def is_called_in_too_often(self) -> bool:
        """Of the tools on their limit, more than chance allows."""
        tools = sum(cell.tools for cell in self.limits)
        error = math.sqrt(FALSELY_IN * (1 - FALSELY_IN) / tools)
        return sum(c.called_in for c in self.limits) / tools > FALSELY_IN + STANDARD_ERRORS * error


def simulate_thresholds(plan: ThresholdPlan, *, progress: Progress) -> ThresholdCounts:
    """Try every made-up tool in every way, then those that drift, and count.

    progress: called with the runs done and all runs, after each. Every tool has random numbers of its own and
    meets every way as the same tool.
    """
    done = 0

    def step() -> None:
        nonlocal done
        done += 1
        progress(done, plan.whole)

    cells = {
        way: {scatter: _cell(way, scatter, plan, step) for scatter in SCATTERS_PERCENT} for way in plan.ways
    }
    drifts = [
        cell
        for drift in (DRIFT_PERCENT, 0.0)
        for scatter in SCATTERS_PERCENT
        for cell in _drift_cells(drift, scatter, plan, step)
    ]
    limits = [
        limit_cell(scatter, tools=plan.drift_tools, seed=plan.seed, step=step) for scatter in SCATTERS_PERCENT
    ]
    return ThresholdCounts(plan, cells, tuple(drifts), tuple(limits))


def _cell(way: ThresholdWay, scatter: float, plan: ThresholdPlan, step: Callable[[], None]) -> ThresholdCell:
    several: list[Found] = []
    for number in range(plan.tools):
        several.append(found(way, click_tool(plan.seed, number, scatter=scatter)))
        step()
    errors = [one.error for one in several if one.error is not None]
    return ThresholdCell(
        tools=len(several),
        estimated=len(errors),
        held=sum(one.held for one in several),
        squares=math.fsum(error**2 for error in errors),
        trials=sum(one.trials for one in several),
        sure_after=tuple(one.sure_after or NEVER for one in several) if way.method.is_posterior else (),
        sd_after=tuple(one.sd_after or NEVER for one in several) if way.method.is_posterior else (),
    )


def together(cells: Sequence[ThresholdCell]) -> ThresholdCell:
    """Several cells as one."""
    return ThresholdCell(
        tools=sum(c.tools for c in cells),
        estimated=sum(c.estimated for c in cells),
        held=sum(c.held for c in cells),
        squares=math.fsum(c.squares for c in cells),
        trials=sum(c.trials for c in cells),
        sure_after=tuple(after for c in cells for after in c.sure_after),
        sd_after=tuple(after for c in cells for after in c.sd_after),
    )


def _drift_cells(
    drift: float, scatter: float, plan: ThresholdPlan, step: Callable[[], None]
) -> Iterator[DriftCell]:
    runs: list[tuple[Drifted, ...]] = []
    for number in range(plan.drift_tools):
        runs.append(drifted(click_tool(plan.seed, number, scatter=scatter, drift=drift)))
        step()
    for place, trials in enumerate(LENGTHS):
        seen = [run[place] for run in runs]
        yield DriftCell(
            drift,
            scatter,
            trials,
            drifting_ratio=_share([one.is_drifting for one in seen]),
            changed_ratio=_share([one.is_changed for one in seen]),
            held_mean_ratio=_share([one.held_mean for one in seen]),
            held_now_ratio=_share([one.held_now for one in seen]),
            odd_ratio=_share([one.is_odd for one in seen]),
        )


def _share(given: Sequence[bool]) -> float:
    return sum(given) / len(given) if given else math.nan
