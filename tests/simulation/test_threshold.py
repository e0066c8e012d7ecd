"""What a threshold from yes/no trials is worth: short counts always, the full ones for `make long`.

Bounds are the project's own: error after ten trials, share of intervals that hold the truth over all and at
each scatter, trials until sure.
"""

import dataclasses
import math

import numpy as np
import pytest

from steelyard.readings.threshold import grid
from steelyard.simulation import (
    CELL_LEAST,
    MOST_ERROR_PERCENT,
    SCATTERS_PERCENT,
    SURE_WAY,
    THRESHOLD_BOUNDS,
    WAYS,
    DriftCell,
    LimitCell,
    Method,
    ThresholdCell,
    ThresholdCounts,
    ThresholdPlan,
    ThresholdWay,
    simulate_thresholds,
)
from steelyard.simulation.click_tools import click_tool
from steelyard.simulation.threshold_limit import limit_cell
from steelyard.simulation.threshold_ways import found

TWO = ThresholdWay(Method.UP_DOWN, 2.0)
SHORT = ThresholdPlan(tools=50, drift_tools=6, seed=20, ways=(SURE_WAY, TWO))
LITTLE = ThresholdPlan(tools=40, drift_tools=1, seed=20)
FULL = ThresholdPlan(tools=2_000, drift_tools=500, seed=1)


def quiet(_part: int, _whole: int) -> None:
    """No progress."""


@pytest.fixture(scope="module")
def short() -> ThresholdCounts:
    """The short counts."""
    return simulate_thresholds(SHORT, progress=quiet)


def standard_error(share: float, count: int) -> float:
    return math.sqrt(share * (1 - share) / count)


@pytest.mark.parametrize("way", SHORT.ways)
def test_over_all_the_interval_holds_the_truth_as_often_as_it_says(
    short: ThresholdCounts, way: ThresholdWay
) -> None:
    """The bounds of the full count with three standard errors of the short one."""
    cell = short.overall(way)
    low, high = (
        b + sign * 3 * standard_error(b, cell.tools)
        for b, sign in zip(THRESHOLD_BOUNDS, (-1, 1), strict=True)
    )
    assert low <= cell.held_ratio <= high


@pytest.mark.parametrize("way", SHORT.ways)
def test_at_each_scatter_the_interval_holds_the_truth_often_enough(
    short: ThresholdCounts, way: ThresholdWay
) -> None:
    for cell in short.cells[way].values():
        assert cell.held_ratio >= CELL_LEAST - 3 * standard_error(CELL_LEAST, cell.tools)


@pytest.mark.parametrize("way", SHORT.ways)
def test_after_ten_trials_the_error_is_small(short: ThresholdCounts, way: ThresholdWay) -> None:
    """A fifth more for the chance of 200 tools."""
    assert short.overall(way).error_percent <= 1.2 * MOST_ERROR_PERCENT[way.step_percent]


def test_the_error_grows_with_the_scatter(short: ThresholdCounts) -> None:
    errors = [cell.error_percent for cell in short.cells[SURE_WAY].values()]
    assert errors == sorted(errors)


def test_a_bracket_alone_is_surer_of_itself_than_it_may_be() -> None:
    rising = ThresholdWay(Method.RISING, 1.0)
    cell = simulate_thresholds(dataclasses.replace(LITTLE, ways=(rising,)), progress=quiet).overall(rising)
    assert cell.held_ratio < 0.7
    assert 10 < cell.mean_trials < 16


def test_likelihood_gives_nothing_for_most_tools() -> None:
    probit = ThresholdWay(Method.PROBIT, 2.0)
    cell = simulate_thresholds(dataclasses.replace(LITTLE, ways=(probit,)), progress=quiet).overall(probit)
    assert cell.missing_ratio > 0.6
    assert cell.trials == 10 * cell.tools


def test_a_drift_is_called_more_often_than_none(short: ThresholdCounts) -> None:
    def called(is_falling: bool, trials: int) -> float:
        cells = [c for c in short.drifts if bool(c.drift_percent) is is_falling and c.trials == trials]
        return sum(c.drifting_ratio + c.changed_ratio for c in cells) / len(cells)

    assert called(True, 40) > called(True, 20)
    assert called(True, 40) > 0.3
    assert called(False, 40) < 0.2


def test_a_steady_tool_is_seldom_asked_about_an_answer(short: ThresholdCounts) -> None:
    steady = [c.odd_ratio for c in short.drifts if not c.drift_percent]
    assert sum(steady) / len(steady) < 0.1


def test_the_same_seed_gives_the_same_counts() -> None:
    plan = ThresholdPlan(tools=4, drift_tools=1, seed=5, ways=(SURE_WAY,))
    one, other = (simulate_thresholds(plan, progress=quiet) for _ in range(2))
    assert (one.cells, one.drifts) == (other.cells, other.drifts)
    third = simulate_thresholds(dataclasses.replace(plan, seed=6), progress=quiet)
    assert third.cells != one.cells


