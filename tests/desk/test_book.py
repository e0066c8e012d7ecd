"""The book: records found again, read by number, corrected and never changed, held against print."""

import json
from functools import cache

import pytest
import rfc8785

import sealed
from steelyard.bootstrap import Photographs, Workshop
from steelyard.desk import (
    Acting,
    add_person,
    attach_photograph,
    book_page,
    correct_record,
    exercise,
    find_records,
    look_over,
    printed_stands,
    read_pull,
    record_export,
    record_form,
    record_view,
)
from steelyard.errors import InputRefused, NotFound, RecordSealed
from steelyard.records import digest_of, read_check
from steelyard.store import MemoryLedger
from web.shop import CountingDice, StandingClock, make_workshop


def shop() -> tuple[Workshop, Acting]:
    """A workshop in memory and somebody in it."""
    workshop = make_workshop()
    return workshop, workshop.acting()


def with_records() -> tuple[Workshop, Acting, str]:
    """Record 1: adjusted, by the rigger; record 2: another tool, stopped, by nobody. The rigger's key."""
    workshop, acting = shop()
    rigger = add_person(acting, {"person": "rigger"}).key
    by_rigger = workshop.acting(who=rigger)
    sealed.adjusted(by_rigger, sealed.tool(acting), sealed.transducer(acting))
    sealed.stopped(acting, sealed.tool(acting, "T-20"))
    return workshop, acting, rigger


@cache
def standing() -> tuple[Workshop, Acting, str]:
    """The same once, for tests that only read."""
    return with_records()


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ({}, [2, 1]),
        ({"words": "launching"}, [2, 1]),
        ({"words": "t-02 launching"}, [1]),
        ({"words": "record 2 t-20"}, [2]),
        ({"words": "nothing"}, []),
        ({"tool": "t-02"}, [1]),
        ({"tool": "T-20", "verdict": "stopped"}, [2]),
        ({"verdict": "in"}, [1]),
        ({"verdict": "out"}, []),
        ({"day_from": "2026-11-25", "day_to": "2026-11-25"}, [2, 1]),
        ({"day_from": "2026-11-26"}, []),
        ({"day_to": "2026-11-24"}, []),
    ],
)
def test_records_are_found_by_what_is_said_of_them(typed: dict[str, str], found: list[int]) -> None:
    workshop, _, _ = standing()
    assert [row.body["closed"]["record"] for row in find_records(workshop.ledger, typed)] == found


def test_records_are_found_by_who_sealed_them_and_by_the_name_of_a_tool() -> None:
    workshop, _, rigger = standing()
    ledger = workshop.ledger
    (one,) = find_records(ledger, {"who": rigger})
    assert [row.body["id"] for row in find_records(ledger, {"tool": one.body["tool"]})] == [one.body["id"]]


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"verdict": "fine"}, "verdict"),
        ({"day_from": "yesterday"}, "day_from"),
        ({"day_to": "2026-13-01"}, "day_to"),
        ({"day_from": "2026-11-25", "day_to": "2026-11-24"}, "day_to"),
        ({"tool": "T-99"}, "tool"),
        ({"words": "\x00"}, "words"),
    ],
)
def test_a_search_that_cannot_be_is_refused_with_its_field(typed: dict[str, str], field: str) -> None:
    workshop, _, _ = standing()
    with pytest.raises(InputRefused) as refused:
        find_records(workshop.ledger, typed)
    assert refused.value.field == field


def test_every_record_stands_on_one_page_of_the_book() -> None:
    workshop, acting = shop()
    tool = sealed.tool(acting)
    for _ in range(52):
        sealed.stopped(acting, tool)
    first = book_page(workshop.ledger, {})
    second = book_page(workshop.ledger, {}, after=first.older)
    numbers = [row.body["closed"]["record"] for row in (*first.records, *second.records)]
    assert numbers == list(range(52, 0, -1))
    assert second.older is None


@pytest.mark.parametrize("record", [0, -1, 3, 10**30])
def test_a_record_that_is_not_there_is_not_found(record: int) -> None:
    workshop, _, _ = standing()
    with pytest.raises(NotFound):
        record_view(workshop.ledger, record)


def test_a_record_shows_the_entry_that_sealed_it() -> None:
    workshop, _, _ = standing()
    view = record_view(workshop.ledger, 1)
    (entry,) = [e for e in workshop.ledger.entries() if e.number == view.entry]
    assert (entry.kind, entry.digest) == ("check-closed", view.entry_digest)
    assert entry.payload["digest"] == view.body["closed"]["digest"]


def test_the_export_gives_back_the_digest_of_its_content() -> None:
    workshop, _, _ = standing()
    export = json.loads(json.dumps(record_export(workshop.ledger, 1)))
    assert digest_of(rfc8785.dumps(export["content"]).decode()) == export["digest"]
    assert export["is_intact"] is True
    assert list(export["people"].values()) == ["rigger"]


