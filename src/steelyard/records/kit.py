"""The kit of a check as read from a form: what hangs or measures, with its papers."""

from dataclasses import dataclass
from datetime import date

from steelyard.quantities import Line
from steelyard.rigs import Axis, Drum, Household, HungWeight, Load, PullWay, Scale, Transducer, Zeroed

DROP_UNKNOWN = Line("drop", 0.0, 0.015, unit="m")  # loop over a handle of 30 mm, our assumption
DENSE_ANYTHING = Line("load-density", 7500.0, 900.0, unit="kg/m³")  # iron, steel, brass


@dataclass(frozen=True)
class PaperFacts:
    """What a paper says of itself; `certificate` None: nothing traceable."""

    certificate: str | None
    laboratory: str | None
    issued: date | None
    due: date | None


@dataclass(frozen=True)
class Weights:
    """What a load may be put together from, by name: marked masses, and scales it may be weighed on."""

    masses: dict[str, Load]
    scales: dict[str, Scale]


@dataclass(frozen=True)
class HungKit:
    """Weights on an arm or on a drum.

    masses, scales: by name. always: what hangs at every pull, summed; None for none; always_typed: as
    written.
    dribble: water that ran in after the click, about the half of it that is taken off each bucket. [kg]
    """

    name: str
    rig: HungWeight | Drum
    masses: dict[str, Load]
    scales: dict[str, Scale]
    always: Load | None
    dribble: Line | None
    always_typed: str = ""

    @property
    def is_drop_assumed(self) -> bool:
        """Nobody said how far below the arm the load hangs."""
        return isinstance(self.rig, HungWeight) and self.rig.drop is DROP_UNKNOWN

    @property
    def is_material_assumed(self) -> bool:
        """Nobody said what the load is made of."""
        return self.rig.air is not None and self.rig.air.load_density is DENSE_ANYTHING

    @property
    def unproven_scales(self) -> tuple[str, ...]:
        """Names of the scales of which nothing is stated, so that what is usual at home stands in."""
        return tuple(name for name, scale in self.scales.items() if isinstance(scale.limit, Household))


@dataclass(frozen=True)
class TransducerKit:
    """A transducer or digital adapter.

    zero_newton_metre: reading before the pulls, taken off each. [N m]
    mode: track, peak or first-peak. is_torque_tool: itself a torque tool, so this only compares.
    axis, zeroed, pull, droop: what they do with the tool's own weight, see rigs.
    """

    name: str
    transducer: Transducer
    paper: PaperFacts | None
    axis: Axis
    zeroed: Zeroed
    pull: PullWay | None
    droop: Line
    mode: str
    is_torque_tool: bool
    zero_newton_metre: float


Kit = HungKit | TransducerKit
