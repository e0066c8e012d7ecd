"""What every chart and drawing is: a picture, the same in words, the same as a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Table:
    """The data of a chart as text, one row per thing shown.

    head: a name per column. rows: as many cells each.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """A picture for page and paper.

    svg: one element without size, style or script, to be placed inline. summary: says in words what is seen.
    table: repeats the data.
    """

    svg: str
    summary: str
    table: Table
