"""A program that writes into a ledger until it is stopped, and says so of each entry it was promised.

Arguments: the ledger's file, its own name, how many appends.
"""

import sys
from pathlib import Path

from steelyard.records import Draft
from steelyard.store import open_ledger
from store.entries import STAMP, event


def drafts_of(token: str, turn: int) -> list[Draft]:
    """What is written in one turn."""
    return [event("t1", note=f"{token} {i}") for i in range(turn % 3 + 1)]


def write(path: Path, name: str, count: int) -> None:
    """Append one to three entries at a time; after each append print its token and what was written."""
    with open_ledger(path, patience_ms=60_000) as ledger:
        for turn in range(count):
            token = f"{name}-{turn}"
            drafts = drafts_of(token, turn)
            entries = ledger.append(drafts, STAMP, submission=token)
            said = " ".join(f"{entry.number}:{entry.digest}" for entry in entries)
            sys.stdout.write(f"{token} {said}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    write(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
