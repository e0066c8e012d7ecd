"""Who acts at the desk, and where it is written down."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date

from steelyard.desk.ports import Body, Clock, Dice, Ledger
from steelyard.errors import NotFound
from steelyard.records import Draft, Entry, Stamp, Subject


@dataclass(frozen=True)
class Acting:
    """One person at one device, for one submission.

    who: key of the person, empty where nobody said. device: in a few words.
    submission: token given with the page; a repeat writes nothing more.
    """

    ledger: Ledger
    clock: Clock
    dice: Dice
    who: str = ""
    device: str = ""
    submission: str | None = None

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
    ) -> tuple[Entry, ...]:
        """Write all drafts or none. Raises Conflict, StoreTrouble."""
        return self.ledger.append(drafts, self.stamp(), submission=self.submission, seen=seen, names=names)

    def body(self, sort: Subject, name: str) -> Body:
        """The document of a subject. Raises NotFound."""
        body = self.ledger.document(sort.named(name))
        if body is None:
            raise NotFound(f"{sort} {name}")
        return body
