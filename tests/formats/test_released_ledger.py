"""The entries of a released ledger stay readable: same digests, same documents, a record that is still
intact.

`ledger_1.jsonl` holds the bodies of all entries of one small workshop, a line each: a check as found, a pull
struck out and taken back, a turn of the adjuster, as left, sealed, corrected. The program wrote it at the
bench.
"""

from pathlib import Path
from typing import Any

import pytest

from steelyard.desk import record_content
from steelyard.desk.record import is_intact
from steelyard.records import Entry, chain_breaks, check_table, fold, listing, read_entry, read_table

HEAD = "7f792b5c05199d7917d2d1f4bf7a5f317685133e34eaf18fdca541c092298fe4"
SEAL = "bfdce38c608ae8bfe60076bfe6fefae1e65209caece5da67635d223687b2a566"


@pytest.fixture(scope="module")
def entries() -> list[Entry]:
    text = (Path(__file__).parent / "ledger_1.jsonl").read_text("utf-8")
    return [read_entry(line) for line in text.splitlines()]


@pytest.fixture(scope="module")
def documents(entries: list[Entry]) -> dict[str, dict[str, Any]]:
    folded: dict[str, dict[str, Any]] = {}
    for entry in entries:
        folded[entry.subject] = fold(folded.get(entry.subject), entry)
    return folded


def check_in(documents: dict[str, dict[str, Any]]) -> dict[str, Any]:
    return next(body for subject, body in documents.items() if subject.startswith("check:"))


def test_the_chain_holds_to_the_digest_that_was_printed(entries: list[Entry]) -> None:
    assert list(chain_breaks((e.number, e.body, e.digest) for e in entries)) == []
    assert entries[-1].digest == HEAD


def test_every_document_is_found_again(documents: dict[str, dict[str, Any]]) -> None:
    assert {subject: listing(subject, body).state for subject, body in documents.items()} == {
        "workshop:this": "set",
        "tool:00000001": "cant-tell",
        "rig:00000002": "here",
        "check:00000003": "cant-tell",
    }


def test_the_record_is_intact(documents: dict[str, dict[str, Any]]) -> None:
    body = check_in(documents)
    assert body["closed"]["digest"] == SEAL
    assert is_intact(body)
    assert record_content(body)["steelyard_record"] == 1


@pytest.mark.parametrize("phase", ["as-found", "as-left"])
def test_its_check_form_is_still_read(documents: dict[str, dict[str, Any]], phase: str) -> None:
    form = read_table(check_table(check_in(documents), phase))
    assert [point.target.typed for point in form.points] == ["20 N·m", "100 N·m"]
