"""Records of another workshop come in as history: what is kept of each, and what never doubles."""

from typing import Any

import pytest

import sealed
from desk.test_taking_in import bodies, keep, refusal, states
from steelyard.desk import Acting, retire_tool
from steelyard.desk.columns_in import EXAMPLE, Counted, known_columns
from steelyard.desk.records_out import RECORD_COLUMNS
from steelyard.desk.tables_out import table_out
from steelyard.desk.taking_in import what_is_meant
from web.shop import make_workshop

ROW = {
    "record": "7",
    "day": "2025-03-20",
    "tool_number": "T-02",
    "title": "",
    "verdict": "in",
    "phase": "as-found",
    "worst_target": "60 N·m",
    "deviation_percent": "-1.2345678",
    "expanded_percent": "0.8123",
    "next_due": "2026-03-20",
    "who": "rigger",
    "digest": "1a2b3c4d" + "0" * 56,
}


@pytest.fixture
def acting() -> Acting:
    acting = make_workshop().acting()
    sealed.tool(acting)
    return acting


def lines(acting: Acting) -> list[Any]:
    (body,) = bodies(acting, "tool")
    found: list[Any] = body.get("history", [])
    return found


def noted(acting: Acting, **cells: str) -> str:
    keep(acting, "records", {**ROW, **cells})
    return str(lines(acting)[-1]["note"])


def test_a_record_is_a_line_without_readings_and_no_check(acting: Acting) -> None:
    keep(acting, "records", ROW, file="records.csv")
    (line,) = lines(acting)
    assert (line["day"], line["verdict"], line["next_due"], line["who"]) == (
        "2025-03-20",
        "in",
        "2026-03-20",
        "rigger",
    )
    assert line["note"] == "record 7, as found, worst −1.2 % ± 0.8 % at 60 N·m, digest 1a2b3c4d"
    assert (line["file"], line["row"], line["digest"]) == ("records.csv", 2, ROW["digest"])
    (body,) = bodies(acting, "tool")
    assert (body["checks"], body["next_due"]) == ([], "2026-03-20")


@pytest.mark.parametrize(
    ("verdict", "kept", "word"),
    [
        ("out", "out", None),
        ("cant-tell", "unknown", "can't tell"),
        ("no-limit", "unknown", "no limit"),
        ("stopped", "unknown", "stopped"),
    ],
)
def test_a_verdict_that_a_notebook_does_not_have_stands_in_the_note(
    acting: Acting, verdict: str, kept: str, word: str | None
) -> None:
    note = noted(acting, verdict=verdict)
    assert lines(acting)[-1]["verdict"] == kept
    assert word is None or f", {word}, " in note


@pytest.mark.parametrize(
    ("cells", "note"),
    [
        ({"deviation_percent": "", "expanded_percent": ""}, "record 7, as found, digest 1a2b3c4d"),
        ({"worst_target": "", "title": "launching day", "digest": "", "phase": ""},
         "record 7 (launching day), worst −1.2 % ± 0.8 %"),
        ({"deviation_percent": "0.021", "expanded_percent": "0.034", "digest": ""},
         "record 7, as found, worst +0.02 % ± 0.03 % at 60 N·m"),
    ],
)  # fmt: skip
def test_the_note_says_what_the_table_says(acting: Acting, cells: dict[str, str], note: str) -> None:
    assert noted(acting, **cells) == note


def test_a_number_of_a_spreadsheet_is_read_as_one(acting: Acting) -> None:
    note = noted(
        acting, record=Counted(7), deviation_percent=Counted(-1.234), expanded_percent=Counted(0.812)
    )
    assert note.startswith("record 7, as found, worst −1.2 % ± 0.8 %")


def test_the_same_record_is_there_already(acting: Acting) -> None:
    without = {**ROW, "digest": ""}
    assert states(acting, "records", ROW, ROW, without, without) == ["new", "there", "new", "there"]
    keep(acting, "records", ROW)
    assert states(acting, "records", {**ROW, "who": ""}) == ["there"]


def test_a_record_of_this_workshop_is_there_already(acting: Acting) -> None:
    (tool,) = (body["id"] for body in bodies(acting, "tool"))
    sealed.stopped(acting, tool)
    out = table_out(acting.ledger, "records", {})
    (row,) = (dict(zip(out.columns, map(_text, cells), strict=True)) for cells in out.rows)
    assert states(acting, "records", row, {**row, "digest": "0" * 64}) == ["there", "new"]
    retire_tool(acting, tool, {})
    assert states(acting, "records", row) == ["there"]


def _text(cell: object) -> str:
    return "" if cell is None else str(cell)


@pytest.mark.parametrize(
    ("column", "text", "wanted"),
    [
        ("tool_number", "T-77", "want-tool-on-rack"),
        ("tool_number", "", "want-tool-on-rack"),
        ("day", "2026-11-26", "want-past-day"),
        ("day", "", "want-date"),
        ("verdict", "fine", "want-one-of"),
        ("verdict", "", "want-one-of"),
        ("phase", "later", "want-one-of"),
        ("record", "", "want-record-number"),
        ("next_due", "2025-03-19", "want-day-not-before"),
        ("deviation_percent", "much", "want-number"),
        ("expanded_percent", "-0.5", "want-not-below-zero"),
        ("digest", "no digest", "want-digest-of-record"),
        ("digest", "a" * 65, "want-digest-of-record"),
    ],
)
def test_a_cell_that_cannot_be_used_is_named(acting: Acting, column: str, text: str, wanted: str) -> None:
    assert refusal(acting, "records", {**ROW, column: text}) == (column, wanted)


def test_what_goes_out_comes_in_and_is_known_by_its_columns() -> None:
    known_columns("records", RECORD_COLUMNS)
    assert what_is_meant("", RECORD_COLUMNS) == "records"
    assert what_is_meant("", EXAMPLE["records"]) == "records"
