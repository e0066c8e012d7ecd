"""A check from a file becomes a record, and a record a file: the same numbers, nothing twice."""

import json
import tomllib
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from desk.bench_shop import HIGH_READINGS, READINGS, WRENCH, bench_shop
from forms import ADAPTER, ALL, BEAM, DRIVER, HUNG, changed, without
from steelyard.desk import (
    AS_FOUND,
    Acting,
    Ledger,
    add_tool,
    check_content,
    close_check,
    find_records,
    judge_check,
    judge_phase,
    people,
    record_export,
    record_file,
    record_form,
    record_view,
    same_record,
    tools,
    turn_adjuster,
)
from steelyard.errors import Full, InputRefused
from steelyard.records import Entry, Stamp, chain_breaks, form_table
from steelyard.store import MemoryLedger
from web.shop import HOUR, CountingDice, StandingClock

EXAMPLES = sorted((Path(__file__).parent.parent.parent / "examples").glob("*.toml"))
DAY = "date = 2026-11-20"
STRUCK = """
[[point]]
target = "60 N·m"
pulls = [
  { no_click = "M-10 + M-2 + M-1", click = "M-10 + M-2 + M-1 + B-100" },
  { no_click = "M-10 + M-2 + M-1", click = "M-10 + M-2 + M-1 + B-200", struck_out = "slipped" },
  { no_click = "M-10 + M-2 + M-1", click = "M-10 + M-2 + M-1 + B-100" },
]
"""


def acting(ledger: Ledger | None = None, *, token: str | None = None, hour: datetime = HOUR) -> Acting:
    """Somebody at the desk of a workshop in memory."""
    return Acting(ledger or MemoryLedger(), StandingClock(hour), CountingDice(), submission=token)


@cache
def judged(content: bytes) -> dict[str, Any]:
    """What judging a file says, of JSON types, without the name of a person."""
    said: dict[str, Any] = json.loads(json.dumps(check_content(judge_check(content))))
    return {**said, "person": None}


def kept(ledger: Ledger, record: int) -> dict[str, Any]:
    """What was kept of the same in a record."""
    said: dict[str, Any] = json.loads(json.dumps(record_view(ledger, record).body["verdicts"]))
    return dict(said["as-found"]["content"])


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_record_holds_the_numbers_of_its_file_and_gives_them_back(path: Path) -> None:
    desk, content = acting(), path.read_bytes()
    record = record_file(desk, content)
    assert kept(desk.ledger, record) == judged(content)
    phase = AS_FOUND if b"[[turn]]" in content else None  # with its turns, where there are such
    exported = record_form(desk.ledger, record, phase)
    assert judged(exported) == judged(content)
    assert tomllib.loads(exported.decode())["person"] == tomllib.loads(content.decode())["person"]
    assert record_form(desk.ledger, record_file(desk, exported), phase) == exported


@pytest.mark.parametrize("content", ALL.values(), ids=ALL)
def test_every_kind_of_form_goes_there_and_back(content: str) -> None:
    desk = acting()
    record = record_file(desk, content.encode())
    assert kept(desk.ledger, record) == judged(content.encode())
    assert judged(record_form(desk.ledger, record)) == judged(content.encode())


def test_a_pull_that_was_struck_out_stays_with_its_reason() -> None:
    desk, content = acting(), (HUNG.partition("[[point]]")[0] + _masses() + STRUCK).encode()
    record = record_file(desk, content)
    pulls = kept(desk.ledger, record)["points"][0]["pulls"]
    assert [pull["struck_out"] for pull in pulls] == [None, "slipped", None]
    assert judged(record_form(desk.ledger, record)) == judged(content)


def _masses() -> str:
    masses = {"M-10": "10 kg ± 10 g", "M-2": "2 kg ± 4 g", "M-1": "1 kg ± 2 g"}
    small = {"B-100": "100 g ± 1 g", "B-200": "200 g ± 1 g"}
    rows = [f'[[kit.mass]]\nname = "{name}"\nvalue = "{value}"\n' for name, value in (masses | small).items()]
    return "".join(row for row in rows if row.splitlines()[1] not in HUNG)


