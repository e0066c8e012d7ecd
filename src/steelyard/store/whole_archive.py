"""The zip of a whole workshop, opened: its parts are held against the form before any of them is read."""

import json
import re
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from steelyard.errors import InputRefused
from steelyard.store.trouble import told
from steelyard.store.whole_form import (
    FILE_NAME,
    FORM,
    FREE_BYTES,
    LARGEST_FILE,
    LARGEST_RATIO,
    LONGEST_HEAD,
    LONGEST_LINE,
    MARK,
    MOST_PARTS,
    PARTS,
    WORKSHOP,
    WholeCounts,
)

HOW = {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}
ENCRYPTED = 0x1
"""Flag of a part that is locked. Source: APPNOTE.TXT of the zip format, 4.4.4."""
BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, UnicodeDecodeError)
"""What the reader of zips raises at one that breaks off or was tampered with."""
DIGEST = re.compile(r"[0-9a-f]{64}")
MOST_COUNTED = 2**53


class WholeArchive:
    """A zip whose parts have the names and sizes they may have. counts: what it says it holds."""

    def __init__(self, archive: zipfile.ZipFile, name: str, *, packed_bytes: int, field: str) -> None:
        self._archive, self._name, self._field = archive, name, field
        self._refuse_parts(packed_bytes)
        self.counts = self._read_counts()
        if self.counts.files != len(self._archive.infolist()) - len(PARTS):
            raise self.refusal("want-whole-count", part="files")

    def refusal(self, wanted: str, **facts: object) -> InputRefused:
        """The refusal of this file, to be raised."""
        return InputRefused(self._field, self._name, wanted, **facts)

    def _refuse_parts(self, packed_bytes: int) -> None:
        parts = self._archive.infolist()
        seen: set[str] = set()
        for part in parts:
            # the name as it stands in the zip: `filename` was cut and turned to slashes
            if part.orig_filename not in PARTS and not FILE_NAME.fullmatch(part.orig_filename):
                raise self.refusal("want-whole-parts", part=part.orig_filename[:80])
            if part.filename in seen:
                raise self.refusal("want-whole-once", part=part.filename)
            if part.flag_bits & ENCRYPTED or part.compress_type not in HOW:
                raise self.refusal("want-whole-plain", part=part.filename)
            seen.add(part.filename)
        missing = next((name for name in PARTS if name not in seen), None)
        if missing is not None:
            raise self.refusal("want-whole-workshop", part=missing)
        if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > _most_bytes(packed_bytes):
            raise self.refusal("want-whole-size")

    def _read_counts(self) -> WholeCounts:
        with self._reading(WORKSHOP), self._archive.open(WORKSHOP) as part:
            content = part.read(LONGEST_HEAD + 1)
        said = self._json(content, WORKSHOP) if len(content) <= LONGEST_HEAD else {}
        form = said.get(MARK)
        if type(form) is int and form > FORM:
            raise self.refusal("want-whole-older", form=form, known=FORM)
        try:
            return _counts(said, form)
        except (ValueError, TypeError, KeyError):
            raise self.refusal("want-whole-workshop", part=WORKSHOP) from None

    def lines(self, name: str) -> Iterator[bytes]:
        """The lines of a part without their ends; each of bounded length, the last one ended too."""
        with self._reading(name), self._archive.open(name) as part:
            while line := part.readline(LONGEST_LINE + 2):
                if not line.endswith(b"\n"):
                    raise self.refusal("want-whole-line", part=name)
                yield line[:-1]

    def rows(self, name: str) -> Iterator[dict[str, Any]]:
        """The rows of a part."""
        for line in self.lines(name):
            yield self._json(line, name)

    def content(self, name: str, size: int) -> bytes | None:
        """The bytes of a file kept; None where none is there. size: as it was said."""
        if size > LARGEST_FILE:
            raise self.refusal("want-whole-size")
        try:
            part = self._archive.getinfo(name)
        except KeyError:
            return None
        with self._reading(name), self._archive.open(part) as opened:
            return opened.read(size + 1)

    def _json(self, content: bytes, name: str) -> dict[str, Any]:
        try:
            row = json.loads(content.decode())
            json.dumps(row, ensure_ascii=False).encode()  # half a character cannot be kept
        except (ValueError, RecursionError):
            row = None
        if not isinstance(row, dict):
            raise self.refusal("want-whole-line", part=name)
        return row

    @contextmanager
    def _reading(self, name: str) -> Iterator[None]:
        try:
            yield
        except BROKEN as error:
            raise self.refusal("want-whole-readable", part=name) from error


def _most_bytes(packed_bytes: int) -> int:
    return LARGEST_RATIO * packed_bytes + FREE_BYTES


def _counts(said: dict[str, Any], form: object) -> WholeCounts:
    """What `workshop.json` says. Raises ValueError, TypeError, KeyError."""
    head, counts = said["head"], said["counts"]
    numbers = [head["number"], *(counts[name] for name in ("entries", "names", "submissions", "files"))]
    is_plain = all(type(number) is int and 0 <= number <= MOST_COUNTED for number in numbers)
    if type(form) is not int or form != FORM or not is_plain or type(said["is_demo"]) is not bool:
        raise ValueError
    if not DIGEST.fullmatch(head["digest"]) or numbers[0] != numbers[1]:
        raise ValueError
    number, entries, names, submissions, files = numbers
    return WholeCounts(number, head["digest"], entries, names, submissions, files, said["is_demo"])


@contextmanager
def opened_archive(path: Path, *, field: str) -> Iterator[WholeArchive]:
    """A zip, opened. field: of a refusal. Raises InputRefused, StoreTrouble."""
    with told(str(path)):
        packed_bytes = path.stat().st_size
    try:
        with told(str(path)):
            archive = zipfile.ZipFile(path)
    except BROKEN:
        raise InputRefused(field, path.name, "want-whole-zip") from None
    with archive:
        yield WholeArchive(archive, path.name, packed_bytes=packed_bytes, field=field)