def test_each_phase_is_exported_and_the_last_one_without_asking() -> None:
    workshop, _, _ = standing()
    found, left = (record_form(workshop.ledger, 1, phase) for phase in ("as-found", "as-left"))
    assert record_form(workshop.ledger, 1) == left
    assert [len(point.pulls) for point in read_check(found).points] == [4, 3, 3]
    assert [len(point.pulls) for point in read_check(left).points] == [3, 3, 3]


@pytest.mark.parametrize(("record", "phase"), [(1, "as-wished"), (2, None), (2, "as-found"), (3, None)])
def test_a_phase_that_is_not_there_is_not_found(record: int, phase: str | None) -> None:
    workshop, _, _ = standing()
    with pytest.raises(NotFound):
        record_form(workshop.ledger, record, phase)


def test_a_correction_follows_a_record_and_leaves_it_as_it_was() -> None:
    workshop, acting, rigger = with_records()
    before = record_view(workshop.ledger, 1)
    correct_record(workshop.acting(who=rigger), 1, {"wrong": "half\r\na turn", "right": " a quarter "})
    after = record_view(workshop.ledger, 1)
    (correction,) = after.body["corrections"]
    assert (correction["wrong"], correction["right"], correction["who"]) == (
        "half\na turn",
        "a quarter",
        rigger,
    )
    assert after.is_intact
    assert after.entry_digest == before.entry_digest
    assert find_records(workshop.ledger, {})[1].body["closed"] == before.body["closed"]


@pytest.mark.parametrize(
    ("typed", "field"), [({"right": "x"}, "wrong"), ({"wrong": "x", "right": " "}, "right")]
)
def test_a_correction_says_what_is_wrong_and_what_is_right(typed: dict[str, str], field: str) -> None:
    workshop, acting, _ = with_records()
    with pytest.raises(InputRefused) as refused:
        correct_record(acting, 1, typed)
    assert refused.value.field == field
    assert record_view(workshop.ledger, 1).body["corrections"] == []


def test_a_correction_sent_twice_stands_once() -> None:
    workshop, _, _ = with_records()
    for _ in range(2):
        correct_record(workshop.acting(submission="s1"), 1, {"wrong": "a", "right": "b"})
    assert len(record_view(workshop.ledger, 1).body["corrections"]) == 1


def test_a_sealed_record_refuses_everything_else() -> None:
    workshop, acting, _ = standing()
    check = record_view(workshop.ledger, 1).body["id"]
    before = workshop.ledger.head()
    for deed in (
        lambda: look_over(acting, check, {"damaged": "no"}),
        lambda: exercise(acting, check, {"exercise_pulls": "5"}),
        lambda: read_pull(acting, check, "as-left", 0, {"line": "20.0"}),
        lambda: attach_photograph(acting, check, b"x", "image/jpeg", {}),
    ):
        with pytest.raises(RecordSealed):
            deed()
    assert workshop.ledger.head() == before


def test_a_content_that_was_changed_after_sealing_is_seen() -> None:
    workshop, _, _ = with_records()
    ledger = workshop.ledger
    assert isinstance(ledger, MemoryLedger)
    check = record_view(ledger, 1).body["id"]
    row = ledger._rows[f"check:{check}"]
    row["body"] = row["body"].replace('"19.00 N·m"', '"19.90 N·m"')
    assert not record_view(ledger, 1).is_intact


def test_a_printed_record_stands_by_either_number() -> None:
    workshop, _, _ = standing()
    view = record_view(workshop.ledger, 1)
    for typed in (
        {"record": "1", "digest": view.entry_digest},
        {"entry": str(view.entry), "digest": view.entry_digest[:8].upper()},
    ):
        assert printed_stands(workshop.ledger, workshop, typed) == ()


def test_a_printed_record_that_was_cut_off_or_replaced_is_missed() -> None:
    workshop, _, _ = standing()
    printed = {"record": "2", "digest": record_view(workshop.ledger, 2).entry_digest}
    cut = Workshop(workshop.folder, MemoryLedger(), StandingClock(), CountingDice(), Photographs())
    (missing,) = printed_stands(cut.ledger, cut, printed)
    assert missing.code == "record-cut"
    acting = cut.acting()
    sealed.stopped(acting, sealed.tool(acting))
    sealed.stopped(acting, sealed.tool(acting, "T-21"))
    (replaced,) = printed_stands(cut.ledger, cut, printed)
    assert replaced.code == "chain-cut"
    (beyond,) = printed_stands(cut.ledger, cut, {"entry": "9" * 12, "digest": printed["digest"]})
    assert beyond.code == "chain-cut"


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"record": "1"}, "digest"),
        ({"digest": "0" * 64}, "record"),
        ({"record": "one", "digest": "0" * 64}, "record"),
        ({"entry": "-1", "digest": "0" * 64}, "entry"),
        ({"entry": "9" * 13, "digest": "0" * 64}, "entry"),
        ({"record": "1", "digest": "what is printed"}, "digest"),
    ],
)
def test_what_cannot_be_printed_is_refused_with_its_field(typed: dict[str, str], field: str) -> None:
    workshop, _, _ = standing()
    with pytest.raises(InputRefused) as refused:
        printed_stands(workshop.ledger, workshop, typed)
    assert refused.value.field == field