def test_the_tool_of_the_rack_with_that_number_gets_the_record() -> None:
    desk = acting()
    later = changed(HUNG, DAY, "date = 2026-11-21").encode()
    first, second = record_file(desk, HUNG.encode()), record_file(desk, later)
    one, other = (record_view(desk.ledger, number) for number in (first, second))
    assert (first, second) == (1, 2)
    assert one.tool["id"] == other.tool["id"]
    assert [check["record"] for check in other.tool["checks"]] == [1, 2]
    assert len(tools(desk.ledger, "", "here", today=HOUR.date()).rows) == 1


def test_the_next_date_is_after_the_own_interval_of_a_tool_on_the_rack() -> None:
    desk = acting()
    content = changed(HUNG, "percent = 4", "percent = 12").encode()
    number = form_table(content)["tool"]["number"]  # type: ignore[index]
    add_tool(desk, {**WRENCH, "number": number, "interval_months": "3"})
    view = record_view(desk.ledger, record_file(desk, content))
    assert (view.body["closed"]["verdict"], view.tool["next_due"]) == ("in", "2027-02-20")


def test_what_the_kit_cannot_tell_is_due_within_a_month() -> None:
    desk = acting()
    view = record_view(desk.ledger, record_file(desk, ADAPTER.encode()))
    assert (view.body["closed"]["verdict"], view.tool["next_due"]) == ("cant-tell", "2026-12-20")


def test_what_is_out_is_given_no_next_date() -> None:
    desk = acting()
    view = record_view(desk.ledger, record_file(desk, HUNG.encode()))
    assert (view.body["closed"]["verdict"], view.tool["next_due"]) == ("out", None)
    assert view.tool["quarantine"] is not None


@pytest.mark.parametrize("content", ALL.values(), ids=ALL)
def test_a_record_that_was_exported_is_known_again_and_not_kept_twice(content: str) -> None:
    desk = acting()
    record = record_file(desk, content.encode())
    head = desk.ledger.head()
    for said in (content.encode(), record_form(desk.ledger, record)):
        assert same_record(desk, said) == record
        assert record_file(desk, said) == record
    assert desk.ledger.head() == head


def test_each_phase_of_a_record_from_the_bench_is_known_again() -> None:
    shop = bench_shop()
    shop.stand()
    shop.pull(HIGH_READINGS)
    judge_phase(shop.acting, shop.check, "as-found", {})
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})
    shop.pull(READINGS, "as-left")
    judge_phase(shop.acting, shop.check, "as-left", {})
    close_check(shop.acting, shop.check, {})
    for phase in ("as-found", "as-left"):
        assert same_record(shop.acting, record_form(shop.workshop.ledger, 1, phase)) == 1


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (DAY, "date = 2026-11-19"),
        (DAY, DAY + '\ntitle = "another"'),
        ("exercise_pulls = 5", "exercise_pulls = 4"),
        ('number = "T-01"', 'number = "T-02"'),
        ("450 mm ± 1 mm", "451 mm ± 1 mm"),
    ],
)
def test_a_file_that_says_anything_else_is_another_record(old: str, new: str) -> None:
    desk = acting()
    record_file(desk, HUNG.encode())
    other = changed(HUNG, old, new).encode()
    assert same_record(desk, other) is None
    assert record_file(desk, other) == 2


def test_another_person_who_sends_the_same_check_makes_no_other_of_it() -> None:
    desk = acting()
    record_file(desk, HUNG.encode())
    assert same_record(desk, changed(HUNG, DAY, DAY + '\nperson = "rigger"').encode()) == 1


def test_the_submission_that_made_a_record_is_not_told_that_it_was_there() -> None:
    ledger = MemoryLedger()
    assert record_file(acting(ledger, token="t1"), HUNG.encode()) == 1
    assert same_record(acting(ledger, token="t1"), HUNG.encode()) is None
    assert same_record(acting(ledger, token="t2"), HUNG.encode()) == 1


