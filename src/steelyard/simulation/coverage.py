"""Whether the ± holds: many made-up tools judged by the evaluation itself, over all and cell by cell."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from steelyard.evaluation import Rule, Verdict, evaluate_point
from steelyard.simulation.bench import measured
from steelyard.simulation.made_up import made_up
from steelyard.simulation.population import PARTS, Part, RigKind, Widths, dominated_by, drawn_widths
from steelyard.simulation.tally import Cell, Tally

if TYPE_CHECKING:
    import numpy as np

LIMIT_PERCENT = Decimal(4)
OVERALL_PULLS = 5
OVERALL_BOUNDS = (0.94, 0.97)  # of the share of intervals that hold the truth, over the whole population
OVERALL_REACH = 1.5  # limits: true deviations of the whole population are uniform within
PULLS = tuple(range(2, 11))
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Plan:
    """How much is simulated.

    cases: of the whole population, at 5 pulls. cells_cases: in each cell; 0 leaves the cells out.
    draws: of the Monte Carlo per case, ≥ 1000. seed: ≥ 0.
    kinds, pulls: which cells.
    """

    cases: int
    cells_cases: int
    draws: int
    seed: int
    kinds: tuple[RigKind, ...] = tuple(RigKind)
    pulls: tuple[int, ...] = PULLS

    @property
    def cells(self) -> tuple[tuple[RigKind, Part, int], ...]:
        """Every kind of rig with every part it has, at every number of pulls."""
        if not self.cells_cases:
            return ()
        return tuple((kind, part, n) for kind in self.kinds for part in PARTS[kind] for n in self.pulls)

    @property
    def whole(self) -> int:
        """Number of all cases."""
        return self.cases + self.cells_cases * len(self.cells)


@dataclass(frozen=True, slots=True)
class Coverage:
    """What was counted. by_kind: the whole population by kind of rig."""

    plan: Plan
    by_kind: dict[RigKind, Tally]
    cells: tuple[Cell, ...]

    @property
    def overall(self) -> Tally:
        """The whole population together."""
        return _sum(tuple(self.by_kind.values()))

    @property
    def is_overall_within(self) -> bool:
        """The whole population keeps its bounds, without any allowance for chance."""
        return OVERALL_BOUNDS[0] <= self.overall.held_ratio <= OVERALL_BOUNDS[1]

    @property
    def violations(self) -> tuple[Cell, ...]:
        """Cells that do not keep a bound."""
        return tuple(cell for cell in self.cells if not cell.is_within)


def simulate(plan: Plan, *, progress: Progress) -> Coverage:
    """Draw, measure, evaluate and count.

    progress: called with the cases done and all cases, after every few of them.
    Each cell, and each kind of rig of the whole population, has a stream of random numbers of its own.
    """
    count = _Counter(plan, progress)
    kinds = plan.kinds
    by_kind = {
        kind: count.tally(kind, None, OVERALL_PULLS, cases=_share(plan.cases, i, len(kinds)))
        for i, kind in enumerate(kinds)
    }
    cells = tuple(
        Cell(kind, part, n, count.tally(kind, part, n, cases=plan.cells_cases))
        for kind, part, n in plan.cells
    )
    return Coverage(plan, by_kind, cells)


def _share(whole: int, place: int, parts: int) -> int:
    """The cases of one of several kinds, as even as can be."""
    return whole * (place + 1) // parts - whole * place // parts


def _sum(tallies: Sequence[Tally]) -> Tally:
    return Tally(
        sum(t.cases for t in tallies), sum(t.held for t in tallies), sum(t.called_in for t in tallies)
    )


class _Counter:
    """Runs cases and says how many are done."""

    def __init__(self, plan: Plan, progress: Progress) -> None:
        self.plan, self.progress, self.done = plan, progress, 0

    def tally(self, kind: RigKind, part: Part | None, pulls: int, *, cases: int) -> Tally:
        """Count cases of one kind: of a cell, or of the whole population where no part dominates."""
        import numpy as np

        place = (list(RigKind).index(kind), 0 if part is None else 1 + list(Part).index(part), pulls)
        generator = np.random.Generator(np.random.SFC64(np.random.SeedSequence([self.plan.seed, *place])))
        held = called_in = 0
        for _ in range(cases):
            widths = drawn_widths(generator) if part is None else dominated_by(part)
            truth = _anywhere(generator) if part is None else _on_the_limit(generator)
            was_held, was_in = self._one(kind, widths, generator, truth=truth, pulls=pulls)
            held += was_held
            called_in += was_in
            self.done += 1
            self.progress(self.done, self.plan.whole)
        return Tally(cases, held, called_in)

    def _one(
        self, kind: RigKind, widths: Widths, generator: "np.random.Generator", *, truth: float, pulls: int
    ) -> tuple[bool, bool]:
        """Whether the interval holds the truth, and whether the verdict is *in*. truth: ISO deviation. [%]"""
        made = made_up(kind, widths, generator)
        case = measured(
            made, generator, deviation_ratio=truth / 100, pulls=pulls, limit_percent=LIMIT_PERCENT
        )
        result = evaluate_point(
            case, rule=Rule.GUARDED, seed=int(generator.integers(2**32)), draws=self.plan.draws
        )
        held = result.counted.low_percent <= truth <= result.counted.high_percent
        return held, result.judged.verdict is Verdict.IN


def _anywhere(generator: "np.random.Generator") -> float:
    """A true deviation of the whole population. [%]"""
    return float(LIMIT_PERCENT) * float(generator.uniform(-OVERALL_REACH, OVERALL_REACH))


def _on_the_limit(generator: "np.random.Generator") -> float:
    """The limit, to one side or the other. [%]"""
    return float(LIMIT_PERCENT) * (1.0 if generator.random() < 0.5 else -1.0)
