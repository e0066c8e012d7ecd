"""The demo workshop: the story played into an empty ledger, by a clock that stands where the story is."""

from dataclasses import dataclass, replace
from datetime import datetime

from steelyard.bootstrap.opened import Workshop
from steelyard.desk import Acting


@dataclass(frozen=True)
class StandingClock:
    """A clock that stands at a moment."""

    moment: datetime

    def now(self) -> datetime:
        """That moment."""
        return self.moment


def fill_demo(workshop: Workshop) -> None:
    """Play the story of the demo workshop in an empty one; its last days are those before now.

    Raises StoreTrouble.
    """
    from steelyard.desk.demo import tell_story

    def acting_at(moment: datetime, who: str) -> Acting:
        return replace(workshop.acting(who=who), clock=StandingClock(moment))

    tell_story(acting_at, workshop.clock.now())
