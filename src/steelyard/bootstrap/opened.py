"""A workshop, open: everything the desk needs, and what is done to its ledger as a whole."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, time
from pathlib import Path

from steelyard.bootstrap.keyring import Keyring
from steelyard.bootstrap.world import Photographs, SystemDice, WallClock
from steelyard.desk import Acting, Clock, Darkroom, Dice, Ledger
from steelyard.errors import InputRefused, NotFound, StoreTrouble
from steelyard.findings import Finding
from steelyard.records import chain_breaks
from steelyard.store import (
    MemoryLedger,
    OnStep,
    SqlLedger,
    Verification,
    back_up,
    last_backup,
    open_ledger,
    rebuild_documents,
    told,
    verify_against,
    verify_ledger,
)

LEDGER_FILE = "ledger.sqlite3"
DEMO_FILE = "demo.txt"
"""Marks the folder of a made-up workshop."""
BACKUPS = "backups"


@dataclass(frozen=True)
class Workshop:
    """One workshop, open: its folder and everything the desk needs.

    is_demo: throw-away and marked so on every page. has_key: it signs what it seals, by a key in its folder.
    """

    folder: Path
    ledger: Ledger
    clock: Clock
    dice: Dice
    darkroom: Darkroom
    is_demo: bool = False
    has_key: bool = False

    @property
    def keyring(self) -> Keyring:
        """Its key."""
        return Keyring(self.ledger, self.folder if self.has_key else None)

    @property
    def backup_folder(self) -> Path:
        """Where backups go: a folder beside the workshop's own, of a throw-away one inside of it."""
        folder = self.folder.absolute()
        return folder / BACKUPS if self.is_demo else folder.parent / f"{folder.name}-{BACKUPS}"

    def acting(self, *, who: str = "", device: str = "", submission: str | None = None) -> Acting:
        """Somebody who acts here."""
        return Acting(
            self.ledger,
            self.clock,
            self.dice,
            who=who,
            device=device,
            submission=submission,
            signer=self.keyring.signer,
        )

    def verify(self, on_step: OnStep | None = None) -> Verification:
        """The whole ledger against itself; of one in memory its chain. Raises StoreTrouble."""
        if isinstance(self.ledger, SqlLedger):
            return verify_ledger(self.ledger, on_step=on_step)
        found = list(chain_breaks((e.number, e.body, e.digest) for e in self.ledger.entries()))
        return Verification(found, len(found), self.ledger.head().number)

    def verify_against(self, entry_number: int, digest: str) -> list[Finding]:
        """The ledger against a printed entry. Raises InputRefused (`digest`), StoreTrouble."""
        return verify_against(self.ledger, entry_number, digest)

    def rebuild(self, on_step: OnStep | None = None) -> bool:
        """Make all documents anew from the entries; False where it was stopped, then nothing is changed.

        Raises NotFound for a ledger in memory, StoreTrouble.
        """
        return rebuild_documents(self._kept(), on_step=on_step)

    def back_up(self, folder: Path | None = None) -> Path:
        """A copy of the ledger that was read back; where it lies.

        folder: None for the usual one. Raises NotFound for a ledger in memory, StoreTrouble.
        """
        return back_up(self._kept(), folder or self.backup_folder, now=self.clock.now())

    def last_backup(self) -> datetime | None:
        """When the newest backup in the usual folder was made; None where none is seen there."""
        if not isinstance(self.ledger, SqlLedger):
            return None
        try:
            day = last_backup(self.ledger, self.backup_folder)
            if day is None:
                return None
            copies = self.backup_folder.glob(f"*-{day}*.sqlite3")
            made = datetime.fromtimestamp(max(copy.stat().st_mtime for copy in copies)).astimezone()
        except (StoreTrouble, NotFound, OSError, ValueError):
            return None
        return made if made.date() == day else datetime.combine(day, time(), made.tzinfo)

    def _kept(self) -> SqlLedger:
        if not isinstance(self.ledger, SqlLedger):
            raise NotFound(LEDGER_FILE)
        return self.ledger


@contextmanager
def workshop(folder: Path) -> Iterator[Workshop]:
    """A workshop in a folder, opened and closed again; made where there is none. Raises StoreTrouble."""
    ledger = open_ledger(folder / LEDGER_FILE)
    is_demo = (folder / DEMO_FILE).exists()
    try:
        yield Workshop(
            folder, ledger, WallClock(), SystemDice(), Photographs(), is_demo=is_demo, has_key=True
        )
    finally:
        ledger.close()


@contextmanager
def demo_workshop(folder: Path) -> Iterator[Workshop]:
    """The same of a made-up one, which stays marked as such whoever opens it.

    Raises InputRefused where a workshop lies there that is none, StoreTrouble.
    """
    mark = folder / DEMO_FILE
    if (folder / LEDGER_FILE).exists() and not mark.exists():
        raise InputRefused("--data", folder, "want-demo-folder")
    with told(str(folder)):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        mark.touch()
    with workshop(folder) as opened:
        yield opened


@contextmanager
def existing_workshop(folder: Path) -> Iterator[Workshop]:
    """The same of one that is there already. Raises NotFound where there is none, StoreTrouble."""
    if not (folder / LEDGER_FILE).is_file():
        raise NotFound(str(folder / LEDGER_FILE))
    with workshop(folder) as opened:
        yield opened


def empty_ledger() -> Ledger:
    """A ledger in memory in which nothing is written: for whoever has no workshop."""
    return MemoryLedger()
