"""Weighing designs of the NIST/SEMATECH e-Handbook, and mass by difference of EURACHEM QUAM."""

import math
from collections.abc import Sequence

import numpy as np
import pytest

from printed import agrees
from steelyard.errors import InputRefused
from steelyard.quantities import Line, Shape
from steelyard.rigs.combinations import Combinations, solve_design, weighed_in_combinations
from steelyard.rigs.load import Knowing
from steelyard.rigs.weighing import weighed_by_difference, weighed_directly, weighed_in_placements
from steelyard.rigs.weighing_scale import LegalClass, Scale, Stated

SHOP = Scale("shop", 0.1, Knowing.MASS, LegalClass("III", 0.1, in_service=True))
RIGHT = Scale("right", 1e-9, Knowing.MASS, Stated(0, 0))

# NIST/SEMATECH e-Handbook 2.3.4.1.x, as printed. None: that part of the page was not read.
WD_111 = [[1, -1, 0], [1, 0, -1], [0, 1, -1]]
WD_1111 = [[1, -1, 0, 0], [1, 0, -1, 0], [1, 0, 0, -1], [0, 1, -1, 0], [0, 1, 0, -1], [0, 0, 1, -1]]
WD_22211 = [
    [1, -1, 0, 0, 0],
    [1, 0, -1, 0, 0],
    [0, 1, -1, 0, 0],
    [1, 0, 0, -1, -1],
    [0, 1, 0, -1, -1],
    [0, 0, 1, -1, -1],
    [0, 0, 0, 1, -1],
]
# The order of the reversed pairs follows from the printed solution rows.
WD_111_BOTH_WAYS = [[1, -1, 0], [1, 0, -1], [0, 1, -1], [0, -1, 1], [-1, 0, 1], [-1, 1, 0]]
WD_111_ROWS = [[0, -2, -1], [0, -1, -2], [0, 1, -1], [3, 3, 3]]
WD_1111_ROWS = [None, None, None, None, None, [0, 0, 2, -2], [4, 4, 4, 4]]
WD_22211_ROWS = [
    [4, -4, 0, 0, 0],
    [2, -2, -6, -1, -1],
    [-2, 2, -6, -1, -1],
    [2, -2, -2, -3, -3],
    [-2, 2, -2, -3, -3],
    [0, 0, 4, -2, -2],
    [0, 0, 0, 8, -8],
    [8, 8, 8, 4, 4],
]
WD_111_BOTH_WAYS_ROWS = [[1, -1, 0], [2, 1, 0], [1, 2, 0], [-1, -2, 0], [-2, -1, 0], [-1, 1, 0], [6, 6, 6]]
Rows = Sequence[Sequence[int] | None]
# clause, design, restraint, divisor, solution rows and the row of R*, K1 of each object
DESIGNS: list[tuple[str, list[list[int]], list[int], int, Rows, str]] = [
    ("2.3.4.1.1", WD_111, [1, 0, 0], 3, WD_111_ROWS, "0.0000 0.8165 0.8165"),
    ("2.3.4.1.2", WD_1111, [1, 1, 0, 0], 8, WD_1111_ROWS, "0.3536 0.3536 0.6124 0.6124"),
    ("2.3.4.1.7", WD_22211, [1, 1, 0, 0, 0], 16, WD_22211_ROWS, "0.3536 0.3536 0.6124 0.5863 0.5863"),
    ("2.3.4.1.19", WD_111_BOTH_WAYS, [0, 0, 1], 6, WD_111_BOTH_WAYS_ROWS, "0.5774 0.5774 0.0000"),
]
# clause, design, restraint, which objects are combined, K1 of that combination as printed
COMBINED = [
    ("2.3.4.1.1", WD_111, [1, 0, 0], [0, 1, 1], "1.4142"),
    ("2.3.4.1.2", WD_1111, [1, 1, 0, 0], [1, -1, 0, 0], "0.7071"),
    ("2.3.4.1.7", WD_22211, [1, 1, 0, 0, 0], [1, 1, 1, 0, 0], "0.6124"),
    ("2.3.4.1.7", WD_22211, [1, 1, 0, 0, 0], [1, 1, 1, 1, 1], "1.0000"),
]
Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def restrained(design: list[list[int]], restraint: list[int]) -> tuple[Array, Array]:
    """Solution rows (R* last) and covariance factor of a design whose `restraint` is known exactly.

    The restraint is solved for first: β = h·R* + N·γ with N spanning what it leaves free, γ by least squares.
    """
    x, r = np.array(design, dtype=float), np.array(restraint, dtype=float)
    free = np.linalg.svd(r[None])[2][1:].T
    fit = solve_design((x @ free).tolist())
    solution = free @ np.array(fit.solution)
    particular = r / (r @ r)
    known = particular - solution @ x @ particular
    return np.vstack([solution.T, known]), free @ np.array(fit.covariance_factor) @ free.T


