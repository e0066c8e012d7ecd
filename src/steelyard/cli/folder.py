"""Which workshop a command is about."""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.bootstrap import Workshop


def folder_argument(parser: argparse.ArgumentParser) -> None:
    """The option that names another folder than the person's own."""
    parser.add_argument("--data", type=Path, metavar="DIR", help=say("option-data"))


@contextmanager
def opened(read: argparse.Namespace) -> Iterator["Workshop"]:
    """The workshop that is meant. Raises NotFound where none is there, StoreTrouble."""
    from steelyard.bootstrap import existing_workshop, find_folder

    with existing_workshop(find_folder(read.data)) as workshop:
        yield workshop
