"""What makes the ± of each point of a sealed record, as one table: a row per source, a column per point."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.desk import RecordView
from steelyard.telling.marks import marked
from steelyard.telling.record_points import LEAST_SHARE_PERCENT, PHASES, line_name, name_of_point
from steelyard.words import say

COLUMNS = 5
"""Points side by side in one table, at most."""


@dataclass(frozen=True)
class BudgetCell:
    """A source at one point: its standard uncertainty and its share of the variance, in words and [%]."""

    uncertainty: str
    share: str
    share_percent: float


@dataclass(frozen=True)
class BudgetWords:
    """The sources of some points. rows: name, and a cell per point, None where it adds nothing there.

    together: name, and the whole of each point.
    """

    phase: str
    points: tuple[str, ...]
    rows: tuple[tuple[str, tuple[BudgetCell | None, ...]], ...]
    together: tuple[tuple[str, tuple[str, ...]], ...]


def budgets(view: RecordView, mark: str) -> tuple[BudgetWords, ...]:
    """Every point that has a budget, some points a table; the widest source of the first point first."""
    return tuple(_budgets(view, mark))


def _budgets(view: RecordView, mark: str) -> Iterator[BudgetWords]:
    for phase in PHASES:
        if phase in view.body["verdicts"]:
            points = view.body["verdicts"][phase]["content"]["points"]
            told = [point for point in points if point["budget"]]
            tables = math.ceil(len(told) / COLUMNS)
            some = math.ceil(len(told) / max(tables, 1))
            for i in range(tables):
                yield _table(phase, told[i * some : (i + 1) * some], mark)


def _table(phase: str, points: Sequence[Mapping[str, Any]], mark: str) -> BudgetWords:
    kept = [{line_name(row): row for row in point["budget"] if _is_told(row)} for point in points]
    names = dict.fromkeys(name for rows in kept for name in rows)
    percent = [marked(point["counted"]["expanded_percent"], mark) for point in points]
    return BudgetWords(
        phase=phase,
        points=tuple(name_of_point(point) for point in points),
        rows=tuple((name, tuple(_cell(rows.get(name), mark) for rows in kept)) for name in names),
        together=((say("paper-expanded"), tuple(say("paper-percent", percent=each) for each in percent)),),
    )


def _is_told(row: Mapping[str, Any]) -> bool:
    return bool(row["share_percent"] >= LEAST_SHARE_PERCENT)


def _cell(row: Mapping[str, Any] | None, mark: str) -> BudgetCell | None:
    if row is None:
        return None
    return BudgetCell(
        uncertainty=say("paper-percent", percent=marked(row["standard_uncertainty_percent"], mark)),
        share=say("paper-share", percent=marked(row["share_percent"], mark)),
        share_percent=row["share_percent"],
    )
