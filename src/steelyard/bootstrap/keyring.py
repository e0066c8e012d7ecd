"""The key of a workshop: who signs, and what is done with the key itself."""

from dataclasses import dataclass
from pathlib import Path
from threading import RLock
from typing import Literal

from steelyard.desk import Acting, Ledger
from steelyard.desk.signing import key_draft, own_keys
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.proof import WorkshopKey, fingerprint, key_in_lines, key_in_pem, new_key
from steelyard.records import THE_WORKSHOP, Kind
from steelyard.store import (
    KEY_FILE,
    has_key_file,
    is_private,
    laid_keys,
    make_key,
    protected_copy,
    put_key,
    read_key,
)

State = Literal["there", "not-yet", "missing", "foreign"]
LARGEST_KEY_FILE = 10_000
"""Of a key kept under a pass phrase; it takes some 300. [bytes]"""
_ONE_AT_A_TIME = RLock()
"""Between the entry of a new key and its place in the folder nobody else begins."""


@dataclass(frozen=True)
class KeySaid:
    """How the key stands.

    state: `there`; `not-yet`: it is made with the first seal; `missing`: this workshop signed with one that
    is not in its folder; `foreign`: what lies there is the key of another one. fingerprint: of the one that
    is there, else of the one that is missing; empty where there was none. public: the same whole. is_private:
    nobody else on this computer may read it. laid: where those lie that another one took the place of.
    """

    state: State
    fingerprint: str
    public: str
    place: str
    is_private: bool
    laid: tuple[str, ...] = ()


@dataclass(frozen=True)
class Keyring:
    """The key beside a ledger. folder: of the workshop; None where it lies in no folder, and nobody signs."""

    ledger: Ledger
    folder: Path | None = None

    def signer(self) -> WorkshopKey | None:
        """Who signs: the key in the folder, made where this workshop had none yet.

        None where it is missing, or that of another workshop lies there. Raises StoreTrouble.
        """
        if self.folder is None:
            return None
        key, before = read_key(self.folder), own_keys(self.ledger)
        if key is None and not before and not has_key_file(self.folder):
            return make_key(self.folder)
        return key if key is not None and _is_own(key, before) else None

    def for_leaving(self) -> WorkshopKey | None:
        """Who signs what leaves: the key in the folder, where the ledger knows it for this workshop's own.

        None before the first seal was signed, or where the key is not there. Makes none. Raises StoreTrouble.
        """
        key = read_key(self.folder) if self.folder is not None else None
        return key if key is not None and key.public in own_keys(self.ledger) else None

    def said(self) -> KeySaid:
        """How it stands; makes none. Raises StoreTrouble."""
        key = read_key(self.folder) if self.folder is not None else None
        before = own_keys(self.ledger)
        state = self._state(key, before)
        public = key.public if key is not None and state == "there" else before[-1] if before else ""
        return KeySaid(
            state=state,
            fingerprint=fingerprint(public) if public else "",
            public=public,
            place=str(self.folder / KEY_FILE) if self.folder is not None else "",
            is_private=self.folder is None or is_private(self.folder),
            laid=tuple(map(str, laid_keys(self.folder))) if self.folder is not None else (),
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
        """Sign with a new key from now on. Returns where the old one was laid, with which one can still sign.

        known: fingerprint of the present one, as the page showed it; empty where there was none. The ledger
        knows the new one before it lies in the folder: of several who ask at once one gets it. A repeat is
        answered as the first time while that key is the present one. Raises Conflict where it is another one
        by now, StoreTrouble.
        """
        home = self._home()
        with _ONE_AT_A_TIME:
            if self._was_made(acting):
                return None
            last = int((self.ledger.document(THE_WORKSHOP) or {}).get("last", 0))
            if self.said().fingerprint != known:
                raise Conflict(0, 1)
            key = new_key()
            acting.write(key_draft(key), seen={THE_WORKSHOP: last})
            return put_key(home, key)

    def _was_made(self, acting: Acting) -> bool:
        """Whether this submission made the present key. Raises Conflict where it made one that is not."""
        first = self.ledger.first_of(acting.submission) if acting.submission else None
        if first is None:
            return False
        entry = next(self.ledger.entries(after=first - 1, most=1))
        if entry.kind != Kind.KEY_MADE:
            return False  # the ledger says what it stands for
        if entry.payload["public"] != self.said().public:
            raise Conflict(first, self.ledger.head().number)
        return True

    def _state(self, key: WorkshopKey | None, before: tuple[str, ...]) -> State:
        if key is not None:
            return "there" if _is_own(key, before) else "foreign"
        is_gone = before or (self.folder is not None and has_key_file(self.folder))
        return "missing" if is_gone else "not-yet"

    def _put(self, key: WorkshopKey, field: str) -> Path | None:
        """A key of this workshop and no other: that of another one would sign in its name."""
        before = own_keys(self.ledger)
        if before and key.public not in before:
            raise InputRefused(field, fingerprint(key.public), "want-own-key")
        with _ONE_AT_A_TIME:
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


def _is_own(key: WorkshopKey, before: tuple[str, ...]) -> bool:
    """Whether a workshop signs with a key: one it signed with before, or any where it never signed."""
    return not before or key.public in before
