"""`steelyard backup`: a copy of the workshop's ledger that was read back."""

import argparse
from pathlib import Path

from steelyard.cli.folder import folder_argument, opened
from steelyard.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    folder_argument(parser)
    parser.add_argument("--to", type=Path, metavar="DIR", help=say("option-to-folder"))


def answer(read: argparse.Namespace) -> int:
    """Copy, say where; returns 0."""
    with opened(read) as workshop:
        print(say("backup-made", copy=workshop.back_up(read.to)))
    return 0
