"""`steelyard export RECORD`: a record in the check form, as `steelyard check` reads it."""

import argparse
import sys
from pathlib import Path

from steelyard.cli.folder import folder_argument, opened
from steelyard.errors import InputRefused
from steelyard.words import say

PHASES = ("as-found", "as-left")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("record", type=int, metavar="RECORD", help=say("option-record"))
    parser.add_argument("--phase", choices=PHASES, help=say("option-phase"))
    parser.add_argument("--out", type=Path, metavar="FILE", help=say("option-out"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Write the form to a new file or to standard output; returns 0."""
    from steelyard.desk import record_form

    with opened(read) as workshop:
        form = record_form(workshop.ledger, read.record, read.phase)
    if read.out is None:
        sys.stdout.flush()
        sys.stdout.buffer.write(form)
        sys.stdout.buffer.flush()
        return 0
    _write_new(read.out, form)
    print(say("export-done", record=read.record, file=read.out))
    return 0


def _write_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet. Raises InputRefused."""
    try:
        with path.open("xb") as file:
            file.write(content)
    except FileExistsError:
        raise InputRefused("--out", path, "want-new-file") from None
    except OSError:
        raise InputRefused("--out", path, "want-writable-file") from None
