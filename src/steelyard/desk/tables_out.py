"""The tables that leave the workshop, read from the ledger page by page: memory stays small.

A row of the rack or of the rigs is what one would type to have that tool or rig again, each number with its
unit; what stands in `READ_ONLY` comes behind it and is worked out, not typed.
"""

from collections.abc import Iterator, Mapping
from datetime import date

from steelyard.desk.every import every
from steelyard.desk.kits import SORTS
from steelyard.desk.ports import Body, Ledger, Wanted
from steelyard.desk.records_out import PULL_COLUMNS, RECORD_COLUMNS, pull_rows, record_rows
from steelyard.desk.rig_table import MOST_ROWS, PAPER_COLUMNS, RIG_COLUMNS, ROW_FIELDS
from steelyard.desk.table import Cell, Table
from steelyard.desk.tool_fields import LIMIT_COLUMNS, TEXTS, TOOL_COLUMNS
from steelyard.desk.typed_table import typed_again
from steelyard.errors import InputRefused, NotFound
from steelyard.records import Subject, tool_state

RACK, RIGS, RECORDS, PULLS = TABLES = ("rack", "rigs", "records", "pulls")
NARROWED = (RECORDS, PULLS)
"""These can be narrowed as the book can."""
NARROWED_BY = ("words", "tool", "who", "verdict", "day_from", "day_to")
READ_ONLY = ("state", "next_due", "last_verdict", "last_record")
AT_ONCE = 200
RACK_COLUMNS = (
    *(column.name for column in TOOL_COLUMNS),
    *(f"limit.{column.name}" for column in LIMIT_COLUMNS),
    *TEXTS,
    "interval_months",
    *READ_ONLY,
)
RIGS_COLUMNS = (
    "sort",
    *dict.fromkeys(column.name for sort in SORTS for column in RIG_COLUMNS[sort]),
    "notes",
    *(f"paper.{column.name}" for column in PAPER_COLUMNS),
    *(f"row{number}_{field}" for number in range(1, MOST_ROWS + 1) for field in ROW_FIELDS),
    "state",
)


def table_out(ledger: Ledger, what: str, typed: Mapping[str, str]) -> Table:
    """A table by its name, of TABLES.

    typed: texts by NARROWED_BY, as the book takes them; any may be missing or empty.
    Raises NotFound for another name; InputRefused with the field, also where one is narrowed that cannot be.
    """
    narrowed = {name: typed[name] for name in NARROWED_BY if typed.get(name, "").strip()}
    if what in NARROWED:
        columns, rows = (
            (RECORD_COLUMNS, record_rows(ledger, narrowed))
            if what == RECORDS
            else (PULL_COLUMNS, pull_rows(ledger, narrowed))
        )
        return Table(what, columns, rows)
    if what not in TABLES:
        raise NotFound(what)
    for name, text in narrowed.items():
        raise InputRefused(name, text, "want-whole-table", what=what)
    if what == RACK:
        return Table(what, RACK_COLUMNS, _rows(ledger, Subject.TOOL, RACK_COLUMNS))
    return Table(what, RIGS_COLUMNS, _rows(ledger, Subject.RIG, RIGS_COLUMNS))


def _rows(ledger: Ledger, sort: Subject, columns: tuple[str, ...]) -> Iterator[tuple[Cell, ...]]:
    row_of = _tool if sort is Subject.TOOL else _rig
    for listed in every(ledger.documents, Wanted(sort, most=AT_ONCE)):
        row = row_of(listed.body)
        yield tuple(row.get(name) for name in columns)


def _tool(body: Body) -> dict[str, Cell]:
    limit = typed_again(body["limit"], LIMIT_COLUMNS)
    last = body["checks"][-1] if body["checks"] else {}
    due = body["next_due"]
    return {
        **typed_again(body["tool"], TOOL_COLUMNS),
        **{f"limit.{name}": text for name, text in limit.items()},
        **{name: body.get(name) for name in TEXTS},
        "interval_months": body.get("interval_months"),
        "state": tool_state(body),
        "next_due": date.fromisoformat(due) if due else None,
        "last_verdict": last.get("verdict"),
        "last_record": last.get("record"),
    }


def _rig(body: Body) -> dict[str, Cell]:
    table = body["table"]
    paper = table.get("paper") or {}
    of_paper = typed_again(paper, PAPER_COLUMNS)
    row: dict[str, Cell] = {
        "sort": body["sort"],
        **typed_again(table, RIG_COLUMNS[body["sort"]]),
        "notes": body.get("notes"),
        **{f"paper.{name}": text for name, text in of_paper.items()},
        "state": body["state"],
    }
    for number, said in enumerate(paper.get("row", []), 1):
        for field in ROW_FIELDS:
            row[f"row{number}_{field}"] = said.get(paper["states"] if field == "stated" else field)
    return row
