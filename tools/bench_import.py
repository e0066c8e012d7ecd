"""A list of tools kept, against the least a database could do with the same rows.

Work: reading the file, each row as the form of a tool, none doubled, entries chained and folded, one
transaction; without trying it before. Floor: `executemany` of the rows that came of it, entries and
documents, into the same tables with their indexes, in one transaction of the same settings, by the bare
driver. Writing alone: the same entries from drafts that are ready. Each run begins with a copy of an empty
ledger.
"""

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from bench_ratio import Bar

from steelyard.bootstrap import LEDGER_FILE, workshop
from steelyard.bootstrap.taking_in import Tried, keep_table, try_table
from steelyard.records import Draft, Stamp
from steelyard.store import open_ledger

TOOLS = 3000
EMPTY = "empty"
STAMP = Stamp("2026-11-25T09:00:00.000Z", 60, "", "bench")
HEAD = "number,kind,lowest,highest,unit,grip_mark,limit.published,notes"
ROUNDS = 5


@contextmanager
def imports() -> Iterator[list[Bar]]:
    """The two ratios; their files are gone afterwards."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        table, tried = _list(folder)
        drafts, rows = _rows(folder)
        keep, write = partial(_keep, folder, table, tried), partial(_write, folder, drafts)
        bare = partial(_bare, folder, rows)
        yield [
            Bar(f"import of {TOOLS} tools : bare executemany", keep, bare, 11, rounds=ROUNDS),
            Bar(f"writing {TOOLS} tools in a stream : bare executemany", write, bare, 6.5, rounds=ROUNDS),
        ]


def _list(folder: Path) -> tuple[Path, Tried]:
    """A list of tools, tried once in a workshop; kept there, its rows are the floor's."""
    table = folder / "rack.csv"
    lines = (
        f"T-{i:05d},click-preset,20,{60 + i % 400},N·m,320,iso-6789-1-2017,engine shop" for i in range(TOOLS)
    )
    table.write_text("\n".join([HEAD, *lines]), "utf-8")
    with workshop(folder / EMPTY):
        pass
    with workshop(folder / "first") as first:
        tried = try_table(first.acting(), table)
        keep_table(first.acting(), table, tried)
    return table, tried


def _rows(folder: Path) -> tuple[list[Draft], dict[str, list[tuple[Any, ...]]]]:
    path = folder / "first" / LEDGER_FILE
    with open_ledger(path) as ledger:
        drafts = [Draft(entry.kind, entry.subject, entry.payload) for entry in ledger.entries()]
    with closing(sqlite3.connect(path)) as connection:
        rows = {name: list(connection.execute(f"SELECT * FROM {name}")) for name in ("entry", "document")}
    return drafts, rows


@contextmanager
def _empty(folder: Path) -> Iterator[Path]:
    """A folder with a copy of the empty ledger."""
    with tempfile.TemporaryDirectory(dir=folder) as name:
        shutil.copy(folder / EMPTY / LEDGER_FILE, name)
        yield Path(name)


def _keep(folder: Path, table: Path, tried: Tried) -> None:
    with _empty(folder) as copy, workshop(copy) as opened:
        keep_table(opened.acting(), table, tried)


def _write(folder: Path, drafts: list[Draft]) -> None:
    with _empty(folder) as copy, open_ledger(copy / LEDGER_FILE) as ledger:
        ledger.append_stream(lambda _find: drafts, STAMP)


def _bare(folder: Path, rows: dict[str, list[tuple[Any, ...]]]) -> None:
    with (
        _empty(folder) as copy,
        closing(sqlite3.connect(copy / LEDGER_FILE, isolation_level=None)) as connection,
    ):
        for setting in ("synchronous=FULL", "secure_delete=ON"):
            connection.execute(f"PRAGMA {setting}")
        connection.execute("BEGIN IMMEDIATE")
        for name, some in rows.items():
            marks = ",".join("?" * len(some[0]))
            connection.executemany(f"INSERT INTO {name} VALUES ({marks})", some)
        connection.execute("COMMIT")
