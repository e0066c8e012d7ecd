"""Objects weighed in combinations: more indications than objects, by least squares."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from steelyard.errors import InputRefused
from steelyard.quantities import Line, Shape
from steelyard.rigs.load import Load
from steelyard.rigs.weighing_scale import Scale, positive_kilogram

Matrix = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class LeastSquares:
    """What a weighing design does to its indications.

    solution: estimates = solution · indications. (objects × rows)
    covariance_factor: covariance of the estimates for indications of unit variance, (XᵀX)⁻¹.
        (objects × objects)
    """

    solution: Matrix
    covariance_factor: Matrix


def solve_design(design: Sequence[Sequence[float]]) -> LeastSquares:
    """Least squares for a weighing design.

    design: one row for each indication, one column for each object. (rows × objects)
    Raises InputRefused where the rows do not settle every object, or are not equally long.
    Source: NIST/SEMATECH e-Handbook, 2.3.3.2 and 2.3.4.1, with the restraint solved for beforehand.
    """
    import numpy as np

    if not design or len({len(row) for row in design}) != 1 or not design[0]:
        raise InputRefused("scale, combinations", len(design), "want-equal-rows")
    x = np.array(design, dtype=float)
    rank, objects = int(np.linalg.matrix_rank(x)), x.shape[1]
    if rank < objects:
        raise InputRefused(
            "scale, combinations", f"{len(design)} rows", "want-settling-rows", objects=objects, settled=rank
        )
    solution = np.linalg.pinv(x)
    return LeastSquares(matrix(solution.tolist()), matrix((solution @ solution.T).tolist()))


def matrix(rows: Sequence[Sequence[float]]) -> Matrix:
    """Numbers in rows, frozen."""
    return tuple(tuple(float(value) for value in row) for row in rows)


@dataclass(frozen=True, slots=True)
class Combinations:
    """Objects weighed together in several ways.

    rows: which objects lay on the scale (1) for each indication. indications_kilogram: as shown. [kg]
    fit: the least squares of the rows.
    """

    scale: Scale
    rows: Matrix
    indications_kilogram: tuple[float, ...]
    fit: LeastSquares

    @property
    def loads(self) -> tuple[Load, ...]:
        """Each object alone. For several that hang at once take `hung`: their errors depend on each other."""
        return tuple(self.hung(place) for place in range(len(self.rows[0])))

    @property
    def dof(self) -> int:
        """Rows beyond those needed."""
        return len(self.rows) - len(self.rows[0])

    @property
    def spread_kilogram(self) -> float | None:
        """Residual standard deviation s of one indication. [kg] None where no row is to spare."""
        if self.dof == 0:
            return None
        estimates = [dot(row, self.indications_kilogram) for row in self.fit.solution]
        fitted = [dot(row, estimates) for row in self.rows]
        return math.dist(self.indications_kilogram, fitted) / math.sqrt(self.dof)

    @property
    def covariance_kilogram2(self) -> Matrix | None:
        """Covariance of the objects from the residual s. [kg²] None where no row is to spare."""
        s = self.spread_kilogram
        return None if s is None else matrix([[s * s * q for q in row] for row in self.fit.covariance_factor])

    def hung(self, *places: int) -> Load:
        """The objects of these columns, hanging at once.

        Returns the load with the lines `scale` (every indication off to its limit, against us; or the gain),
            `scale-rounding` (equal rows round equally) and, where rows are to spare, `scale-spread`.
        Raises InputRefused where the indications give a mass of zero or less.
        """
        weights = [sum(column) for column in zip(*(self.fit.solution[p] for p in places), strict=True)]
        shown = positive_kilogram("scale, combinations", dot(weights, self.indications_kilogram))
        load = self.scale.load_kilogram(shown)
        limits = [self.scale.limit_kilogram(each) for each in self.indications_kilogram]
        error = self.scale.error_line(dot(map(abs, weights), limits), load_kilogram=load)
        lines = [error, self._line("scale-rounding", self._rounding(weights), math.inf)]
        s = self.spread_kilogram
        if s is not None:
            lines.append(self._line("scale-spread", s * math.hypot(*weights), self.dof))
        return Load(load, tuple(lines), self.scale.knowing)

    def _rounding(self, weights: Sequence[float]) -> float:
        """Standard uncertainty of a weighted sum of rounded indications. [kg]"""
        by_row: dict[tuple[float, ...], float] = {}
        for row, weight in zip(self.rows, weights, strict=True):
            by_row[row] = by_row.get(row, 0.0) + weight
        return self.scale.rounding_line().u * math.hypot(*by_row.values())

    def _line(self, name: str, u_kilogram: float, dof: float) -> Line:
        return Line(name, 0.0, u_kilogram, Shape.NORMAL, dof, False, "kg", self.scale.name)


def dot(left: Iterable[float], right: Iterable[float]) -> float:
    """Sum of the products."""
    return math.fsum(a * b for a, b in zip(left, right, strict=True))


def weighed_in_combinations(
    scale: Scale, rows: Sequence[Sequence[int]], *, indications_kilogram: Sequence[float]
) -> Combinations:
    """Objects that lay on the scale in several combinations.

    rows: for each indication a 1 for every object on the scale and a 0 for every other. (rows × objects)
    indications_kilogram: one for each row. [kg] > 0
    Raises InputRefused for other numbers, for a row without an object, and where the rows do not settle
        every object.
    Source: `solve_design`. Left out: weights of the rows: all indications count alike.
    """
    for row in rows:
        if not set(row) <= {0, 1} or not any(row):
            raise InputRefused("scale, combinations", " ".join(map(str, row)), "want-zeros-and-ones")
    if len(rows) != len(indications_kilogram):
        raise InputRefused("scale, indications", len(indications_kilogram), "want-as-many", count=len(rows))
    shown = tuple(positive_kilogram("scale, indication", each) for each in indications_kilogram)
    return Combinations(scale, matrix(rows), shown, solve_design(rows))
