"""`steelyard import FILE`: a table of tools, references, records or pulls, tried and kept; or a workshop."""

import argparse
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.progress import stoppable_steps
from steelyard.cli.sentences import wrapped
from steelyard.errors import InputRefused, NotFound
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.bootstrap import Workshop
    from steelyard.bootstrap.taking_in import Tried
    from steelyard.desk.taking_in import Fate

SHOWN = 20
"""Refused rows that are printed."""
WHATS = ("rack", "rigs", "history", "records", "pulls")
DEVICE = "command line"
SHEET_PARTS = ("xl/workbook.xml", "content.xml")
"""What a zip holds that is a spreadsheet, not a workshop."""
REFUSED = 3


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("file", type=Path, metavar="FILE", help=say("option-import-file"))
    told = say("option-import-what", names=", ".join(WHATS))
    parser.add_argument("--what", choices=WHATS, default="", help=told)
    parser.add_argument("--keep", action="store_true", help=say("option-import-keep"))
    parser.add_argument("--fates", type=Path, metavar="FILE.csv", help=say("option-import-fates"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Try the file, keep it where that is wanted; returns 0, or 3 where rows are refused."""
    if not read.file.exists():
        raise NotFound(str(read.file))
    if _is_workshop(read.file):
        return _workshop(read)
    with opened(read) as workshop, _rows_listed(read.fates) as each:
        return _table(workshop, read, each)


def _table(workshop: "Workshop", read: argparse.Namespace, each: "Callable[[Fate], object] | None") -> int:
    from steelyard.bootstrap.taking_in import try_table

    acting = workshop.acting(device=DEVICE)
    with stoppable_steps() as steps:
        tried = try_table(acting, read.file, asked=read.what, each=each, on_step=steps)
    if not tried.is_whole:
        raise KeyboardInterrupt
    print("\n".join(wrapped(_lines(tried, read.fates))))
    if tried.tally.refused:
        print(say("import-nothing-kept"))
        return REFUSED
    if not tried.tally.new:
        print(say("import-nothing-new"))
    elif read.keep:
        _keep(workshop, read.file, tried)
    else:
        print(say("import-try-only"))
    return 0


def _keep(workshop: "Workshop", file: Path, tried: "Tried") -> None:
    from steelyard.bootstrap.taking_in import keep_table

    with stoppable_steps() as steps:
        written = keep_table(workshop.acting(device=DEVICE), file, tried, on_step=steps)
    if written is None:
        raise KeyboardInterrupt
    last = written.first + written.count - 1
    print(say("import-kept", count=written.count, first=written.first, last=last))


def _lines(tried: "Tried", fates: Path | None) -> Iterator[str]:
    """The counts, then the refused rows."""
    tally = tried.tally
    yield say("import-tried", file=tried.file, count=tally.count)
    for code, count in (
        ("in-count-refused", tally.refused),
        ("in-count-new", tally.new),
        ("in-count-there", tally.there),
    ):
        if count:
            yield say("import-count", text=say(code, count=count))
    for fate in tally.first_refused[:SHOWN]:
        code = "import-row" if fate.name else "import-row-unnamed"
        yield say(code, row=fate.row, name=fate.name, sentence=fate.sentence)
    if tally.refused > SHOWN:
        yield say("import-more", count=tally.refused - SHOWN)
    if fates is not None:
        yield say("import-fates", file=fates)


@contextmanager
def _rows_listed(fates: Path | None) -> "Iterator[Callable[[Fate], object] | None]":
    if fates is None:
        yield None
        return
    from steelyard.sheets.fates_file import fates_file

    with fates_file(fates) as each:
        yield each


def _is_workshop(file: Path) -> bool:
    """A zip that is no spreadsheet."""
    if not zipfile.is_zipfile(file):
        return False
    with zipfile.ZipFile(file) as packed:
        return not set(packed.namelist()) & set(SHEET_PARTS)


def _workshop(read: argparse.Namespace) -> int:
    """A whole workshop into a new folder."""
    from steelyard.bootstrap import take_in_workshop

    for option, given in (("--keep", read.keep), ("--what", read.what), ("--fates", read.fates)):
        if given:
            raise InputRefused(option, None, "want-no-keep")
    if read.data is None:
        raise InputRefused("--data", None, "want-new-folder")
    with stoppable_steps() as steps:
        counts = take_in_workshop(read.file, read.data, steps)
    if counts is None:
        raise KeyboardInterrupt
    print(say("import-workshop", folder=read.data, count=counts.entries))
    return 0
