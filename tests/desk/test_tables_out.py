"""The tables that leave the workshop: every tool, rig, record and pull, as it was typed."""

from collections.abc import Mapping
from functools import cache
from typing import Any

import pytest

import sealed
from desk.test_rigs import PAPERED
from steelyard.bootstrap import Workshop, fill_demo
from steelyard.desk import (
    Acting,
    add_person,
    add_rig,
    add_tool,
    correct_record,
    find_records,
    forget_person,
    record_export,
    retire_tool,
    rig_body,
    sell_rig,
)
from steelyard.desk.kits import Shelf
from steelyard.desk.ports import Ledger, Listed, Wanted
from steelyard.desk.records_out import AT_ONCE, PULL_COLUMNS, RECORD_COLUMNS
from steelyard.desk.rig_table import rig_table
from steelyard.desk.table import Cell
from steelyard.desk.tables_out import NARROWED_BY, RACK_COLUMNS, READ_ONLY, RIGS_COLUMNS, TABLES, table_out
from steelyard.desk.tool_fields import tool_document
from steelyard.errors import InputRefused, NotFound
from steelyard.evaluation import evaluate_point
from steelyard.store import MemoryLedger
from web.shop import CLICK, make_workshop

FEW_DRAWS = 2_000


@cache
def demo() -> Workshop:
    """The demo workshop, for tests that only read; verdicts in a moment: nothing hangs on their digits."""
    workshop = make_workshop()

    def quickly(case: Any, **named: Any) -> Any:
        return evaluate_point(case, **{**named, "draws": FEW_DRAWS})

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("steelyard.desk.check.evaluate_point", quickly)
        fill_demo(workshop)
    return workshop


def rows(ledger: Ledger, what: str, **typed: str) -> list[dict[str, Cell]]:
    """The rows of a table by column."""
    table = table_out(ledger, what, typed)
    return [dict(zip(table.columns, row, strict=True)) for row in table.rows]


def typed_in(row: Mapping[str, Cell]) -> dict[str, str]:
    """What somebody would type from a row."""
    return {name: str(cell) for name, cell in row.items() if cell is not None and name not in READ_ONLY}


def bodies(ledger: Ledger, sort: str) -> list[Mapping[str, Any]]:
    """All documents of a sort, in the order of a table."""
    return [listed.body for listed in ledger.documents(Wanted(sort, most=1000))]


@pytest.mark.parametrize("mark", [".", ",", None])
def test_a_tool_typed_again_from_its_row_is_the_same_tool(mark: str | None) -> None:
    ledger = demo().ledger
    for row, body in zip(rows(ledger, "rack"), bodies(ledger, "tool"), strict=True):
        again = tool_document(typed_in(row), usual_unit="lbf·ft", decimal_mark=mark)
        assert again == {name: body[name] for name in again}, row["number"]


def test_every_field_of_a_tool_has_its_column() -> None:
    acting = make_workshop().acting()
    add_tool(
        acting,
        {
            **CLICK,
            "directions": "cw,ccw",
            "own_way": "reading",
            "own_reading": "0.85",
            "own_reading_at": "420",
            "own_reading_knows": "mass",
            "mass": "1.3 ± 0.01",
            "grip_mark": "450",
            "expected_scatter": "1",
            "set_each_time": "no",
            "limit.other_direction_percent": "6",
            "notes": "=two\nlines",
            "drive": "1/2",
            "interval_months": "6",
        },
    )
    (row,) = rows(acting.ledger, "rack")
    (body,) = bodies(acting.ledger, "tool")
    assert (row["directions"], row["set_each_time"], row["notes"]) == ("cw,ccw", "no", "=two\nlines")
    assert (row["own_reading"], row["interval_months"]) == ("0.85 kg", 6)
    again = tool_document(typed_in(row), usual_unit="cN·m")
    assert again == {name: body[name] for name in again}


