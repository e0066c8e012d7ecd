"""Small words that several commands print: findings, lines, bars, torques."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.findings import Finding
    from steelyard.quantities import Line, Unit

BAR_WIDTH = 20


def findings(found: "Iterable[Finding]") -> Iterator[str]:
    """One line for each finding, or that there are none."""
    rows = [
        say("finding-row", severity=say(f"severity-{f.severity}"), sentence=say(f.code, **f.facts))
        for f in found
    ]
    yield from rows or [f"  {say('no-doubts')}"]


def mark(verdict: str) -> str:
    """The sign in front of a verdict."""
    return say(f"mark-{verdict}")


def line_name(line: "Line") -> str:
    """A budget line in words."""
    return say(f"line-{line.name}", detail=line.detail)


def bar(percent: float) -> str:
    """A bar of at most 20 signs."""
    return "█" * max(1, round(percent / 100 * BAR_WIDTH))


def torque(newton_metre: float, unit: "Unit") -> str:
    """A torque in the unit the person used, two decimals or four digits."""
    value = newton_metre / float(unit.factor)
    return f"{value:.2f}" if abs(value) >= 1 or value == 0 else f"{value:.4f}"
