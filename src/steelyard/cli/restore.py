"""`steelyard restore COPY`: a backup takes the place of the workshop's ledger, which is kept."""

import argparse
from pathlib import Path

from steelyard.cli.folder import folder_argument
from steelyard.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("copy", type=Path, metavar="COPY", help=say("option-copy"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Put the copy in its place, say where the old one is; returns 0."""
    from steelyard.bootstrap import find_folder, restore_workshop

    folder = find_folder(read.data)
    aside = restore_workshop(read.copy, folder)
    print(say("restore-done", copy=read.copy, folder=folder))
    if aside is not None:
        print(say("restore-aside", aside=aside))
    return 0
