"""Keeps a table in a workshop, for tests that kill it: the folder and the file are its arguments."""

import sys
from pathlib import Path

from steelyard.bootstrap import existing_workshop
from steelyard.bootstrap.taking_in import keep_table, try_table


def run(folder: str, table: str) -> None:
    """Say how many rows are written at each step."""
    with existing_workshop(Path(folder)) as workshop:
        tried = try_table(workshop.acting(), Path(table))

        def on_step(done: int, of: int) -> bool:
            sys.stdout.write(f"written {done} {of}\n")
            sys.stdout.flush()
            return True

        keep_table(workshop.acting(submission="s1"), Path(table), tried, on_step=on_step)


if __name__ == "__main__":
    run(*sys.argv[1:])
