"""The key of a workshop: who signs, and what is done with the key itself."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from steelyard.desk import Acting, Ledger
from steelyard.desk.signing import key_draft, own_keys
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.proof import WorkshopKey, fingerprint, key_in_lines, key_in_pem, new_key
from steelyard.store import KEY_FILE, is_private, make_key, protected_copy, put_key, read_key

LARGEST_KEY_FILE = 10_000
"""Of a key kept under a pass phrase; it takes some 300. [bytes]"""


@dataclass(frozen=True)
class KeySaid:
    """How the key stands.

    state: `there`; `not-yet`: it is made with the first seal; `missing`: this workshop signed with one that
    is not in its folder. fingerprint: of the one that is there, else of the one that is missing; empty where
    there was none. public: the same whole. is_private: nobody else on this computer may read it.
    """

    state: Literal["there", "not-yet", "missing"]
    fingerprint: str
    public: str
    place: str
    is_private: bool


@dataclass(frozen=True)
class Keyring:
    """The key beside a ledger. folder: of the workshop; None where it lies in no folder, and nobody signs."""

    ledger: Ledger
    folder: Path | None = None

    def signer(self) -> WorkshopKey | None:
        """Who signs: the key in the folder, made where this workshop had none yet; None where it is missing.

        Raises StoreTrouble.
        """
        if self.folder is None:
            return None
        key = read_key(self.folder)
        if key is None and not own_keys(self.ledger) and not (self.folder / KEY_FILE).exists():
            return make_key(self.folder)
        return key

    def said(self) -> KeySaid:
        """How it stands; makes none. Raises StoreTrouble."""
        key = read_key(self.folder) if self.folder is not None else None
        before = own_keys(self.ledger)
        public = key.public if key is not None else before[-1] if before else ""
        there = self.folder is not None and (self.folder / KEY_FILE).exists()
        return KeySaid(
            state="there" if key is not None else "missing" if before or there else "not-yet",
            fingerprint=fingerprint(public) if public else "",
            public=public,
            place=str(self.folder / KEY_FILE) if self.folder is not None else "",
            is_private=self.folder is None or is_private(self.folder),
        )

    def lines(self) -> tuple[str, ...]:
        """The key as it stands on its recovery sheet. Raises InputRefused (`key`) where it is not there."""
        return self._there().lines()

    def copy(self, folder: Path, phrase: str, again: str) -> Path:
        """A copy under a pass phrase in a folder; returns where.

        phrase, again: typed twice. Raises InputRefused (`phrase`, `again`; `key` where it is not there),
        StoreTrouble.
        """
        if phrase != again:
            raise InputRefused("again", None, "want-same-phrase")
        return protected_copy(folder, self._there(), phrase)

    def back_from_lines(self, typed: str) -> Path | None:
        """Put the key from a recovery sheet into its folder; returns where another one was laid.

        Raises InputRefused (`lines`), StoreTrouble.
        """
        return self._put(key_in_lines(typed), "lines")

    def back_from_file(self, content: bytes, phrase: str) -> Path | None:
        """The same from a copy under a pass phrase. Raises InputRefused (`key`, `phrase`), StoreTrouble."""
        if len(content) > LARGEST_KEY_FILE:
            raise InputRefused("key", None, "want-key-file")
        return self._put(key_in_pem(content, phrase), "key")

    def new(self, acting: Acting, known: str) -> Path | None:
        """Sign with a new key from now on; what the old one signed still stands. Returns where it was laid.

        known: fingerprint of the present one, as the page showed it; empty where there was none. Raises
        Conflict where it is another one by now, StoreTrouble.
        """
        if self.said().fingerprint != known:
            raise Conflict(0, 1)
        key = new_key()
        aside = put_key(self._home(), key)
        acting.write(key_draft(key))
        return aside

    def _put(self, key: WorkshopKey, field: str) -> Path | None:
        """A key of this workshop and no other: that of another one would sign in its name."""
        before = own_keys(self.ledger)
        if before and key.public not in before:
            raise InputRefused(field, fingerprint(key.public), "want-own-key")
        present = read_key(self._home())
        return None if present == key else put_key(self._home(), key)

    def _there(self) -> WorkshopKey:
        key = self.signer()
        if key is None:
            raise InputRefused("key", None, "want-workshop-key")
        return key

    def _home(self) -> Path:
        if self.folder is None:
            raise NotFound(KEY_FILE)
        return self.folder
