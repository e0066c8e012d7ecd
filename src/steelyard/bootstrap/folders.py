"""Where a workshop lies, and what puts another ledger in its place."""

from pathlib import Path

from steelyard.bootstrap.one_server import one_server
from steelyard.bootstrap.opened import DEMO_FILE, LEDGER_FILE
from steelyard.desk import Head
from steelyard.errors import InputRefused, NotFound, Served
from steelyard.store import has_key_file, lay_aside, move_key, open_ledger, restore, told

MOVED = "moved-to.txt"
"""Stands in the folder a workshop was moved away from; its first line is where to."""


def own_folder() -> Path:
    """The folder of the person's own workshop, as the system has it."""
    from platformdirs import user_data_path

    return user_data_path("steelyard", appauthor=False)


def find_folder(folder: Path | None = None) -> Path:
    """The folder a workshop lies in now: it is followed to where it was moved.

    folder: None for the person's own. It need not be there, unless a workshop was moved there.
    Raises NotFound where it was, and is not.
    """
    start = found = (folder or own_folder()).absolute()
    passed = {found}
    while not (found / LEDGER_FILE).exists():
        onward = _moved_to(found)
        if onward is None or onward in passed:
            if found != start:
                raise NotFound(str(found / LEDGER_FILE))
            break
        passed.add(onward)
        found = onward
    return found


def _moved_to(folder: Path) -> Path | None:
    try:
        line = (folder / MOVED).read_text("utf-8").partition("\n")[0].strip()
    except (OSError, ValueError):
        return None
    return Path(line) if line else None


def restore_workshop(copy: Path, folder: Path) -> Path | None:
    """Put a backup in the place of a workshop's ledger; returns where the old one was moved, if there was
    one.

    Raises NotFound, Damaged, TooNew, Served, Busy where the workshop is open somewhere else, Full, ReadOnly.
    """
    ledger = folder / LEDGER_FILE
    with one_server(folder) as server:
        if server.other is not None:
            raise Served(str(ledger), address=server.other)
        return restore(copy, ledger)


def move_workshop(folder: Path, to: Path) -> Path:
    """Put a workshop's ledger into another folder; the old one is laid aside and a note left where to look.

    The copy is read back before the old one is touched. The key goes with it; backups stay where they are.
    Returns where the old ledger is now. Raises NotFound, InputRefused where a workshop or the key of
    one lies there already, Served, Busy where this one is open somewhere else, other StoreTrouble.
    """
    old, new = folder / LEDGER_FILE, to / LEDGER_FILE
    if new.exists() or has_key_file(to):
        raise InputRefused("DIR", to, "want-empty-folder")
    if not old.is_file():
        raise NotFound(str(old))
    with one_server(folder) as server:
        if server.other is not None:
            raise Served(str(old), address=server.other)
        restore(old, new)
        try:
            with told(str(folder)):
                (to / MOVED).unlink(missing_ok=True)
                (folder / MOVED).write_text(f"{to}\n", "utf-8")
                if (folder / DEMO_FILE).exists():
                    (to / DEMO_FILE).touch()
            aside = lay_aside(old, "moved")
        except BaseException:
            new.unlink()
            (folder / MOVED).unlink(missing_ok=True)
            raise
        if _head(aside) != _head(new):
            restore(aside, new)
        move_key(folder, to)
        return aside


def _head(ledger: Path) -> Head:
    with open_ledger(ledger) as opened:
        return opened.head()
