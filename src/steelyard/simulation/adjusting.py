"""How many turns it takes to bring a made-up tool inside its limits, guided and by older rules."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.simulation.adjusted_tools import made_up_tool
from steelyard.simulation.adjusting_ways import MOST_TURNS, AdjustingWay, Finish, adjusted
from steelyard.simulation.coverage import Progress

if TYPE_CHECKING:
    import numpy as np

MOST_MEAN_TURNS = 2.5  # guided, the sense unknown; 16 counts for a tool that is not done after 15
MOST_UNFINISHED = 0.001
TRUE_RATIO, LEAST_TRUE = 0.0125, 0.98  # true worst of the tools that are done, and the least share within


@dataclass(frozen=True, slots=True)
class AdjustingCase:
    """What is known of the tools, and what they are. positive: held of the sense, and true of the tools.

    gain_factor: times the gain that is held to be usual.
    """

    name: str
    positive: float
    gain_factor: float


UNKNOWN = AdjustingCase("unknown", 0.5, 1.0)
CASES = (UNKNOWN, AdjustingCase("known", 0.9, 1.0), AdjustingCase("strong", 0.5, 2.0))


@dataclass(frozen=True, slots=True)
class AdjustingPlan:
    """tools: in each case and way. seed: ≥ 0."""

    tools: int
    seed: int

    @property
    def whole(self) -> int:
        """Number of all runs."""
        return self.tools * len(CASES) * len(AdjustingWay)


@dataclass(frozen=True, slots=True)
class AdjustingCell:
    """turns, rounds: of each tool, 16 where it was not done. worst_ratios: true worst of those that were."""

    turns: tuple[int, ...]
    rounds: tuple[int, ...]
    worst_ratios: tuple[float, ...]

    @property
    def mean_turns(self) -> float:
        """Turns on the average."""
        return sum(self.turns) / len(self.turns)

    @property
    def mean_rounds(self) -> float:
        """Times read after the first, on the average."""
        return sum(self.rounds) / len(self.rounds)

    def quantile_turns(self, share: float) -> int:
        """Turns within which that share of the tools is done."""
        return sorted(self.turns)[min(int(share * len(self.turns)), len(self.turns) - 1)]

    @property
    def unfinished_ratio(self) -> float:
        """Share of the tools not done after 15 turns."""
        return sum(t > MOST_TURNS for t in self.turns) / len(self.turns)

    @property
    def true_ratio(self) -> float:
        """Share of the tools that were done whose true worst deviation is within 1.25 %."""
        within = sum(ratio <= TRUE_RATIO for ratio in self.worst_ratios)
        return within / len(self.worst_ratios) if self.worst_ratios else 0.0


@dataclass(frozen=True, slots=True)
class AdjustingCounts:
    """What was counted, by case and way."""

    plan: AdjustingPlan
    cells: dict[AdjustingCase, dict[AdjustingWay, AdjustingCell]]

    @property
    def guided(self) -> AdjustingCell:
        """The cell that the bounds are about: guided, the sense unknown."""
        return self.cells[UNKNOWN][AdjustingWay.GUIDED]

    @property
    def violations(self) -> tuple[str, ...]:
        """Bounds that are not kept."""
        kept = {
            "turns": self.guided.mean_turns <= MOST_MEAN_TURNS,
            "unfinished": self.guided.unfinished_ratio <= MOST_UNFINISHED,
            "true": self.guided.true_ratio >= LEAST_TRUE,
        }
        return tuple(name for name, is_kept in kept.items() if not is_kept)


def simulate_adjustings(plan: AdjustingPlan, *, progress: Progress) -> AdjustingCounts:
    """Adjust every made-up tool in every way, and count.

    progress: called with the runs done and all runs, after each. Every tool has random numbers of its own and
    begins the same in every way.
    """
    done = 0
    cells: dict[AdjustingCase, dict[AdjustingWay, AdjustingCell]] = {}
    for case in CASES:
        cells[case] = {}
        for way in AdjustingWay:
            finishes: list[Finish] = []
            for number in range(plan.tools):
                tool = made_up_tool(
                    _stream(plan.seed, number), positive=case.positive, gain_factor=case.gain_factor
                )
                finishes.append(adjusted(tool, way, positive=case.positive))
                done += 1
                progress(done, plan.whole)
            cells[case][way] = _cell(finishes)
    return AdjustingCounts(plan, cells)


def _stream(seed: int, number: int) -> "np.random.Generator":
    import numpy as np

    return np.random.Generator(np.random.SFC64(np.random.SeedSequence([seed, number])))


def _cell(finishes: list[Finish]) -> AdjustingCell:
    return AdjustingCell(
        turns=tuple(MOST_TURNS + 1 if f.turns is None else f.turns for f in finishes),
        rounds=tuple(MOST_TURNS + 1 if f.rounds is None else f.rounds for f in finishes),
        worst_ratios=tuple(f.worst_ratio for f in finishes if f.turns is not None),
    )
