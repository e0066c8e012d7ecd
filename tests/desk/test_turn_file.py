"""A check in a file that was adjusted: guidance, judged as left, kept with its turns, written again."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Acting,
    check_content,
    guide_file,
    judge_check,
    judge_left,
    record_body,
    record_file,
    record_form,
    same_record,
    turns_content,
)
from steelyard.errors import InputRefused
from steelyard.store import MemoryLedger
from web.shop import CountingDice, StandingClock

FILE = (Path(__file__).parents[2] / "examples" / "click-wrench-adjusted.toml").read_text("utf-8")


def acting(ledger: MemoryLedger | None = None) -> Acting:
    return Acting(ledger or MemoryLedger(), StandingClock(), CountingDice(), submission="a-file")


def with_turns(*turns: dict[str, Any]) -> bytes:
    """The example with other turns."""
    return tomli_w.dumps({**tomllib.loads(FILE), "turn": list(turns)}).encode()


def read_after(count: int) -> bytes:
    """The example with so many of its turns."""
    return with_turns(*tomllib.loads(FILE)["turn"][:count])


def test_before_the_first_turn_a_test_turn_is_advised() -> None:
    found = guide_file(read_after(0)).guide
    assert found is not None and found.advice is not None
    assert found.advice.sort == "test"


def test_after_the_first_turn_the_rest_is_advised_and_after_the_next_it_is_good() -> None:
    after = [guide_file(read_after(count)).guide for count in (1, 2)]
    first, second = (found.advice if found is not None else None for found in after)
    assert first is not None and second is not None
    assert first.sort == "turn"
    assert first.turns == pytest.approx(5 / 6)
    assert second.sort == "stay"


def test_what_locking_moved_is_told() -> None:
    found = guide_file(FILE.encode()).guide
    assert found is not None and found.is_locked
    assert found.shift_percent[-1] == pytest.approx(0.17, abs=0.01)  # 100.24 against 100.07 N·m


def test_it_is_judged_as_found_and_as_left() -> None:
    judged = judge_check(FILE.encode())
    left = judge_left(judged)
    assert left is not None
    assert (judged.verdict, left.verdict) == ("out", "in")
    content = turns_content(judged, left)
    assert [turn["turns"] for turn in content["turns"]] == ["1/2", "5/6", None]
    assert content["as_left"]["verdict"] == "in"


def test_a_check_without_turns_says_nothing_of_them() -> None:
    judged = judge_check(read_after(0))
    assert judge_left(judged) is None
    assert turns_content(judged, None) == {}


def test_it_is_kept_through_the_same_entries_as_at_the_bench() -> None:
    ledger = MemoryLedger()
    record = record_file(acting(ledger), FILE.encode())
    body = record_body(ledger, record)
    assert [turn["turns"] for turn in body["turns"]] == ["1/2", "5/6"]
    assert body["locked"]["note"] == "nut tight, new sealing paint"
    assert {phase: said["verdict"] for phase, said in body["verdicts"].items()} == {
        AS_FOUND: "out",
        AS_LEFT: "in",
    }
    assert body["closed"]["gain_ratio"] == pytest.approx(0.03, rel=0.1)
    kept, judged = body["verdicts"][AS_LEFT]["content"], judge_left(judge_check(FILE.encode()))
    assert judged is not None
    assert [p["counted"]["deviation_percent"] for p in kept["points"]] == [
        p["counted"]["deviation_percent"] for p in check_content(judged)["points"]
    ]


def test_sent_again_it_is_kept_once() -> None:
    ledger = MemoryLedger()
    record = record_file(acting(ledger), FILE.encode())
    entries = ledger.head()
    assert record_file(acting(ledger), FILE.encode()) == record
    assert ledger.head() == entries


def test_its_record_written_as_a_file_is_known_again() -> None:
    ledger = MemoryLedger()
    record = record_file(acting(ledger), FILE.encode())
    for phase in (AS_FOUND, AS_LEFT):
        written = record_form(ledger, record, phase)
        assert same_record(Acting(ledger, StandingClock(), CountingDice()), written) == record
    found = guide_file(record_form(ledger, record, AS_FOUND)).guide
    before = guide_file(FILE.encode()).guide
    assert found is not None and before is not None
    assert found.moved_percent == before.moved_percent
    assert found.shift_percent == before.shift_percent


def test_a_lock_on_the_last_turn_is_a_turn_and_then_a_lock() -> None:
    first, second, lock = tomllib.loads(FILE)["turn"]
    together = with_turns(first, {**second, "locked": True, "point": lock["point"]})
    ledger = MemoryLedger()
    record = record_file(acting(ledger), together)
    body = record_body(ledger, record)
    assert (len(body["turns"]), body["locked"]["note"]) == (2, None)
    assert same_record(Acting(ledger, StandingClock(), CountingDice()), together) == record


@pytest.mark.parametrize(
    ("turns", "field"),
    [
        ([{"way": "in"}], "turn.turns"),
        ([{"turns": "a bit", "way": "in"}], "turn.turns"),
        ([{"turns": "1/4"}], "turn.way"),
        ([{"turns": "1/4", "way": "up"}], "turn.way"),
        ([{"locked": True}], "turn.turns"),
        ([{"turns": "1/4", "way": "in", "point": [{"target": "50 N·m", "pulls": "50 N·m"}]}], "turn.point"),
        ([{"turns": "1/4", "way": "in", "colour": "red"}], "turn"),
    ],
)
def test_a_turn_that_cannot_be_is_refused_with_its_field(turns: list[dict[str, Any]], field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        judge_check(with_turns(*turns))
    assert refused.value.field.replace(" 1", "") == field


def test_it_is_not_kept_without_pulls_as_left() -> None:
    ledger = MemoryLedger()
    with pytest.raises(InputRefused) as refused:
        record_file(acting(ledger), with_turns({"turns": "1/4", "way": "in"}))
    assert refused.value.wanted == "want-left-pulls"
    assert ledger.head() == MemoryLedger().head()
