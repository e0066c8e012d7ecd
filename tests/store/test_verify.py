"""Whatever is done to a ledger behind its back is found, and its documents can be made anew."""

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from steelyard.desk.ports import Wanted
from steelyard.errors import Damaged, InputRefused
from steelyard.findings import Finding
from steelyard.records import Draft, digest_of
from steelyard.store import SqlLedger, open_ledger, rebuild_documents, verify_against, verify_ledger
from steelyard.words import say
from store.entries import STAMP, fill, pull, tool


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[SqlLedger]:
    """A tool, a check with three pulls and a photograph: entries 1 to 6."""
    with open_ledger(tmp_path / "ledger.sqlite3") as made:
        fill(made)
        digest = made.keep_file(b"picture", "image/jpeg")
        made.append([Draft("attachment-kept", "check:c1", {"file": digest})], STAMP)
        yield made


def tamper(ledger: SqlLedger, *statements: str) -> None:
    with closing(sqlite3.connect(ledger.path)) as connection, connection:
        for statement in statements:
            connection.execute(statement)


def found(ledger: SqlLedger) -> list[tuple[str, object]]:
    """Code and number, or what else it is about, of everything verifying finds."""
    return sorted(
        (about(finding) for finding in verify_ledger(ledger).findings), key=lambda row: (row[0], str(row[1]))
    )


def about(finding: Finding) -> tuple[str, object]:
    assert say(finding.code, **finding.facts)
    return finding.code, finding.facts.get("number", finding.facts.get("subject"))


def write_over(ledger: SqlLedger, number: int, body: str, digest: str) -> None:
    with closing(sqlite3.connect(ledger.path)) as connection, connection:
        connection.execute("UPDATE entry SET body = ?, digest = ? WHERE number = ?", (body, digest, number))


def entry(ledger: SqlLedger, number: int) -> str:
    return next(ledger.entries(after=number - 1)).body


class TestFound:
    def test_nothing_in_a_sound_ledger(self, ledger: SqlLedger) -> None:
        verified = verify_ledger(ledger)
        assert verified.is_whole
        assert (verified.entries, verified.count) == (6, 0)

    def test_nothing_in_an_empty_one(self, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "empty.sqlite3") as empty:
            assert verify_ledger(empty).is_whole

    def test_a_body_changed(self, ledger: SqlLedger) -> None:
        tamper(ledger, "UPDATE entry SET body = replace(body, '60,0 Nm', '66,0 Nm') WHERE number = 3")
        assert found(ledger) == [("chain-changed", 3), ("document-differs", "check:c1")]

    def test_a_body_changed_with_its_digest_and_document(self, ledger: SqlLedger) -> None:
        body = entry(ledger, 3).replace("60,0 Nm", "66,0 Nm")
        write_over(ledger, 3, body, digest_of(body))
        rebuild_documents(ledger)
        assert found(ledger) == [("chain-joint", 4)]

    def test_an_entry_removed(self, ledger: SqlLedger) -> None:
        tamper(ledger, "DELETE FROM entry WHERE number = 4")
        assert [finding.facts for finding in verify_ledger(ledger).findings] == [
            {"number": 4, "found": 5},
            {"subject": "check:c1"},
        ]

    def test_an_entry_filed_under_another_subject(self, ledger: SqlLedger) -> None:
        tamper(ledger, "UPDATE entry SET subject = 'check:c2' WHERE number = 4")
        assert ("entry-misfiled", 4) in found(ledger)

    @pytest.mark.parametrize("column", ["kind", "at", "who"])
    def test_an_entry_that_says_otherwise_than_its_columns(self, ledger: SqlLedger, column: str) -> None:
        tamper(ledger, f"UPDATE entry SET {column} = 'x' WHERE number = 2")
        assert found(ledger) == [("entry-misfiled", 2)]

    @pytest.mark.parametrize("body", ["", "{", "[]", "7", '{"number": 4}', "[" * 5000])
    def test_a_body_that_is_none_though_its_digest_fits(self, ledger: SqlLedger, body: str) -> None:
        write_over(ledger, 4, body, digest_of(body))
        codes = found(ledger)
        assert ("entry-unfoldable", 4) in codes
        assert any(code.startswith("chain-") for code, _ in codes)

    def test_a_body_that_is_no_text_any_more(self, ledger: SqlLedger) -> None:
        tamper(ledger, "UPDATE entry SET body = CAST(x'7bff00' AS TEXT) WHERE number = 4")
        assert {("entry-unfoldable", 4), ("chain-changed", 4)} <= set(found(ledger))

    def test_an_entry_that_does_not_fit_its_subject(self, ledger: SqlLedger) -> None:
        body = entry(ledger, 4).replace('"pull-read"', '"rig-sold"')
        write_over(ledger, 4, body, digest_of(body))
        assert ("entry-unfoldable", 4) in found(ledger)

    @pytest.mark.parametrize(
        "statement",
        [
            "UPDATE document SET body = replace(body, '60,0 Nm', '66,0 Nm') WHERE subject = 'check:c1'",
            "UPDATE document SET state = 'in' WHERE subject = 'check:c1'",
            "UPDATE document SET due = '2030-01-01' WHERE subject = 'check:c1'",
            "DELETE FROM document WHERE subject = 'check:c1'",
        ],
    )
    def test_a_document_that_is_not_what_its_entries_say(self, ledger: SqlLedger, statement: str) -> None:
        tamper(ledger, statement)
        assert found(ledger) == [("document-differs", "check:c1")]
        assert rebuild_documents(ledger)
        assert verify_ledger(ledger).is_whole

    @pytest.mark.parametrize("subject", ["check:a", "check:z", "tool:z"])
    def test_a_document_without_entries(self, ledger: SqlLedger, subject: str) -> None:
        tamper(
            ledger,
            "INSERT INTO document SELECT "
            f"'{subject}', sort, key, state, day, due, owner, who, words, last, body FROM document LIMIT 1",
        )
        assert found(ledger) == [("document-differs", subject)]
        assert rebuild_documents(ledger)
        assert verify_ledger(ledger).is_whole

    def test_a_file_changed_or_missing(self, ledger: SqlLedger) -> None:
        tamper(ledger, "UPDATE file SET content = x'00'")
        assert [code for code, _ in found(ledger)] == ["file-changed"]
        tamper(ledger, "DELETE FROM file")
        assert found(ledger) == [("file-missing", 6)]

    def test_of_many_findings_the_first_are_kept_and_all_are_counted(self, ledger: SqlLedger) -> None:
        ledger.append([pull("c1", "60")] * 400, STAMP)
        tamper(ledger, "UPDATE entry SET who = 'x'")
        verified = verify_ledger(ledger)
        assert (len(verified.findings), verified.count) == (200, 406)


