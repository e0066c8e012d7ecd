"""How many turns the advice takes: short counts always, the full ones for `make long`.

Bounds are the project's own: turns on the average, tools that are not done, what they truly deliver when
done.
"""

import dataclasses

import numpy as np
import pytest

from steelyard.adjustment import Advice, Belief, Sort, advise, best_shift
from steelyard.simulation import (
    CASES,
    LEAST_TRUE,
    MENDABLE_RATIO,
    MOST_MEAN_TURNS,
    UNKNOWN,
    AdjustingCell,
    AdjustingCounts,
    AdjustingPlan,
    AdjustingWay,
    adjusting_ways,
    simulate_adjustings,
)
from steelyard.simulation.adjusted_tools import TARGETS_NEWTON_METRE, AdjustedTool, made_up_tool
from steelyard.simulation.adjusting_ways import adjusted

SHORT = AdjustingPlan(tools=80, seed=20)
FULL = AdjustingPlan(tools=3_000, seed=1)


def quiet(_part: int, _whole: int) -> None:
    """No progress."""


def stream(*seed: int) -> np.random.Generator:
    return np.random.Generator(np.random.SFC64(np.random.SeedSequence(seed)))


@pytest.fixture(scope="module")
def short() -> AdjustingCounts:
    """The short counts."""
    return simulate_adjustings(SHORT, progress=quiet)


def test_the_advice_takes_few_turns(short: AdjustingCounts) -> None:
    """Three standard errors of the short count allowed: turns scatter by about 1.6."""
    assert short.guided.mean_turns <= MOST_MEAN_TURNS + 3 * 1.6 / SHORT.tools**0.5
    assert short.guided.unfinished_ratio <= 0.01


def test_what_is_called_done_is_good(short: AdjustingCounts) -> None:
    assert short.guided.true_ratio >= LEAST_TRUE - 3 * (0.02 * 0.98 / SHORT.tools) ** 0.5


def test_the_advice_takes_fewer_turns_than_the_older_rules(short: AdjustingCounts) -> None:
    for by_way in short.cells.values():
        turns = [
            by_way[way].mean_turns for way in (AdjustingWay.GUIDED, AdjustingWay.SECANT, AdjustingWay.QUARTER)
        ]
        assert turns == sorted(turns)


def test_a_known_sense_saves_turns(short: AdjustingCounts) -> None:
    unknown, known, _ = (short.cells[case][AdjustingWay.GUIDED].mean_turns for case in CASES)
    assert known < unknown


def test_tools_that_are_kept_can_be_mended() -> None:
    for number in range(50):
        tool = made_up_tool(stream(3, number), positive=0.5, gain_factor=1.0)
        best = best_shift(list(map(float, tool.deviations)), TARGETS_NEWTON_METRE, effects=[1.0] * 3)
        assert best.worst <= MENDABLE_RATIO


def perfect(*deviations: float, gain: float) -> AdjustedTool:
    """A tool that repeats without any scatter."""
    return AdjustedTool(np.array(deviations), gain, 0.0, 0.0, stream(1))


def test_a_tool_that_is_good_is_not_turned() -> None:
    for way in AdjustingWay:
        assert adjusted(perfect(0.05, 0.1, -0.1, gain=4.0), way, positive=0.5).turns == 0


@pytest.mark.parametrize("gain", [4.0, -4.0, 9.0])
def test_every_way_brings_a_tool_that_repeats_well_to_its_limit(gain: float) -> None:
    for way in (AdjustingWay.GUIDED, AdjustingWay.SECANT):
        tool = perfect(-3.0, -3.0, -3.0, gain=gain)
        finish = adjusted(tool, way, positive=0.5)
        assert finish.turns is not None
        assert finish.turns <= 8
        assert finish.worst_ratio == tool.worst_ratio <= 0.0101


def test_a_round_without_a_turn_is_no_turn(short: AdjustingCounts, monkeypatch: pytest.MonkeyPatch) -> None:
    def let_be(belief: Belief) -> Advice:
        return dataclasses.replace(advise(belief), sort=Sort.STAY, turns=0.0)

    monkeypatch.setattr(adjusting_ways, "advise", let_be)
    tool = perfect(0.05, 0.05, 0.05, gain=4.0)
    outside = tool.read() + 0.02 * np.array(TARGETS_NEWTON_METRE)
    reads = iter([outside, tool.read()])
    monkeypatch.setattr(AdjustedTool, "read", lambda _tool: next(reads))
    finish = adjusted(tool, AdjustingWay.GUIDED, positive=0.5)
    assert (finish.turns, finish.rounds) == (0, 1)
    secant = short.cells[UNKNOWN][AdjustingWay.SECANT]
    assert secant.turns == secant.rounds


def test_lost_motion_takes_from_a_reversal_alone() -> None:
    tool = AdjustedTool(np.zeros(3), 1.0, 0.0, 0.5, stream(1))
    tool.turn(1.0)
    there = tool.deviations[0]
    tool.turn(-1.0)
    back = tool.deviations[0] - there
    assert there == pytest.approx(1.0, abs=0.15)
    assert back == pytest.approx(-0.5, abs=0.15)


def test_the_same_seed_gives_the_same_counts() -> None:
    plan = AdjustingPlan(tools=5, seed=5)
    one, other = (simulate_adjustings(plan, progress=quiet) for _ in range(2))
    assert one.cells == other.cells
    assert simulate_adjustings(dataclasses.replace(plan, seed=6), progress=quiet).cells != one.cells


def test_progress_ends_at_the_whole() -> None:
    seen: list[tuple[int, int]] = []
    plan = AdjustingPlan(tools=2, seed=5)
    simulate_adjustings(plan, progress=lambda part, whole: seen.append((part, whole)))
    assert [part for part, _ in seen] == list(range(1, plan.whole + 1))
    assert {whole for _, whole in seen} == {plan.whole}


@pytest.mark.parametrize(
    ("turns", "worst", "violations"),
    [
        ((2, 3), 0.012, ()),
        ((2, 4), 0.012, ("turns",)),
        ((2, 3), 0.013, ("true",)),
        ((1, 1, 1, 1, 1, 16), 0.012, ("turns", "unfinished")),
    ],
)
def test_bounds_are_kept_or_named(turns: tuple[int, ...], worst: float, violations: tuple[str, ...]) -> None:
    cell = AdjustingCell(turns, turns, (worst,))
    counts = AdjustingCounts(SHORT, {UNKNOWN: {AdjustingWay.GUIDED: cell}})
    assert counts.violations == violations


@pytest.mark.long
def test_the_bounds_are_kept_in_full() -> None:
    assert simulate_adjustings(FULL, progress=quiet).violations == ()
