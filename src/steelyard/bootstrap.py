"""The one place that joins the ledger, the clock, the dice and the darkroom with the desk."""

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from steelyard.desk import Acting, Clock, Darkroom, Dice, Ledger
from steelyard.findings import Finding
from steelyard.records import chain_breaks
from steelyard.store import (
    OnStep,
    SqlLedger,
    Verification,
    keep_photograph,
    open_ledger,
    verify_against,
    verify_ledger,
)

LEDGER_FILE = "ledger.sqlite3"


class WallClock:
    """The computer's clock in its own zone."""

    def now(self) -> datetime:
        """Now, aware."""
        return datetime.now().astimezone()


class SystemDice:
    """Names and salts from the system's source of chance."""

    def name(self) -> str:
        """Eight hexadecimal digits."""
        return secrets.token_hex(4)

    def salt(self) -> str:
        """128 bits."""
        return secrets.token_hex(16)


class Photographs:
    """Photographs scaled down, without their position data."""

    def develop(self, content: bytes) -> tuple[bytes, str]:
        """Content and media type. Raises InputRefused."""
        photograph = keep_photograph(content)
        return photograph.content, photograph.media_type


@dataclass(frozen=True)
class Workshop:
    """One workshop, open: its folder and everything the desk needs.

    is_demo: throw-away and marked so on every page.
    """

    folder: Path
    ledger: Ledger
    clock: Clock
    dice: Dice
    darkroom: Darkroom
    is_demo: bool = False

    def acting(self, *, who: str = "", device: str = "", submission: str | None = None) -> Acting:
        """Somebody who acts here."""
        return Acting(self.ledger, self.clock, self.dice, who=who, device=device, submission=submission)

    def verify(self, on_step: OnStep | None = None) -> Verification:
        """The whole ledger against itself; of one in memory its chain. Raises StoreTrouble."""
        if isinstance(self.ledger, SqlLedger):
            return verify_ledger(self.ledger, on_step=on_step)
        found = list(chain_breaks((e.number, e.body, e.digest) for e in self.ledger.entries()))
        return Verification(found, len(found), self.ledger.head().number)

    def verify_against(self, entry_number: int, digest: str) -> list[Finding]:
        """The ledger against a printed entry. Raises InputRefused (`digest`), StoreTrouble."""
        return verify_against(self.ledger, entry_number, digest)


@contextmanager
def workshop(folder: Path, *, is_demo: bool = False) -> Iterator[Workshop]:
    """A workshop in a folder, opened and closed again. Raises StoreTrouble."""
    ledger = open_ledger(folder / LEDGER_FILE)
    try:
        yield Workshop(folder, ledger, WallClock(), SystemDice(), Photographs(), is_demo=is_demo)
    finally:
        ledger.close()