class TestAgainstPaper:
    def test_an_entry_as_it_was_printed(self, ledger: SqlLedger) -> None:
        digest = ledger.head().digest
        assert verify_against(ledger, 6, digest) == []
        assert verify_against(ledger, 6, f" {digest[:4].upper()} {digest[4:8]}-{digest[8:12]} …") == []

    def test_a_tail_cut_off_is_found_though_the_chain_holds(self, ledger: SqlLedger) -> None:
        head = ledger.head()
        tamper(ledger, "DELETE FROM entry WHERE number > 4")
        rebuild_documents(ledger)
        assert verify_ledger(ledger).is_whole
        assert [about(f) for f in verify_against(ledger, head.number, head.digest)] == [("chain-cut", 6)]

    def test_a_tail_cut_off_and_written_anew_is_found(self, ledger: SqlLedger) -> None:
        head = ledger.head()
        tamper(ledger, "DELETE FROM entry WHERE number > 4")
        rebuild_documents(ledger)
        ledger.append([pull("c1", "70"), pull("c1", "71")], STAMP)
        assert ledger.head().number == head.number
        assert [about(f) for f in verify_against(ledger, head.number, head.digest)] == [("chain-cut", 6)]

    @pytest.mark.parametrize("typed", ["", "3f9a", "record 6", "z" * 64, "0" * 65])
    def test_what_is_no_digest_is_refused(self, ledger: SqlLedger, typed: str) -> None:
        with pytest.raises(InputRefused, match="first 8 digits"):
            verify_against(ledger, 6, typed)


class TestSteps:
    def test_it_tells_how_far_it_is_and_can_be_stopped(self, ledger: SqlLedger) -> None:
        ledger.append([pull("c1", "60")] * 3000, STAMP)
        told: list[tuple[int, int]] = []

        def until_half(done: int, of: int) -> bool:
            told.append((done, of))
            return done < 2000

        verified = verify_ledger(ledger, on_step=until_half)
        assert told == [(0, 3006), (1000, 3006), (2000, 3006)]
        assert not verified.is_finished
        assert not verified.is_whole

    def test_a_rebuild_stopped_leaves_everything_as_it_was(self, ledger: SqlLedger) -> None:
        ledger.append([pull("c1", "60")] * 1500, STAMP)
        tamper(ledger, "UPDATE document SET state = 'in' WHERE subject = 'check:c1'")
        assert rebuild_documents(ledger, on_step=lambda done, of: done < 1000) is False
        assert found(ledger) == [("document-differs", "check:c1")]
        assert rebuild_documents(ledger, on_step=lambda done, of: True) is True
        assert verify_ledger(ledger).is_whole

    def test_a_rebuild_makes_many_documents_just_as_they_were(self, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "many.sqlite3") as many:
            many.append([tool(f"t{i}", f"T-{i}") for i in range(1100)], STAMP)
            before = many.documents(Wanted("tool", most=2000))
            tamper(many, "DELETE FROM document")
            assert rebuild_documents(many)
            assert many.documents(Wanted("tool", most=2000)) == before

    @pytest.mark.parametrize("body", ["{", json.dumps({"number": 4})])
    def test_a_rebuild_from_what_cannot_be_read_is_refused(self, ledger: SqlLedger, body: str) -> None:
        before = ledger.document("check:c1")
        write_over(ledger, 4, body, digest_of(body))
        with pytest.raises(Damaged, match="chain of entries"):
            rebuild_documents(ledger)
        assert ledger.document("check:c1") == before


def test_a_document_that_is_no_json_is_told_as_damage(ledger: SqlLedger) -> None:
    tamper(ledger, "UPDATE document SET body = '{' WHERE subject = 'check:c1'")
    with pytest.raises(Damaged, match="cannot be read"):
        ledger.document("check:c1")


@pytest.mark.parametrize("body", ["{", '{"number": 4}'])
def test_an_entry_that_cannot_be_read_is_told_as_damage(ledger: SqlLedger, body: str) -> None:
    write_over(ledger, 4, body, digest_of(body))
    with pytest.raises(Damaged):
        list(ledger.entries())
    assert [about(finding) for finding in verify_against(ledger, 4, "0" * 64)] == [("chain-cut", 4)]