def test_a_rig_typed_again_from_its_row_is_the_same_rig() -> None:
    ledger = demo().ledger
    found = bodies(ledger, "rig")
    scales, masses = (tuple(b for b in found if b["sort"] == sort) for sort in ("scale", "mass"))
    shelf = Shelf(scales, masses, (), (), ())
    sorts = set()
    for row, body in zip(rows(ledger, "rigs"), found, strict=True):
        sort = str(row["sort"])
        sorts.add(sort)
        again = rig_table(sort, typed_in(row), torque_unit="lbf·in", shelf=shelf)
        assert again == body["table"], row["name"]
        assert (row["notes"], row["state"]) == (body["notes"], "here")
    assert {"transducer", "scale", "mass", "hung-weight"} <= sorts


def test_the_paper_of_a_transducer_lies_flat_in_its_row() -> None:
    acting = make_workshop().acting()
    add_rig(acting, "transducer", PAPERED)
    (row,), (body,) = rows(acting.ledger, "rigs"), bodies(acting.ledger, "rig")
    assert (row["paper.certificate"], row["paper.states"]) == ("TPB-0042", "error")
    assert [row[f"row2_{field}"] for field in ("at", "stated", "U", "k")] == [
        "100 N·m",
        "0.50 %",
        "0.25 %",
        "2",
    ]
    assert row["row3_at"] is None and RIGS_COLUMNS[-1] == "state"
    again = rig_table("transducer", typed_in(row), torque_unit="lbf·in", shelf=Shelf((), (), (), (), ()))
    assert again == body["table"]


def test_how_a_tool_stands_is_said_behind_what_was_typed() -> None:
    assert RACK_COLUMNS[-4:] == READ_ONLY == ("state", "next_due", "last_verdict", "last_record")
    by_number = {row["number"]: row for row in rows(demo().ledger, "rack")}
    assert [by_number["T-02"][name] for name in READ_ONLY] == ["unchecked", None, None, None]
    assert by_number["T-05"]["state"] == "quarantined"
    assert isinstance(by_number["T-01"]["last_record"], int)


def test_what_is_gone_is_there_too_and_says_so() -> None:
    acting = make_workshop().acting()
    retire_tool(acting, add_tool(acting, CLICK), {})
    rig = add_rig(acting, "mass", {"name": "M-5", "value": "5 ± 0.01"})
    sell_rig(acting, rig, {}, rig_body(acting.ledger, rig)["last"])
    assert [row["state"] for row in rows(acting.ledger, "rack")] == ["retired"]
    assert [row["state"] for row in rows(acting.ledger, "rigs")] == ["sold"]


def test_a_record_has_a_row_with_what_its_page_says() -> None:
    ledger = demo().ledger
    found = rows(ledger, "records")
    assert [row["record"] for row in found] == list(range(len(found), 0, -1))
    for row in found:
        export = record_export(ledger, int(str(row["record"])))
        assert (row["digest"], row["entry"]) == (export["digest"], export["entry"]["number"])
        assert row["entry_digest"] == export["entry"]["digest"]
        assert row["who"] == export["people"].get(export["sealed"]["who"])
        if row["phase"] is None:
            continue
        points = export["content"]["verdicts"][row["phase"]]["content"]["points"]
        said = {point["target"]: point["counted"]["deviation_percent"] for point in points}
        assert row["worst_target"] in said
        assert row["deviation_percent"] in (None, *said.values())


def test_every_pull_and_trial_has_a_row_struck_out_or_not() -> None:
    ledger = demo().ledger
    found = rows(ledger, "pulls")
    records = [record_export(ledger, int(str(row["record"])))["content"] for row in rows(ledger, "records")]
    assert len(found) == sum(len(content["pulls"]) for content in records)
    struck = [pull["struck_out"] for content in records for pull in content["pulls"] if pull["struck_out"]]
    assert [row["struck_out"] for row in found if row["struck_out"]] == struck
    assert {row["answer"] for row in found} >= {None, "yes", "no"}
    assert {row["unit"] for row in found} >= {None, "N·m"}
    first = [row["pull"] for row in found if (row["record"], row["target"]) == (1, found[-1]["target"])]
    assert first == list(range(1, len(first) + 1))


