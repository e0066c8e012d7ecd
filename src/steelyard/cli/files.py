"""A check form that a person named: its options, and reading it."""

import argparse
from pathlib import Path

from steelyard.errors import InputRefused, NotFound
from steelyard.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of every part that answers about one check form."""
    parser.add_argument("file", metavar="FILE", help=say("option-file"))
    parser.add_argument("--json", action="store_true", help=say("option-json"))


def read_file(name: str | Path, *, largest: int | None = None, field: str = "the file") -> bytes:
    """The bytes of a file, at most one more than is allowed.

    largest: of a check form where nothing is said. [bytes] field: of a refusal.
    Raises NotFound where it is not there, InputRefused where it is no file that can be read.
    """
    from steelyard.desk import LARGEST_BYTES

    try:
        with Path(name).open("rb") as file:
            return file.read((LARGEST_BYTES if largest is None else largest) + 1)
    except FileNotFoundError:
        raise NotFound(str(name)) from None
    except (OSError, ValueError):
        raise InputRefused(field, name, "want-readable-file") from None
