"""Who acts at the desk, and where it is written down."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date

from steelyard.desk.as_then import AsThen
from steelyard.desk.ports import Body, Clock, Dice, Guard, Ledger, Signer
from steelyard.desk.standing import standing
from steelyard.records import Draft, Entry, Stamp, Subject


def nobody() -> Signer | None:
    """Nobody signs."""
    return None


@dataclass(frozen=True)
class Acting:
    """One person at one device, for one submission.

    who: key of the person, empty where nobody said. device: in a few words.
    submission: token given with the page; a repeat writes nothing more, and sees the ledger as it stood when
    the first one came, so that it is answered as that one was.
    signer: asked for who signs what is sealed; answers None where there is no key.
    """

    ledger: Ledger
    clock: Clock
    dice: Dice
    who: str = ""
    device: str = ""
    submission: str | None = None
    signer: Callable[[], Signer | None] = nobody

    def __post_init__(self) -> None:
        first = self.ledger.first_of(self.submission) if self.submission else None
        if first is not None and not isinstance(self.ledger, AsThen):
            object.__setattr__(self, "ledger", AsThen(self.ledger, first))

    def stamp(self) -> Stamp:
        """Now, by whom, on what."""
        now = self.clock.now()
        offset = now.utcoffset()
        at = now.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{now.microsecond // 1000:03d}Z"
        return Stamp(at, int(offset.total_seconds() // 60) if offset else 0, self.who, self.device)

    def today(self) -> date:
        """The day in the workshop."""
        return self.clock.now().date()

    def write(
        self,
        *drafts: Draft,
        seen: Mapping[str, int] | None = None,
        names: Mapping[str, tuple[str, str]] | None = None,
        guard: Guard | None = None,
    ) -> tuple[Entry, ...]:
        """Write all drafts or none. Raises Conflict, StoreTrouble, and what the guard raises."""
        return self.ledger.append(
            drafts, self.stamp(), submission=self.submission, seen=seen, names=names, guard=guard
        )

    def body(self, sort: Subject, name: str) -> Body:
        """The document of a subject. Raises NotFound."""
        return standing(self.ledger, sort, name)
