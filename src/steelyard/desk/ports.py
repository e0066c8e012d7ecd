"""What the desk needs of the world, as Protocols; `bootstrap` joins them with what there is."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Protocol

from steelyard.findings import Finding
from steelyard.records import Draft, Entry, Stamp

OnStep = Callable[[int, int], bool]
"""Told how many steps are done, of how many; False stops."""
Body = Mapping[str, Any]


@dataclass(frozen=True)
class Head:
    """The last entry: its number (0 for none), digest, and when it was written (UTC; empty for none)."""

    number: int
    digest: str
    at: str = ""


@dataclass(frozen=True)
class Wanted:
    """Which documents, and in which order; what is left out does not narrow.

    sort: `tool`, `rig` or `check`. states: any of these. owner: subject of the tool. who: key of a person.
    words: every word of it stands somewhere in the document's words, case ignored.
    day_from, day_to: first and last day; due_from, due_by: first and last day on which it is due. All
    `2026-11-25`.
    after: key of the last one on the page before. most: how many. newest_first: falling order of the key.
    soonest_first: in the order of the days on which they are due, then of the key; without `after`.
    """

    sort: str
    states: tuple[str, ...] = ()
    owner: str | None = None
    who: str | None = None
    words: str = ""
    day_from: str | None = None
    day_to: str | None = None
    due_from: str | None = None
    due_by: str | None = None
    after: str | None = None
    most: int = 50
    newest_first: bool = False
    soonest_first: bool = False


@dataclass(frozen=True)
class Listed:
    """One document found: its subject, the key of its place in the order, and the whole of it."""

    subject: str
    key: str
    body: Body


Find = Callable[[Wanted], list[Listed]]
Guard = Callable[[Find], None]
"""Looks at documents within the transaction that is about to write, and raises where it must not."""
Drafted = Callable[[Find], Iterable[Draft]]
"""Makes drafts one after the other within the transaction that writes them: it looks at documents before it
gives the first one, later only at such as none of its drafts changes, and raises where nothing must be
written."""


@dataclass(frozen=True)
class Streamed:
    """What a stream of drafts wrote: `count` entries from number `first`; 0 and 0 where there were none."""

    first: int
    count: int


@dataclass(frozen=True)
class KeptFile:
    """A file kept with its digest (SHA-256, hexadecimal)."""

    digest: str
    media_type: str
    content: bytes


class Ledger(Protocol):
    """The chain of entries and what is folded from it."""

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
        """Write all drafts or none, in one transaction, and fold them into their documents.

        submission: a token; where it was used before nothing is written and the entries of then are returned;
        InputRefused with the field `submission` where it then stood for something else.
        seen: last entry that was known of each subject; Conflict where a later one is there.
        names: key → (text, salt), put into the side table of names in the same transaction.
        guard: asked in the same transaction, before anything is written and after a repeat was answered; what
        it raises goes through, and nothing is written.
        Raises Conflict, StoreTrouble.
        """

    def append_stream(
        self,
        drafted: Drafted,
        stamp: Stamp,
        *,
        submission: str | None = None,
        on_step: OnStep | None = None,
        of: int = 0,
    ) -> Streamed | None:
        """Write drafts as they come, a few at a time in memory, all of them or none: one transaction.

        drafted: asked for them once the transaction has begun; what it raises goes through, and nothing is
        written. submission: a token; where it was used before nothing is drafted and what it wrote then is
        returned. on_step: told now and then how many are written, of `of`; False stops.
        Returns None where it was stopped; then nothing is written. Raises StoreTrouble.
        """

    def entries(
        self, *, subject: str | None = None, after: int = 0, most: int | None = None
    ) -> Iterator[Entry]:
        """Entries in order, of one subject or of all."""

    def head(self) -> Head:
        """The last entry."""

    def first_of(self, submission: str) -> int | None:
        """Number of the first entry that a submission wrote; None where it wrote none."""

    def document(self, subject: str) -> Body | None:
        """What is folded of a subject; None where nothing was written of it."""

    def documents(self, wanted: Wanted) -> list[Listed]:
        """The documents that are wanted, at most `wanted.most`."""

    def names(self) -> Mapping[str, str]:
        """All names that are not forgotten, by key."""

    def forget(self, key: str) -> None:
        """Empty the row of a name."""

    def keep_file(self, content: bytes, media_type: str) -> str:
        """Keep a file; returns its digest. Keeping it twice keeps it once."""

    def file(self, digest: str) -> KeptFile | None:
        """A kept file."""


class Clock(Protocol):
    """The time of day."""

    def now(self) -> datetime:
        """Now, in the zone of the workshop (aware)."""


class Dice(Protocol):
    """Where names and tokens come from."""

    def name(self) -> str:
        """A short name that is not yet in use, of small letters and digits."""

    def salt(self) -> str:
        """Long and unguessable."""


class Darkroom(Protocol):
    """Makes a photograph fit to be kept."""

    def develop(self, content: bytes, *, most_bytes: int = 2_000_000) -> tuple[bytes, str]:
        """Scaled down, its position data removed; content and media type. Raises InputRefused."""


class Verified(Protocol):
    """What verifying found.

    findings: the first of them; count: of all. entries: how many there are. is_finished: it was not stopped.
    """

    findings: list[Finding]
    count: int
    entries: int
    is_finished: bool

    @property
    def is_whole(self) -> bool:
        """Everything was looked at and nothing was found."""


class Keeper(Protocol):
    """Holds the ledger against itself and against what was printed."""

    def verify(self, on_step: OnStep | None = None) -> Verified:
        """Everything in the ledger against everything else in it. Raises StoreTrouble."""

    def verify_against(self, entry_number: int, digest: str) -> list[Finding]:
        """`chain-cut` where that entry is not there, or another one is. Raises InputRefused (`digest`)."""


class Signer(Protocol):
    """Signs in the name of the workshop; the private key stays with it."""

    @property
    def public(self) -> str:
        """The public key: 64 hexadecimal digits."""

    def sign(self, message: bytes) -> bytes:
        """The Ed25519 signature of a message, 64 bytes."""