@pytest.mark.parametrize(("_clause", "design", "restraint", "divisor", "rows", "factors"), DESIGNS)
def test_designs_of_the_handbook(
    _clause: str, design: list[list[int]], restraint: list[int], divisor: int, rows: Rows, factors: str
) -> None:
    solution, factor = restrained(design, restraint)
    for got, printed in zip(divisor * solution, rows, strict=True):
        if printed is not None:
            np.testing.assert_allclose(got, printed, rtol=0, atol=1e-12)
    for variance, k1 in zip(np.diag(factor), factors.split(), strict=True):
        agrees(math.sqrt(max(variance, 0.0)), k1)


@pytest.mark.parametrize(("_clause", "design", "restraint", "combined", "k1"), COMBINED)
def test_factors_of_combined_objects(
    _clause: str, design: list[list[int]], restraint: list[int], combined: list[int], k1: str
) -> None:
    _, factor = restrained(design, restraint)
    weights = np.array(combined)
    agrees(math.sqrt(weights @ factor @ weights), k1)


def test_a_worked_design_of_three() -> None:
    """Design 1,1,1 with Y = .31, −1.24, −1.49 and A = .75; own arithmetic by two routes."""
    rows = ((-1.0, 0.0), (0.0, -1.0), (1.0, -1.0))
    shown = (0.31 - 0.75, -1.24 - 0.75, -1.49)
    worked = Combinations(RIGHT, rows, shown, solve_design(rows))
    agrees(worked.loads[0].kilogram, "0.460000000000")
    agrees(worked.loads[1].kilogram, "1.970000000000")
    assert worked.dof == 1
    agrees(worked.spread_kilogram or 0.0, "0.0346410162")
    for load in worked.loads:
        agrees(load.lines[2].u, "0.0282842712")


def test_mass_by_difference_counts_the_linearity_twice() -> None:
    """EURACHEM QUAM A2: linearity ±0.15 mg, rectangular, twice: √2·0.15/√3 mg."""
    balance = Scale("balance", 1e-7, Knowing.MASS, Stated(0, 0.15e-6))
    load = weighed_by_difference(balance, with_kilogram=0.0605462, without_kilogram=0.0601562)
    milligram = 1e6 * math.hypot(*(line.u for line in load.lines if line.name == "scale"))
    agrees(milligram, "0.122474487")


TWO_AND_BOTH = [[1, 0], [0, 1], [1, 1]]
SHOWN = [20.0, 10.0, 30.3]


def test_two_objects_alone_and_together() -> None:
    """Worked by hand: a = (2y₁ − y₂ + y₃)/3, variance ⅔s², s = |y₁ + y₂ − y₃|/√3."""
    both = weighed_in_combinations(SHOP, TWO_AND_BOTH, indications_kilogram=SHOWN)
    assert [load.kilogram for load in both.loads] == pytest.approx([20.1, 10.1])
    s = 0.3 / math.sqrt(3)
    assert both.spread_kilogram == pytest.approx(s)
    np.testing.assert_allclose(both.covariance_kilogram2 or (), s**2 * np.array([[2, -1], [-1, 2]]) / 3)
    spread = both.loads[0].lines[2]
    assert (spread.name, spread.shape, spread.dof, spread.shared) == ("scale-spread", Shape.NORMAL, 1, False)
    assert spread.u == pytest.approx(s * math.sqrt(2 / 3))