def with_records() -> tuple[Workshop, Acting, str]:
    """Two records of two tools, the first by somebody."""
    workshop = make_workshop()
    key = add_person(workshop.acting(), {"person": "rigger"}).key
    acting = workshop.acting(who=key)
    sealed.adjusted(acting, sealed.tool(acting), sealed.transducer(acting))
    return workshop, acting, key


@pytest.mark.parametrize("what", ["records", "pulls"])
def test_records_and_pulls_are_narrowed_as_the_book_is(what: str) -> None:
    ledger = demo().ledger
    for typed in ({"verdict": "out"}, {"tool": "T-13"}, {"words": "yearly"}, {"day_from": "2026-01-01"}):
        wanted = {listed.body["closed"]["record"] for listed in find_records(ledger, typed, most=1000)}
        assert {row["record"] for row in rows(ledger, what, **typed)} == wanted != set()
    assert rows(ledger, what, day_to="1999-01-01") == []


@pytest.mark.parametrize("what", ["records", "pulls"])
def test_what_the_book_refuses_is_refused_before_the_first_row(what: str) -> None:
    with pytest.raises(InputRefused) as refused:
        table_out(demo().ledger, what, {"tool": "T-99"})
    assert refused.value.field == "tool"
    with pytest.raises(InputRefused):
        table_out(demo().ledger, what, {"verdict": "fine"})


@pytest.mark.parametrize("what", ["rack", "rigs"])
@pytest.mark.parametrize("name", NARROWED_BY)
def test_what_cannot_be_narrowed_says_so(what: str, name: str) -> None:
    with pytest.raises(InputRefused, match="goes out whole") as refused:
        table_out(demo().ledger, what, {name: "x"})
    assert refused.value.field == name
    assert list(table_out(demo().ledger, what, {name: " "}).rows)


def test_another_table_is_not_there() -> None:
    with pytest.raises(NotFound):
        table_out(demo().ledger, "jobs", {})


def test_a_forgotten_name_is_an_empty_cell() -> None:
    workshop, acting, key = with_records()
    assert {row["who"] for row in rows(workshop.ledger, "records")} == {"rigger"}
    forget_person(acting, key)
    assert {row["who"] for row in rows(workshop.ledger, "records")} == {None}
    assert {row["who"] for row in rows(workshop.ledger, "pulls")} == {None}


def test_corrections_are_counted() -> None:
    workshop, acting, _ = with_records()
    correct_record(acting, 1, {"wrong": "the date", "right": "the day before"})
    assert [row["corrections"] for row in rows(workshop.ledger, "records")] == [1]


def test_an_empty_workshop_has_empty_tables() -> None:
    ledger = MemoryLedger()
    for what, columns in zip(TABLES, (RACK_COLUMNS, RIGS_COLUMNS, RECORD_COLUMNS, PULL_COLUMNS), strict=True):
        table = table_out(ledger, what, {})
        assert (table.name, table.columns, list(table.rows)) == (what, columns, [])
        assert len(set(columns)) == len(columns)


class _Paged(MemoryLedger):
    """Says how many documents it was asked for at once."""

    def __init__(self) -> None:
        super().__init__()
        self.most: list[int] = []

    def documents(self, wanted: Wanted) -> list[Listed]:
        """The same, noted."""
        self.most.append(wanted.most)
        return super().documents(wanted)


def test_a_long_rack_is_read_page_by_page() -> None:
    ledger = _Paged()
    acting = Acting(ledger, make_workshop().clock, make_workshop().dice)
    for number in range(450):
        add_tool(acting, {**CLICK, "number": f"T-{number}"})
    ledger.most.clear()
    found = rows(ledger, "rack")
    assert [row["number"] for row in found] == [f"T-{number}" for number in range(450)]
    assert ledger.most == [200, 200, 200]


def test_a_long_book_is_read_page_by_page(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = rows(demo().ledger, "records")
    monkeypatch.setattr("steelyard.desk.records_out.AT_ONCE", 4)
    assert rows(demo().ledger, "records") == whole
    assert AT_ONCE == 50