def test_every_way_meets_the_same_tools() -> None:
    one, other = (click_tool(3, 7, scatter=0.7) for _ in range(2))
    assert one.threshold == other.threshold
    assert np.array_equal(one.by_chance, other.by_chance)
    assert click_tool(3, 8, scatter=0.7).threshold != one.threshold


def test_a_way_does_not_depend_on_the_others() -> None:
    plan = ThresholdPlan(tools=3, drift_tools=1, seed=5, ways=(TWO,))
    alone = simulate_thresholds(plan, progress=quiet)
    both = simulate_thresholds(dataclasses.replace(plan, ways=(SURE_WAY, TWO)), progress=quiet)
    assert both.cells[TWO] == alone.cells[TWO]


def test_progress_ends_at_the_whole() -> None:
    seen: list[tuple[int, int]] = []
    plan = ThresholdPlan(tools=2, drift_tools=1, seed=5, ways=(TWO,))
    simulate_thresholds(plan, progress=lambda part, whole: seen.append((part, whole)))
    assert [part for part, _ in seen] == list(range(1, plan.whole + 1))
    assert {whole for _, whole in seen} == {plan.whole}


def test_too_sure_a_prior_of_the_scatter_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The check itself can fail: who believes that tools scatter by 0.3 % loses his coverage at 2 %."""
    monkeypatch.setattr(grid, "SCATTER_PERCENT", 0.3)
    monkeypatch.setattr(grid, "SCATTER_LOG", 0.2)
    several = [found(TWO, click_tool(20, number, scatter=2.0)) for number in range(60)]
    share = sum(one.held for one in several) / len(several)
    assert share < CELL_LEAST - 3 * standard_error(CELL_LEAST, 60)


def counted(*, held: int, squares: float, sure: int, called_in: int = 0) -> ThresholdCounts:
    cell = ThresholdCell(1_000, 1_000, held, squares, 10_000, (sure,) * 1_000, (sure,) * 1_000)
    cells = {SURE_WAY: dict.fromkeys(SCATTERS_PERCENT, cell)}
    drift = DriftCell(-0.05, 0.3, 20, 0.5, 0.1, 0.9, 0.9, 0.0)
    return ThresholdCounts(
        dataclasses.replace(SHORT, ways=(SURE_WAY,)),
        cells,
        (drift,),
        (LimitCell(0.3, 1_000, called_in, 200),),
    )


@pytest.mark.parametrize(
    ("held", "squares", "sure", "bounds"),
    [
        (950, 290.0, 10, []),
        (971, 290.0, 10, [("held", None)]),
        (929, 290.0, 10, [("held", None)]),
        (899, 290.0, 10, [("held", None)]),  # within three standard errors of a cell
        (840, 290.0, 10, [("held", None), *(("held", scatter) for scatter in SCATTERS_PERCENT)]),
        (950, 310.0, 10, [("error", None)]),  # √0.31 = 0.557
        (950, 290.0, 11, [("sure", 1.0)]),
        (950, 290.0, 99, [("sure", 1.0)]),
    ],
)
def test_bounds_are_kept_or_named(
    held: int, squares: float, sure: int, bounds: list[tuple[str, float | None]]
) -> None:
    violations = counted(held=held, squares=squares, sure=sure).violations
    assert [(bound, scatter) for bound, _, scatter in violations] == bounds


def test_tools_on_their_limit_are_called_in_at_most_as_often_as_said() -> None:
    error = standard_error(0.025, 1_000)
    often, too_often = (round(1_000 * (0.025 + share * error)) for share in (2.9, 3.2))
    assert counted(held=950, squares=290.0, sure=10, called_in=often).violations == ()
    (violation,) = counted(held=950, squares=290.0, sure=10, called_in=too_often).violations
    assert violation[0] == "limit"


def test_looking_after_each_answer_passes_fewer_tools_than_their_interval_would() -> None:
    cell = limit_cell(2.0, tools=60, seed=20, step=lambda: None)
    assert cell.called_in < 9
    assert cell.by_interval > 10


@pytest.mark.long
def test_tools_on_their_limit_are_seldom_called_in_in_full() -> None:
    counts = simulate_thresholds(dataclasses.replace(FULL, ways=()), progress=quiet)
    assert counts.violations == ()


@pytest.mark.long
@pytest.mark.parametrize("way", [way for way in WAYS if way.method.is_posterior])
def test_every_way_by_the_posterior_keeps_its_bounds_in_full(way: ThresholdWay) -> None:
    counts = simulate_thresholds(dataclasses.replace(FULL, drift_tools=1, ways=(way,)), progress=quiet)
    assert counts.violations == ()
