"""Backups: online copies, verified, by hand or once a day; and the way back."""

import os
import re
from collections.abc import Iterable
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path

from steelyard.errors import Busy, Damaged, NotFound, StoreTrouble
from steelyard.store.copying import PASSING, copied, digest_at, is_free, last_number, move
from steelyard.store.files import FOLDER_MODE, flush, free_name, unused
from steelyard.store.ledger import SqlLedger
from steelyard.store.trouble import told
from steelyard.words import say

DAYS, MONTHS = 14, 24
"""How many daily backups are kept, and how many months' first ones."""
CHAIN_DIGITS = 8


def back_up(source: SqlLedger | Path, folder: Path, *, now: datetime) -> Path:
    """A verified copy of a ledger in a folder, named by the time in the workshop; others may write meanwhile.

    Raises NotFound, Damaged, Busy, Full, ReadOnly.
    """
    path = _path_of(source)
    name = f"{_stem(path)}-{now:%Y-%m-%d-%H%M%S}.sqlite3"
    return _laid(path, unused(folder / name))


def back_up_daily(
    source: SqlLedger | Path, folder: Path, *, now: datetime, afresh: bool = False
) -> Path | None:
    """The backup of the day, where there is none yet.

    afresh: one that is there already is made anew, unless nothing was written since.
    Of older ones 14 days and the first of 24 months are kept; it deletes only what it made itself, of the
    same ledger. Returns None where the day has its backup already, or nothing is written down yet.
    Raises as `back_up`.
    """
    path = _path_of(source)
    if digest_at(path, 1) is None:
        return None
    stem = f"{_stem(path)}-daily-"
    final = folder / f"{stem}{now:%Y-%m-%d}.sqlite3"
    if final.exists() and not (afresh and _is_behind(final, path)):
        return None
    _laid(path, final)
    with told(str(folder)):
        _thin_out(folder, re.escape(stem) + r"(\d{4}-\d\d-\d\d)\.sqlite3", now.date())
    return final


def last_backup(source: SqlLedger | Path, folder: Path) -> date | None:
    """Day of the newest backup of a ledger in a folder; None where there is none.

    Raises NotFound, StoreTrouble.
    """
    pattern = re.compile(re.escape(_stem(_path_of(source))) + r"-(?:daily-)?(\d{4}-\d\d-\d\d)[-\d]*\.sqlite3")
    with told(str(folder)):
        days = [day for day, _ in _dated(folder, pattern)]
    return max(days, default=None)


def restore(copy: Path, to: Path) -> Path | None:
    """Put a copy where the ledger is; what is there is moved into `copies/` beside it, never overwritten.

    Returns where it was moved, None where nothing was there. The copy is verified first and stays as it is.
    Raises NotFound, Damaged, TooNew, Busy where another program holds the ledger, Full, ReadOnly.
    """
    if not copy.is_file():
        raise NotFound(str(copy))
    with told(str(to)):
        to.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    with copied(copy, to) as (passing, _):
        aside = lay_aside(to, "replaced") if to.exists() else None
        with told(str(to)):
            os.replace(passing, to)
            flush(to)
        return aside


def lay_aside(path: Path, why: str) -> Path:
    """Move a ledger into `copies/` beside it, where nothing opens it by itself; returns its new place.

    why: a word for its name. Raises Busy where another program holds it, Full, ReadOnly.
    """
    if not is_free(path):
        raise Busy(str(path))
    with told(str(path)):
        aside = free_name(path, why)
    move(path, aside)
    return aside


def _path_of(source: SqlLedger | Path) -> Path:
    path = source.path if isinstance(source, SqlLedger) else source
    if not path.is_file():
        raise NotFound(str(path))
    return path


def _stem(path: Path) -> str:
    """Begins the name of a backup: file and chain, so that two workshops may share a folder."""
    first = digest_at(path, 1)
    return f"{path.stem}-{first[:CHAIN_DIGITS] if first else 'empty'}"


def _laid(path: Path, final: Path) -> Path:
    with told(str(final.parent)):
        final.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    with copied(path, final) as (passing, head):
        if head.number and digest_at(path, head.number) != head.digest:
            raise Damaged(str(final), what=say("damaged-other"))
        with told(str(final.parent)):
            os.replace(passing, final)
            flush(final)
    return final


def _is_behind(copy: Path, path: Path) -> bool:
    """Something was written since a copy was made; so too where the copy cannot be read any more."""
    try:
        return last_number(copy) != last_number(path)
    except StoreTrouble:
        return True


def _dated(folder: Path, pattern: re.Pattern[str]) -> Iterable[tuple[date, Path]]:
    """Backups in a folder with the days in their names; what is named by no day of the calendar is passed
    over."""
    if not folder.is_dir():
        return
    for path in folder.iterdir():
        match = pattern.fullmatch(path.name)
        if match is None:
            continue
        with suppress(ValueError):
            yield date.fromisoformat(match[1]), path


def _thin_out(folder: Path, pattern: str, today: date) -> None:
    """Delete what is neither among the newest days nor the first of one of the newest months; and scraps."""
    by_day = dict(sorted(_dated(folder, re.compile(pattern))))
    first_of_month: dict[tuple[int, int], date] = {}
    for day in by_day:
        first_of_month.setdefault((day.year, day.month), day)
    kept = {today, *list(by_day)[-DAYS:], *list(first_of_month.values())[-MONTHS:]}
    for day, path in by_day.items():
        if day not in kept:
            path.unlink(missing_ok=True)
    for day, path in list(_dated(folder, re.compile(rf"\.{pattern}-.+{re.escape(PASSING)}"))):
        if day < today:
            path.unlink(missing_ok=True)
