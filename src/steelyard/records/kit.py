"""The kit of a check as read from a form: what hangs or measures, with its papers."""

from dataclasses import dataclass
from datetime import date

from steelyard.quantities import Line
from steelyard.rigs import Drum, HungWeight, Load, OwnActs, Scale, Transducer


@dataclass(frozen=True)
class PaperFacts:
    """What a paper says of itself; `certificate` None: nothing traceable."""

    certificate: str | None
    laboratory: str | None
    issued: date | None
    due: date | None


@dataclass(frozen=True)
class HungKit:
    """Weights on an arm or on a drum.

    masses: by name. scales: by name. always: names or weighings that hang at every pull, summed; None for none.
    dribble: water that ran in after the click, taken off a weighed bucket. [kg]
    """

    name: str
    rig: HungWeight | Drum
    masses: dict[str, Load]
    scales: dict[str, Scale]
    always: Load | None
    dribble: Line | None


@dataclass(frozen=True)
class TransducerKit:
    """A transducer or digital adapter.

    zero_newton_metre: reading before the pulls, taken off each. [N m]
    mode: track, peak or first-peak. own_acts, droop: see rigs.
    """

    name: str
    transducer: Transducer
    paper: PaperFacts | None
    own_acts: OwnActs
    droop: Line
    mode: str
    zero_newton_metre: float


Kit = HungKit | TransducerKit
