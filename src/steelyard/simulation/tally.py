"""Counts of intervals that hold the truth and of tools on their limit that are called in, with bounds."""

import math
from dataclasses import dataclass

from steelyard.simulation.population import Part, RigKind

CELL_BOUNDS = (0.94, 0.99)  # of the share of intervals that hold the truth, in every cell
FALSELY_IN = 0.025  # most of the tools on their limit that may be called in
STANDARD_ERRORS = 3  # of a cell's own count, allowed to it against chance


@dataclass(frozen=True, slots=True)
class Tally:
    """Counts over cases (> 0). held: intervals with the truth in them; called_in: verdicts *in*."""

    cases: int
    held: int
    called_in: int

    @property
    def held_ratio(self) -> float:
        """Share of intervals that hold the truth."""
        return self.held / self.cases

    @property
    def held_error(self) -> float:
        """Standard error of that share by the count itself; one more of either sort keeps it above zero."""
        ratio = (self.held + 1) / (self.cases + 2)
        return math.sqrt(ratio * (1 - ratio) / self.cases)

    @property
    def in_ratio(self) -> float:
        """Share of verdicts *in*."""
        return self.called_in / self.cases

    @property
    def most_in_ratio(self) -> float:
        """Share of *in* that chance allows where the true one is 2.5 %."""
        return FALSELY_IN + STANDARD_ERRORS * math.sqrt(FALSELY_IN * (1 - FALSELY_IN) / self.cases)


@dataclass(frozen=True, slots=True)
class Cell:
    """Cases of one kind of rig, one dominant part and one number of pulls, the truth on the limit."""

    kind: RigKind
    part: Part
    pulls: int
    tally: Tally

    @property
    def is_low(self) -> bool:
        """Too few intervals hold the truth, beyond chance."""
        return self.tally.held_ratio + STANDARD_ERRORS * self.tally.held_error < CELL_BOUNDS[0]

    @property
    def is_high(self) -> bool:
        """Too many hold it, beyond chance: the ± is wider than need be."""
        return self.tally.held_ratio - STANDARD_ERRORS * self.tally.held_error > CELL_BOUNDS[1]

    @property
    def is_lenient(self) -> bool:
        """Too many tools on their limit are called in, beyond chance."""
        return self.tally.in_ratio > self.tally.most_in_ratio

    @property
    def is_within(self) -> bool:
        """It keeps all its bounds."""
        return not (self.is_low or self.is_high or self.is_lenient)
