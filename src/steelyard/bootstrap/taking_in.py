"""A table out of a file joined with the desk: tried, and kept where it is still the file that was tried."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

from steelyard.desk import Acting, OnStep
from steelyard.desk.ports import Streamed
from steelyard.desk.taking_in import Fate, Incoming, Tally, kept, tried, what_is_meant
from steelyard.errors import InputRefused
from steelyard.sheets.reading import Sheet, opened_sheet

TOKEN_DIGITS = 16
"""Of a file's digest, behind the token of a submission."""


@dataclass(frozen=True)
class Tried:
    """What trying a file found.

    what: it holds. digest: of its bytes, SHA-256. is_whole: it was not stopped. tally: of its rows.
    """

    what: str
    file: str
    digest: str
    is_whole: bool
    tally: Tally = field(default_factory=Tally)


def try_table(
    acting: Acting,
    path: Path,
    *,
    asked: str = "",
    name: str = "",
    each: Callable[[Fate], object] | None = None,
    on_step: OnStep | None = None,
) -> Tried:
    """What becomes of every row; nothing is written.

    path: of the file; name: as the person knows it, that of the path where it is left out. asked: what it is
    said to hold, empty to find out. each: told the fate of each row. Raises InputRefused (`file`, `what`).
    """
    digest, tally = digest_of_file(path), Tally()
    with opened_sheet(path) as sheet:
        what = what_is_meant(asked, sheet.columns, sheet.what)
        incoming = _incoming(sheet, what, name or path.name, digest=digest)
        for fate in tried(acting, incoming, on_step=on_step):
            tally.add(fate)
            if each is not None:
                each(fate)
    return Tried(what, name or path.name, digest, tally.count == sheet.count, tally)


def keep_table(acting: Acting, path: Path, tried: Tried, *, on_step: OnStep | None = None) -> Streamed | None:
    """Write the new rows of the file that was tried, all of them or none; None where it was stopped.

    Raises InputRefused: `file` where it is another file by now or rows are refused, the row and its column
    where somebody wrote meanwhile. Raises StoreTrouble.
    """
    if tried.tally.refused or not tried.is_whole:
        raise InputRefused("file", tried.file, "want-mended-file", count=tried.tally.refused)
    if digest_of_file(path) != tried.digest:
        raise InputRefused("file", tried.file, "want-same-file")
    acting = _for_file(acting, tried.digest)
    with opened_sheet(path) as sheet:
        incoming = _incoming(sheet, tried.what, tried.file, digest=tried.digest)
        tally = tried.tally
        return kept(acting, incoming, new=tally.new, names=tally.names, on_step=on_step)


def kept_before(acting: Acting, path: Path) -> Streamed | None:
    """What this very submission wrote of this file before; None where it did not."""
    acting = _for_file(acting, digest_of_file(path))
    if acting.submission is None or acting.ledger.first_of(acting.submission) is None:
        return None
    return acting.ledger.append_stream(lambda _find: (), acting.stamp(), submission=acting.submission)


def _for_file(acting: Acting, digest: str) -> Acting:
    """The token of a submission goes with one file: another file is another submission."""
    token = acting.submission
    return replace(acting, submission=f"{token} {digest[:TOKEN_DIGITS]}" if token else None)


def digest_of_file(path: Path) -> str:
    """SHA-256 of its bytes, hexadecimal. Raises InputRefused (`file`)."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        raise InputRefused("file", path.name, "want-readable-file") from None


def _incoming(sheet: Sheet, what: str, name: str, *, digest: str) -> Incoming:
    return Incoming(what, name, sheet.columns, sheet.rows, sheet.count, digest)
