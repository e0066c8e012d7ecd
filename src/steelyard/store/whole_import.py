"""A whole workshop from its zip into an empty folder: every digest is checked; all of it comes, or nothing.

It is put together in one transaction, in a file under a passing name; that file is read back and only then
takes the place of the ledger. Whoever is killed before leaves a scrap with that name, which the next one
clears away.
"""

import os
import re
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from steelyard.errors import Damaged, NotFound
from steelyard.store.copying import PASSING, verify_copy
from steelyard.store.files import FOLDER_MODE, flush
from steelyard.store.ledger import SqlLedger
from steelyard.store.opening import open_ledger
from steelyard.store.reading import UNREADABLE, count_entries
from steelyard.store.rebuild import fold_everything
from steelyard.store.schema import ENTRY, FILE, NAME, SUBMISSION
from steelyard.store.steps import OnStep, Steps, Stopped
from steelyard.store.trouble import told
from steelyard.store.whole_archive import WholeArchive, opened_archive
from steelyard.store.whole_chain import WholeChain
from steelyard.store.whole_form import WholeCounts

ROWS_AT_ONCE = 500


def take_whole_workshop(
    zip_path: Path,
    ledger: Path,
    *,
    make_room: Callable[[WholeCounts], None],
    on_step: OnStep | None = None,
    field: str = "zip",
) -> WholeCounts | None:
    """Put the ledger in a zip where none is; returns what came, None where it was stopped.

    ledger: of its file; its folder is made. make_room: called when all is read and holds, just before the
    ledger takes its place, which must be free then. on_step: two steps for each entry, one for each name,
    submission and file.
    field: of what was given, for a refusal.
    Raises NotFound where the zip is not there; InputRefused where it is none, breaks its chain, lacks
    something, holds something else or too much; other StoreTrouble. Then nothing is there that was not.
    """
    if not zip_path.is_file():
        raise NotFound(str(zip_path))
    with told(str(ledger.parent)):
        ledger.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        _clear_scraps(ledger)
    try:
        with opened_archive(zip_path, field=field) as archive, _passing(ledger) as passing:
            _fill(passing, archive, on_step)
            head = verify_copy(passing, ledger)
            if (head.number, head.digest) != (archive.counts.head_number, archive.counts.head_digest):
                raise archive.refusal("want-whole-readable-entries")
            make_room(archive.counts)
            with told(str(ledger)):
                os.replace(passing, ledger)
                flush(ledger)
            return archive.counts
    except Stopped:
        return None


@contextmanager
def _passing(ledger: Path) -> Iterator[Path]:
    """A name beside a ledger for one that is not finished; what is left of it is deleted in the end."""
    with told(str(ledger.parent)):
        handle, name = tempfile.mkstemp(PASSING, f".{ledger.name}-", ledger.parent)
        os.close(handle)
    passing = Path(name)
    try:
        yield passing
    finally:
        _delete(passing)


def _delete(passing: Path) -> None:
    for suffix in ("", "-wal", "-shm", "-journal"):
        with suppress(OSError):
            passing.with_name(passing.name + suffix).unlink(missing_ok=True)


def _clear_scraps(ledger: Path) -> None:
    """Delete what an earlier one left that was killed."""
    scrap = re.compile(rf"\.{re.escape(ledger.name)}-.+{re.escape(PASSING)}")
    for path in list(ledger.parent.iterdir()):
        if scrap.fullmatch(path.name):
            _delete(path)


def fill_empty_ledger(
    zip_path: Path, ledger: SqlLedger, *, on_step: OnStep | None = None, field: str, is_demo: bool
) -> WholeCounts | None:
    """Put what a zip holds into a ledger that is open and in which nothing is written yet, in one
    transaction; returns what came, None where it was stopped.

    is_demo: of the workshop; one that is made up goes into such a one alone. on_step, refusals: as of
    `take_whole_workshop`; besides InputRefused (`field`) where something is written.
    """
    try:
        with opened_archive(zip_path, field=field) as archive:
            if archive.counts.is_demo and not is_demo:
                raise archive.refusal("want-no-demo-workshop")
            with told(ledger.place), ledger.writer.begin() as connection:
                if count_entries(connection):
                    raise archive.refusal("want-workshop-not-begun")
                _put_all(connection, archive, on_step, ledger.place)
            return archive.counts
    except Stopped:
        return None


def _fill(path: Path, archive: WholeArchive, on_step: OnStep | None) -> None:
    """Everything in one transaction; the file is one without a log afterwards."""
    with open_ledger(path) as ledger:
        with told(ledger.place), ledger.writer.connect() as connection, connection.begin():
            _put_all(connection, archive, on_step, ledger.place)
        _leave_log(ledger)


def _put_all(connection: sa.Connection, archive: WholeArchive, on_step: OnStep | None, place: str) -> None:
    counts = archive.counts
    steps = Steps(on_step, 2 * counts.entries + counts.names + counts.submissions + counts.files)
    chain = WholeChain(archive)
    _put(connection, ENTRY, chain.entry_rows(steps))
    _put(connection, NAME, chain.name_rows(steps))
    _put(connection, SUBMISSION, chain.submission_rows(steps))
    for row in chain.file_rows(steps):
        connection.execute(sa.insert(FILE), row)
    try:
        fold_everything(connection, steps, place)
    except (Damaged, *UNREADABLE):
        raise archive.refusal("want-whole-readable-entries") from None


def _leave_log(ledger: SqlLedger) -> None:
    with told(ledger.place), ledger.engine.connect() as connection:
        raw: Any = connection.connection.driver_connection
        raw.execute("PRAGMA journal_mode=DELETE").close()


def _put(connection: sa.Connection, table: sa.Table, rows: Iterator[dict[str, Any]]) -> None:
    batch: list[dict[str, Any]] = []
    for row in rows:
        batch.append(row)
        if len(batch) == ROWS_AT_ONCE:
            connection.execute(sa.insert(table), batch)
            batch = []
    if batch:
        connection.execute(sa.insert(table), batch)
