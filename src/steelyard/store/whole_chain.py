"""What a zip of a whole workshop says, line by line, each held against the chain of entries."""

from collections.abc import Iterator, Mapping
from typing import Any

from steelyard.records import BEFORE_THE_FIRST, Entry, Kind, digest_of
from steelyard.store.content import digest_of_bytes
from steelyard.store.putting import entry_row
from steelyard.store.reading import UNREADABLE, entry_of_body
from steelyard.store.steps import Steps
from steelyard.store.verify import NAMES_A_FILE
from steelyard.store.whole_archive import WholeArchive
from steelyard.store.whole_form import ENTRIES, FILES, FOLDER, LONGEST_NAME, NAMES, SALT, SUBMISSIONS

LONGEST_MEDIA_TYPE = 200


class WholeChain:
    """The rows of the ledger that a zip holds, in the order of its parts; each is refused where it is off.

    Remembers of the entries what the later parts are held against: names by their digests, files by theirs.
    """

    def __init__(self, archive: WholeArchive) -> None:
        self._archive, self._counts = archive, archive.counts
        self._names: dict[str, str] = {}
        self._forgotten: set[str] = set()
        self._wanted_files: set[str] = set()

    def entry_rows(self, steps: Steps) -> Iterator[dict[str, Any]]:
        """The entries; each must follow the one before it, and the last be the one that was said."""
        number, before = 0, BEFORE_THE_FIRST
        for line in self._archive.lines(ENTRIES):
            entry = self._entry(line, number + 1, before)
            number, before = entry.number, entry.digest
            self._remember(entry)
            steps()
            yield entry_row(entry)
        if (number, before) != (self._counts.head_number, self._counts.head_digest):
            raise self._archive.refusal("want-whole-chain", number=number + 1)

    def _entry(self, line: bytes, number: int, before: str) -> Entry:
        try:
            entry = entry_of_body(line.decode())
        except UnicodeDecodeError:
            entry = None
        is_next = entry is not None and (entry.number, entry.before) == (number, before)
        if entry is None or not is_next or not _is_plain(entry) or number > self._counts.entries:
            raise self._archive.refusal("want-whole-chain", number=number)
        return entry

    def _remember(self, entry: Entry) -> None:
        try:
            if entry.kind == Kind.PERSON_ADDED:
                self._names[entry.payload["key"]] = entry.payload["digest"]
            elif entry.kind == Kind.PERSON_FORGOTTEN:
                self._forgotten.add(entry.payload["key"])
            elif entry.kind in NAMES_A_FILE and entry.payload.get(NAMES_A_FILE[entry.kind]) is not None:
                self._wanted_files.add(str(entry.payload[NAMES_A_FILE[entry.kind]]))
        except UNREADABLE:
            raise self._archive.refusal("want-whole-chain", number=entry.number) from None

    def name_rows(self, steps: Steps) -> Iterator[dict[str, Any]]:
        """Names, each with the digest that its entry holds; one that was to be forgotten comes in empty."""
        seen: set[str] = set()
        for row in self._archive.rows(NAMES):
            key, text, salt = _three(row, "key", "text", "salt")
            if not isinstance(key, str) or key in seen or key not in self._names:
                raise self._archive.refusal("want-whole-name", key=str(key)[:40])
            seen.add(key)
            self._refuse_more("names", len(seen))
            steps()
            if text is None or key in self._forgotten:
                yield {"key": key, "text": None, "salt": None}
                continue
            if not _is_name(text, salt) or digest_of(f"{salt}{text}") != self._names[key]:
                raise self._archive.refusal("want-whole-name", key=key)
            yield {"key": key, "text": text, "salt": salt}
        self._refuse_other_count("names", len(seen))

    def submission_rows(self, steps: Steps) -> Iterator[dict[str, Any]]:
        """Tokens, each with entries that are there."""
        seen = 0
        last = ""
        for row in self._archive.rows(SUBMISSIONS):
            token, first, count = _three(row, "token", "first", "count")
            is_row = isinstance(token, str) and type(first) is int and type(count) is int
            if not is_row or not 0 <= first <= first + count - bool(count) <= self._counts.head_number:
                raise self._archive.refusal("want-whole-line", part=SUBMISSIONS)
            if seen and token <= last:
                raise self._archive.refusal("want-whole-once", part=SUBMISSIONS)
            seen, last = seen + 1, token
            self._refuse_more("submissions", seen)
            steps()
            yield {"token": token, "first": first, "count": count}
        self._refuse_other_count("submissions", seen)

    def file_rows(self, steps: Steps) -> Iterator[dict[str, Any]]:
        """Files with their content, each of its own digest; all that entries name are there."""
        seen: set[str] = set()
        for row in self._archive.rows(FILES):
            digest, media_type, size = _three(row, "digest", "media_type", "size")
            is_row = isinstance(digest, str) and isinstance(media_type, str) and type(size) is int
            if not is_row or size < 0 or len(media_type) > LONGEST_MEDIA_TYPE or digest in seen:
                raise self._archive.refusal("want-whole-line", part=FILES)
            self._refuse_more("files", len(seen) + 1)
            content = self._archive.content(f"{FOLDER}{digest}", size)
            if content is None:
                raise self._archive.refusal("want-whole-file", digest=digest[:64])
            if len(content) != size or digest_of_bytes(content) != digest:
                raise self._archive.refusal("want-whole-file-digest", digest=digest[:64])
            seen.add(digest)
            steps()
            yield {"digest": digest, "media_type": media_type, "size": size, "content": content}
        self._refuse_other_count("files", len(seen))
        missing = next(iter(sorted(self._wanted_files - seen)), None)
        if missing is not None:
            raise self._archive.refusal("want-whole-file", digest=missing[:64])

    def _refuse_more(self, part: str, found: int) -> None:
        if found > getattr(self._counts, part):
            raise self._archive.refusal("want-whole-count", part=part)

    def _refuse_other_count(self, part: str, found: int) -> None:
        if found != getattr(self._counts, part):
            raise self._archive.refusal("want-whole-count", part=part)


def _is_plain(entry: Entry) -> bool:
    """What it is filed under are texts that can be kept."""
    texts = (entry.kind, entry.subject, entry.at, entry.who)
    try:
        return all(isinstance(text, str) and text.encode() is not None for text in texts)
    except UnicodeEncodeError:
        return False


def _is_name(text: object, salt: object) -> bool:
    """A salt as this program makes it, and a text that may be the name of a person.

    One digest stands for both, written one after the other: with a salt of one length there is one way to
    part them.
    """
    if not isinstance(text, str) or not isinstance(salt, str) or not SALT.fullmatch(salt):
        return False
    is_printable = all(sign.isprintable() or sign in "\n\t" for sign in text)
    return text == text.strip() and 0 < len(text) <= LONGEST_NAME and is_printable


def _three(row: Mapping[str, Any], *names: str) -> tuple[Any, Any, Any]:
    """What stands in a row under three names; None where nothing does."""
    first, second, third = (row.get(name) for name in names)
    return first, second, third
