"""What makes the ±: the lines of a first-order budget, ranked."""

from dataclasses import dataclass

from steelyard.evaluation.propagation import FirstOrder
from steelyard.quantities import Line


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """One line, its part in percent of the torque (a standard uncertainty), its share of the variance."""

    line: Line
    u_percent: float
    share_percent: float


def budget(first: FirstOrder) -> tuple[BudgetRow, ...]:
    """All lines that contribute, largest first. Approximate: first order. Source: JCGM 100:2008 5.1.3."""
    variance = first.u**2
    rows = [
        BudgetRow(line, 100 * part, 100 * part * part / variance)
        for line, part in zip(first.lines, first.contributions, strict=True)
        if part > 0.0
    ]
    return tuple(sorted(rows, key=lambda row: -row.u_percent))