def test_hung_at_once_they_are_known_better_than_apart() -> None:
    both = weighed_in_combinations(SHOP, TWO_AND_BOTH, indications_kilogram=SHOWN)
    hung = both.hung(0, 1)
    assert hung.kilogram == pytest.approx(30.2)
    assert hung.lines[2].u == pytest.approx(0.3 / math.sqrt(3) * math.sqrt(2 / 3))
    assert hung.lines[0].width == pytest.approx(0.1 * (1 / 3 + 1 / 3 + 2 / 3))
    assert hung.lines[0].width < sum(load.lines[0].width for load in both.loads)


def test_another_library_finds_the_same() -> None:
    from statsmodels.api import OLS

    rows = [[1, 0, 0], [0, 1, 0], [1, 1, 0], [0, 1, 1], [1, 0, 1], [1, 1, 1]]
    shown = [20.1, 9.8, 30.1, 15.2, 24.9, 35.2]
    got = weighed_in_combinations(SHOP, rows, indications_kilogram=shown)
    oracle = OLS(shown, rows).fit()
    assert [load.kilogram for load in got.loads] == pytest.approx(list(oracle.params))
    np.testing.assert_allclose(got.covariance_kilogram2 or (), oracle.cov_params())
    assert got.dof == oracle.df_resid


def test_combinations_of_one_object_are_its_placements() -> None:
    rows, shown = [[1], [1], [1]], [20.0, 20.2, 20.4]
    (combined,) = weighed_in_combinations(SHOP, rows, indications_kilogram=shown).loads
    placed = weighed_in_placements(SHOP, shown)
    assert combined.kilogram == pytest.approx(placed.kilogram)
    by_name = {line.name: line for line in placed.lines}
    for line in combined.lines:
        assert line.u == pytest.approx(by_name[line.name].u)
        assert (line.dof, line.shared) == (by_name[line.name].dof, by_name[line.name].shared)


def test_objects_each_alone_have_no_spread() -> None:
    alone = weighed_in_combinations(SHOP, [[1, 0], [0, 1]], indications_kilogram=[20, 10])
    assert (alone.dof, alone.spread_kilogram, alone.covariance_kilogram2) == (0, None, None)
    direct = weighed_directly(SHOP, 20)
    assert alone.loads[0].lines[0] == direct.lines[0]
    assert alone.loads[0].lines[1].u == pytest.approx(direct.lines[1].u)
    assert len(alone.loads[0].lines) == 2


def test_a_known_gain_acts_on_each_object_alone() -> None:
    checked = SHOP.corrected(Line("scale-gain", 0.02, 0.003, Shape.NORMAL))
    got = weighed_in_combinations(checked, TWO_AND_BOTH, indications_kilogram=SHOWN)
    first = got.loads[0]
    assert first.kilogram == pytest.approx(20.1 / 1.02)
    assert first.lines[0].width == pytest.approx(first.kilogram * 0.003 / 1.02)


@pytest.mark.parametrize(
    ("rows", "shown"),
    [
        ([[1, 1], [1, 1]], [30, 30]),  # only the sum is settled
        ([[1, 1]], [30]),
        ([[1, 0], [0, 1], [0, 0]], [20, 10, 1]),
        ([[1, 0], [0, 2]], [20, 10]),
        ([[1, 0], [1]], [20, 10]),
        ([[1, 0], [0, 1]], [20]),
        ([[1, 0], [0, 1]], [20, math.nan]),
        ([], []),
    ],
)
def test_rows_that_settle_nothing_are_refused(rows: list[list[int]], shown: list[float]) -> None:
    with pytest.raises(InputRefused):
        weighed_in_combinations(SHOP, rows, indications_kilogram=shown)


def test_indications_that_contradict_each_other_into_less_than_nothing_are_refused() -> None:
    got = weighed_in_combinations(SHOP, [[1, 0], [1, 1]], indications_kilogram=[20, 19])
    with pytest.raises(InputRefused):
        got.hung(1)
    with pytest.raises(InputRefused, match="settle 1"):
        weighed_in_combinations(SHOP, [[1, 1], [1, 1]], indications_kilogram=[30, 30])
