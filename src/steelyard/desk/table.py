"""A table that leaves the workshop: its columns, and its rows one after the other."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

Cell = str | int | float | date | None
"""A text as it was typed, a number that was a number, a day; None where nothing stands."""


@dataclass(frozen=True)
class Table:
    """Columns and rows. name: what it holds. rows: each with a cell for every column; read once."""

    name: str
    columns: tuple[str, ...]
    rows: Iterator[tuple[Cell, ...]]