def test_a_file_sent_again_with_the_same_token_is_kept_once() -> None:
    ledger = MemoryLedger()
    first = record_file(acting(ledger, token="t1"), changed(HUNG, DAY, DAY + '\nperson = "rigger"').encode())
    before = ledger.head()
    again = replace(acting(ledger, token="t1"), dice=OtherDice())
    assert record_file(again, changed(HUNG, DAY, DAY + '\nperson = "rigger"').encode()) == first
    assert ledger.head() == before


class OtherDice(CountingDice):
    """Names that were never given before."""

    def name(self) -> str:
        """ffff0001, …"""
        return f"ffff{super().name()[4:]}"


class FullLater(MemoryLedger):
    """A ledger on a disk that is full after some appends."""

    left = 4

    def append(self, drafts: Any, stamp: Stamp, **how: Any) -> tuple[Entry, ...]:
        """As ever, until there is no room."""
        self.left -= 1
        if self.left < 0:
            raise Full("somewhere")
        return super().append(drafts, stamp, **how)


@pytest.mark.parametrize("room", [0, 1, 2, 3])
def test_what_was_broken_off_is_finished_by_the_same_submission(room: int) -> None:
    ledger = FullLater()
    ledger.left = room
    with pytest.raises(Full):
        record_file(acting(ledger, token="t1"), HUNG.encode())
    ledger.left = 10
    assert record_file(acting(ledger, token="t1"), HUNG.encode()) == 1
    assert len(find_records(ledger, {})) == 1
    assert len(tools(ledger, "", "here", today=HOUR.date()).rows) == 1


@pytest.mark.parametrize(
    ("content", "field"),
    [
        (b"\xff", "the file"),
        (b"steelyard_check = 2", "steelyard_check"),
        (changed(HUNG, DAY, "date = 2026-11-26").encode(), "date"),
        (changed(HUNG, DAY, "date = 9999-12-31").encode(), "date"),
        (HUNG.partition("[[point]]")[0].encode(), "point"),
        (without(BEAM, "lowest").encode(), "tool.lowest"),
    ],
)
def test_a_refused_file_leaves_nothing_behind(content: bytes, field: str) -> None:
    desk = acting()
    with pytest.raises(InputRefused) as refused:
        record_file(desk, content)
    assert refused.value.field == field
    assert desk.ledger.head().number == 0


def test_a_point_with_one_pull_is_refused_as_in_judging() -> None:
    desk, point = acting(), '\n[[point]]\ntarget = "2 N·m"\npulls = "1.9 N·m"\n'
    with pytest.raises(InputRefused) as refused:
        record_file(desk, (DRIVER + point).encode())
    with pytest.raises(InputRefused) as by_judging:
        judge_check((DRIVER + point).encode())
    assert str(refused.value) == str(by_judging.value)
    assert desk.ledger.head().number == 0


def test_a_name_stands_in_the_side_table_alone() -> None:
    desk = acting()
    record = record_file(desk, changed(HUNG, DAY, DAY + '\nperson = "Quill"').encode())
    assert [person.name for person in people(desk.ledger)] == ["Quill"]
    assert not any("Quill" in entry.body for entry in desk.ledger.entries())
    assert list(record_export(desk.ledger, record)["people"].values()) == ["Quill"]


def test_a_whole_number_too_large_for_json_is_kept_as_text() -> None:
    desk, arm = acting(), 'arm = { value = "450 mm", U = "1 mm", k = %d }'
    content = changed(HUNG, 'arm = "450 mm ± 1 mm"', arm % 10**18).encode()
    record = record_file(desk, content)
    assert record_view(desk.ledger, record).body["setup"]["form"]["kit"]["arm"]["k"] == str(10**18)
    assert judged(record_form(desk.ledger, record)) == judged(content)


def test_what_is_kept_is_a_sound_chain() -> None:
    desk = acting()
    record_file(desk, HUNG.encode())
    rows = [(entry.number, entry.body, entry.digest) for entry in desk.ledger.entries()]
    assert len(rows) > 10
    assert list(chain_breaks(rows)) == []


def test_a_form_says_nothing_of_looking_over() -> None:
    desk = acting()
    body = record_view(desk.ledger, record_file(desk, HUNG.encode())).body
    assert (body["look"], body["why"]) == (None, "file")
