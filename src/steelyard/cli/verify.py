"""`steelyard verify [FILE]`: whether a record in a file is as it was signed; without one, the ledger."""

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.files import read_file
from steelyard.cli.folder import folder_argument
from steelyard.cli.sentences import wrapped
from steelyard.errors import NotFound
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk import Ledger
    from steelyard.proof.holding import Held

STATUS, CANT_TELL = {"intact": 0, "changed": 10, "disputed": 10}, 11


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("file", metavar="FILE", nargs="?", type=Path, help=say("option-proof-file"))
    parser.add_argument("--fingerprint", default="", metavar="F", help=say("option-fingerprint"))
    parser.add_argument("--json", action="store_true", help=say("option-proof-json"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Say what it is worth; returns 0 where it is intact, 10 where it was changed, 11 where nobody can tell.

    Without a file as `steelyard store verify`.
    """
    if read.file is None:
        from steelyard.cli import store

        return store.verify(argparse.Namespace(data=read.data, entry=None, digest=None))
    held = _held(read)
    print(json.dumps(_table(held), ensure_ascii=False, indent=2) if read.json else "\n".join(_lines(held)))
    return STATUS.get(held.standing.value, CANT_TELL)


def _held(read: argparse.Namespace) -> "Held":
    """A file against the workshop's own keys and ledger; where there is no workshop, against itself alone."""
    from steelyard.bootstrap import existing_workshop, find_folder
    from steelyard.proof import hold
    from steelyard.proof.holding import LARGEST_BYTES

    content = read_file(read.file, largest=LARGEST_BYTES, field="FILE")
    try:
        with existing_workshop(find_folder(read.data)) as workshop:
            return hold(content, workshop.ledger, told=read.fingerprint)
    except NotFound:
        if read.data is not None:
            raise
        return hold(content, _nobodys(), told=read.fingerprint)


def _nobodys() -> "Ledger":
    """A ledger in which nothing is written: an auditor has no workshop."""
    from steelyard.bootstrap import empty_ledger

    return empty_ledger()


def _lines(held: "Held") -> list[str]:
    from steelyard.proof import told

    said = told(held)
    rows = [said.head, *(row for row in (said.record, said.why) if row), *said.amiss]
    if said.key:
        rows.append(f"{said.key}: {held.fingerprint}")
    return list(wrapped([*rows, *said.ledger]))


def _table(held: "Held") -> dict[str, object]:
    from steelyard.proof.sentences import as_table

    return as_table(held)
