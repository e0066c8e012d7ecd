"""A whole workshop out of its folder, as one zip, and into an empty one."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.metadata import version
from pathlib import Path

from steelyard.bootstrap.folders import MOVED
from steelyard.bootstrap.one_server import FILE as SERVER_FILE
from steelyard.bootstrap.one_server import one_server
from steelyard.bootstrap.opened import DEMO_FILE, LEDGER_FILE, Workshop
from steelyard.errors import InputRefused, NotFound, Served
from steelyard.store import (
    OnStep,
    SqlLedger,
    WholeCounts,
    fill_empty_ledger,
    lay_aside,
    open_ledger,
    take_whole_workshop,
    told,
    whole_workshop,
)

THE_FILE = "the file"
"""The field by which a command speaks of what it was given."""
WHOLE_FILE = "workshop.zip"


def has_zip(opened: Workshop) -> bool:
    """A workshop that lies in a file can be taken away whole."""
    return isinstance(opened.ledger, SqlLedger)


def workshop_zip(opened: Workshop, on_step: OnStep | None = None) -> Iterator[bytes]:
    """The bytes of a zip with everything that is kept in a workshop, names and files too, piece by piece.

    on_step: each entry and each file is one step; where it stops, the zip breaks off and opens nowhere.
    Raises NotFound for a ledger in memory; while it is read Damaged, other StoreTrouble.
    """
    if not isinstance(opened.ledger, SqlLedger):
        raise NotFound(LEDGER_FILE)
    return whole_workshop(
        opened.ledger, program=version("steelyard"), is_demo=opened.is_demo, on_step=on_step
    )


def take_in_workshop(
    zip_path: Path, folder: Path, on_step: OnStep | None = None, *, field: str = THE_FILE
) -> WholeCounts | None:
    """Put a whole workshop from a zip into an empty folder: all of it, or nothing.

    folder: made where it is not there; a ledger in which nothing was written yet counts as none, and is laid
    aside. The mark of a made-up workshop comes with it. on_step: told how far it is; False stops.
    Returns what came; None where it was stopped, then the folder is as it was, gone where it was made.
    field: of a refusal.
    Raises NotFound where the zip is not there; InputRefused where something is written in the folder's ledger
    (`--data`), or the zip does not hold (`field`); Served, other StoreTrouble. Nothing is written then, but
    for the empty file that is the lock of the server, in a folder that was there.
    """
    if not zip_path.is_file():
        raise NotFound(str(zip_path))
    ledger = folder / LEDGER_FILE
    with _made(folder), one_server(folder) as server:
        if server.other is not None:
            raise Served(str(ledger), address=server.other)
        _refuse_written(folder, ledger)

        def make_room(counts: WholeCounts) -> None:
            if ledger.exists():
                lay_aside(ledger, "empty")
            with told(str(folder)):
                (folder / MOVED).unlink(missing_ok=True)
                if counts.is_demo:
                    (folder / DEMO_FILE).touch()
                else:
                    (folder / DEMO_FILE).unlink(missing_ok=True)

        return take_whole_workshop(zip_path, ledger, make_room=make_room, on_step=on_step, field=field)


def bring_whole_workshop(
    opened: Workshop, zip_path: Path, on_step: OnStep | None = None, *, field: str = THE_FILE
) -> WholeCounts | None:
    """Put a whole workshop from a zip into one that is open and was not begun: all of it, or nothing.

    Returns what came; None where it was stopped. Raises as `take_in_workshop`; InputRefused (`field`) where
    something is written already, or the zip is of a made-up workshop; NotFound for a ledger in memory.
    """
    if not isinstance(opened.ledger, SqlLedger):
        raise NotFound(LEDGER_FILE)
    return fill_empty_ledger(zip_path, opened.ledger, on_step=on_step, field=field, is_demo=opened.is_demo)


@contextmanager
def _made(folder: Path) -> Iterator[None]:
    """A folder that is there; one that was made is taken away in the end, with those above it that were made
    too, where nothing but the lock of the server came into it."""
    made = [each for each in (folder, *folder.parents) if not each.exists()]
    with told(str(folder)):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        yield
    finally:
        with suppress(OSError):
            if made and [path.name for path in folder.iterdir()] == [SERVER_FILE]:
                (folder / SERVER_FILE).unlink()
            for each in made:
                each.rmdir()


def _refuse_written(folder: Path, ledger: Path) -> None:
    """Raise InputRefused where something is written in a ledger already."""
    if not ledger.exists():
        return
    with open_ledger(ledger) as opened:
        if opened.head().number:
            raise InputRefused("--data", folder, "want-empty-folder")
