"""The words of a record in the order and the shape in which any engine can lay them out."""

from collections.abc import Iterator
from typing import Any

from steelyard.desk.on_paper import RecordToPrint
from steelyard.paper.record_matter import record_matter
from steelyard.telling.record_points import phases

Matter = dict[str, Any]
Rows = list[list[str]]


def words(printed: RecordToPrint) -> Matter:
    """What stands on the paper of a record, as our own template gets it."""
    told = phases(printed.view, printed.workshop.decimal_mark)
    return record_matter(printed, list(printed.files), told, is_demo=False, is_signed=False)


def sections(matter: Matter) -> Iterator[tuple[str, Rows, list[str]]]:
    """All behind the points: a head, its rows of facts, its sentences."""
    for phase in matter["phases"]:
        yield phase["pattern"]["head"], [], list(phase["pattern"]["rows"])
        yield phase["doubts"]["head"], [], [f"{one['word']} {one['text']}" for one in phase["doubts"]["rows"]]
    for table in matter["budget"]["tables"]:
        yield matter["budget"]["head"], _budget_rows(table), [matter["budget"]["why"]]
    for name in ("claims", "cautions"):
        if matter[name]["rows"]:
            yield matter[name]["head"], [], list(matter[name]["rows"])
    for name in ("stood", "seal", "files"):
        yield matter[name]["head"], [list(row) for row in matter[name]["rows"]], []


def point_rows(point: Matter) -> Rows:
    """The table of a point with its head."""
    rows = ([*row["cells"][:3], f"{row['cells'][3]} {row['remark']}".rstrip()] for row in point["rows"])
    return [list(point["head"]), *rows]


def point_sentences(point: Matter) -> list[str]:
    """What is said beside it."""
    return [point["name"], point["bolts"], *point["lines"]]


def _budget_rows(table: Matter) -> Rows:
    rows = [[name, *(" ".join(cell[:2]) if cell else "" for cell in cells)] for name, cells in table["rows"]]
    return [list(table["head"]), *rows, *([name, *cells] for name, cells in table["together"])]
