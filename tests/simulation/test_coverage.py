"""The ± holds: short counts for every run, the full ones behind docs/measured.md for `make long`.

Bounds are the project's own: 94–97 % over all, 94–99 % in a cell, at most 2.5 % of the tools on their limit
called in, each cell with three standard errors of its own count.
"""

import dataclasses

import numpy as np
import pytest

from steelyard.quantities import Line
from steelyard.simulation import PARTS, Cell, Coverage, Part, Plan, RigKind, Tally, bench, simulate

SHORT = Plan(cases=1_200, cells_cases=100, draws=2_000, seed=20, pulls=(2, 5, 10))
FULL = Plan(cases=10_000, cells_cases=1_000, draws=4_000, seed=1)


def quiet(_part: int, _whole: int) -> None:
    """No progress."""


@pytest.fixture(scope="module")
def short() -> Coverage:
    """The short counts."""
    return simulate(SHORT, progress=quiet)


def test_over_all_the_interval_holds_the_truth_as_often_as_it_says(short: Coverage) -> None:
    """The bounds of the full count with three standard errors of the short one."""
    overall = short.overall
    assert 0.94 - 3 * overall.held_error <= overall.held_ratio <= 0.97 + 3 * overall.held_error


def test_every_rig_and_dominant_part_keeps_the_bounds_of_a_cell(short: Coverage) -> None:
    """The short cells of several numbers of pulls count together: a hundred cases alone are too few."""
    together = [_together(short, kind, part) for kind in RigKind for part in PARTS[kind]]
    assert [cell for cell in together if not cell.is_within] == []


def _together(short: Coverage, kind: RigKind, part: Part) -> Cell:
    tallies = [cell.tally for cell in short.cells if (cell.kind, cell.part) == (kind, part)]
    return Cell(
        kind,
        part,
        0,
        Tally(sum(t.cases for t in tallies), sum(t.held for t in tallies), sum(t.called_in for t in tallies)),
    )


def test_the_same_seed_gives_the_same_counts() -> None:
    plan = Plan(cases=60, cells_cases=0, draws=1_000, seed=5)
    assert simulate(plan, progress=quiet).by_kind == simulate(plan, progress=quiet).by_kind
    other = dataclasses.replace(plan, seed=6)
    assert simulate(other, progress=quiet).by_kind != simulate(plan, progress=quiet).by_kind


def test_a_cell_does_not_depend_on_the_others() -> None:
    one = Plan(cases=6, cells_cases=20, draws=1_000, seed=5, kinds=(RigKind.BEAM,), pulls=(3,))
    more = dataclasses.replace(one, kinds=(RigKind.STATED, RigKind.BEAM), pulls=(2, 3))
    few, many = simulate(one, progress=quiet), simulate(more, progress=quiet)
    assert set(few.cells) <= set(many.cells)


def test_progress_ends_at_the_whole() -> None:
    seen: list[tuple[int, int]] = []
    plan = Plan(
        cases=20, cells_cases=2, draws=1_000, seed=5, kinds=(RigKind.STATED, RigKind.BEAM), pulls=(3,)
    )
    simulate(plan, progress=lambda part, whole: seen.append((part, whole)))
    assert [part for part, _ in seen] == list(range(1, plan.whole + 1))
    assert {whole for _, whole in seen} == {plan.whole}


@pytest.mark.parametrize(
    ("held", "called_in", "is_low", "is_high", "is_lenient"),
    [
        (950, 25, False, False, False),
        (917, 0, False, False, False),  # 91.7 % + 3 · 0.87 % reaches 94 %
        (910, 0, True, False, False),  # 91.0 % + 3 · 0.90 % does not
        (995, 0, False, False, False),  # 99.5 % − 3 · 0.24 % reaches down to 99 %
        (999, 0, False, True, False),  # 99.9 % − 3 · 0.14 % does not
        (950, 39, False, False, False),  # 2.5 % + 3 · 0.49 % is 3.98 %
        (950, 40, False, False, True),
    ],
)
def test_bounds_allow_three_standard_errors(
    held: int, called_in: int, is_low: bool, is_high: bool, is_lenient: bool
) -> None:
    cell = Cell(RigKind.BEAM, Part.ARM, 5, Tally(1_000, held, called_in))
    assert (cell.is_low, cell.is_high, cell.is_lenient) == (is_low, is_high, is_lenient)
    assert cell.is_within is not (is_low or is_high or is_lenient)


def test_too_narrow_a_kit_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The check itself can fail: a kit that errs twice as much as it says loses its coverage."""
    honest = bench.true_value

    def twice(line: Line, generator: np.random.Generator) -> float:
        return honest(dataclasses.replace(line, width=2 * line.width), generator)

    monkeypatch.setattr(bench, "true_value", twice)
    plan = Plan(cases=6, cells_cases=200, draws=1_000, seed=5, kinds=(RigKind.STATED,), pulls=(5,))
    cells = {cell.part: cell for cell in simulate(plan, progress=quiet).cells}
    assert cells[Part.STATED].is_low
    assert cells[Part.STATED].is_lenient


@pytest.mark.long
@pytest.mark.parametrize("kind", RigKind)
def test_every_cell_of_a_rig_keeps_its_bounds_in_full(kind: RigKind) -> None:
    plan = dataclasses.replace(FULL, cases=1, kinds=(kind,))
    assert [cell for cell in simulate(plan, progress=quiet).cells if not cell.is_within] == []


@pytest.mark.long
def test_over_all_ten_thousand_the_interval_holds_the_truth() -> None:
    overall = simulate(dataclasses.replace(FULL, cells_cases=0), progress=quiet).overall
    assert 0.94 <= overall.held_ratio <= 0.97
