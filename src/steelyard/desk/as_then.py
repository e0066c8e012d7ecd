"""The ledger as it stood when a submission first came: a repeat is looked at as the first one was.

Whatever happened since, a seal or a turn of the adjuster, cannot refuse what was answered before.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

from steelyard.desk.ports import (
    Body,
    Drafted,
    Guard,
    Head,
    KeptFile,
    Ledger,
    Listed,
    OnStep,
    Streamed,
    Wanted,
)
from steelyard.records import Draft, Entry, Stamp, fold


@dataclass(frozen=True)
class AsThen:
    """A ledger whose documents stand as before an entry; what is written goes into the ledger of now.

    first: number of that entry. Which documents a list holds is as now; how each of them stands is as then.
    """

    now: Ledger
    first: int

    def append(
        self,
        drafts: Sequence[Draft],
        stamp: Stamp,
        *,
        submission: str | None = None,
        seen: Mapping[str, int] | None = None,
        names: Mapping[str, tuple[str, str]] | None = None,
        guard: Guard | None = None,
    ) -> tuple[Entry, ...]:
        """The entries that the repeated submission wrote. Raises as the ledger does."""
        return self.now.append(drafts, stamp, submission=submission, seen=seen, names=names, guard=guard)

    def append_stream(
        self,
        drafted: Drafted,
        stamp: Stamp,
        *,
        submission: str | None = None,
        on_step: OnStep | None = None,
        of: int = 0,
    ) -> Streamed | None:
        """What the repeated submission wrote. Raises as the ledger does."""
        return self.now.append_stream(drafted, stamp, submission=submission, on_step=on_step, of=of)

    def entries(
        self, *, subject: str | None = None, after: int = 0, most: int | None = None
    ) -> Iterator[Entry]:
        """Entries in order, those from then on left out."""
        found = self.now.entries(subject=subject, after=after, most=most)
        return takewhile(lambda entry: entry.number < self.first, found)

    def head(self) -> Head:
        """The last entry there is now."""
        return self.now.head()

    def first_of(self, submission: str) -> int | None:
        """As the ledger of now answers."""
        return self.now.first_of(submission)

    def document(self, subject: str) -> Body | None:
        """What stood of a subject then; of one that was not there yet, what stands now."""
        body: Body | None = None
        for entry in self.entries(subject=subject):
            body = fold(body, entry)
        return self.now.document(subject) if body is None else body

    def documents(self, wanted: Wanted) -> list[Listed]:
        """Those that are wanted now, each as it stood then."""
        found = self.now.documents(wanted)
        return [Listed(one.subject, one.key, self.document(one.subject) or one.body) for one in found]

    def names(self) -> Mapping[str, str]:
        """All names that are not forgotten now."""
        return self.now.names()

    def forget(self, key: str) -> None:
        """Empty the row of a name."""
        self.now.forget(key)

    def keep_file(self, content: bytes, media_type: str) -> str:
        """Keep a file; returns its digest."""
        return self.now.keep_file(content, media_type)

    def file(self, digest: str) -> KeptFile | None:
        """A kept file."""
        return self.now.file(digest)
