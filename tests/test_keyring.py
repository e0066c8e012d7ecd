"""The key of a workshop in its folder: made with the first seal, missed where it is gone, brought back."""

from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor, wait
from dataclasses import replace
from pathlib import Path
from threading import Barrier

import pytest

from proof.signed_shop import EXAMPLES
from steelyard.bootstrap import existing_workshop, move_workshop, restore_workshop, workshop
from steelyard.desk import record_file
from steelyard.desk.acting import nobody
from steelyard.desk.signing import accept_key, own_keys, sign_record, unsigned_records
from steelyard.errors import Conflict, Full, InputRefused
from steelyard.proof import WorkshopKey
from steelyard.records import Draft
from steelyard.store import KEY_FILE, put_key, read_key

EXAMPLE = (EXAMPLES / "click-wrench-on-adapter.toml").read_bytes()
OTHER = (EXAMPLES / "driver-on-transducer.toml").read_bytes()
PHRASE = "seven herons on a slip"
FOREIGN = WorkshopKey(b"\4" * 32)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A workshop with one sealed record, and a copy of its key."""
    with workshop(tmp_path / "shop") as opened:
        assert opened.keyring.said().state == "not-yet"
        record_file(opened.acting(), EXAMPLE)
    return tmp_path / "shop"


def test_the_first_seal_makes_the_key_and_the_next_one_uses_it(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        said = opened.keyring.said()
        record_file(opened.acting(), OTHER)
        assert own_keys(opened.ledger) == (said.public,)
        assert said.state == "there"
        assert list(unsigned_records(opened.ledger)) == []


@pytest.mark.parametrize("content", [None, b"rubbish", b"", "a folder"])
def test_a_lost_key_stops_no_work_and_no_other_takes_its_place(
    folder: Path, content: bytes | str | None
) -> None:
    (folder / KEY_FILE).unlink()
    if content == "a folder":
        (folder / KEY_FILE).mkdir()
    elif isinstance(content, bytes):
        (folder / KEY_FILE).write_bytes(content)
    with existing_workshop(folder) as opened:
        assert opened.keyring.said().state == "missing"
        assert record_file(opened.acting(), OTHER) == 2
        assert list(unsigned_records(opened.ledger)) == [2]
        with pytest.raises(InputRefused):
            opened.keyring.lines()


def test_it_comes_back_from_its_sheet_and_from_its_copy(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        before, lines = opened.keyring.said(), opened.keyring.lines()
        copy = opened.keyring.copy(opened.backup_folder, PHRASE, PHRASE)
        (folder / KEY_FILE).unlink()
        assert opened.keyring.back_from_lines("\n".join(lines)) is None
        assert opened.keyring.said() == before
        (folder / KEY_FILE).unlink()
        opened.keyring.back_from_file(copy.read_bytes(), PHRASE)
        assert opened.keyring.said() == before


def test_the_key_of_another_workshop_is_refused(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        before = opened.keyring.said()
        with pytest.raises(InputRefused) as refused:
            opened.keyring.back_from_lines("\n".join(FOREIGN.lines()))
        assert refused.value.field == "lines"
        assert opened.keyring.said() == before


def test_two_pass_phrases_that_differ_are_refused(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        with pytest.raises(InputRefused) as refused:
            opened.keyring.copy(opened.backup_folder, PHRASE, PHRASE + "s")
        assert refused.value.field == "again"


def test_a_new_key_is_made_only_in_the_place_of_the_one_that_was_seen(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        first = opened.keyring.said()
        with pytest.raises(Conflict):
            opened.keyring.new(opened.acting(), "")
        opened.keyring.new(opened.acting(), first.fingerprint)
        second = opened.keyring.said()
        assert second.public != first.public
        assert own_keys(opened.ledger) == (first.public, second.public)


def test_a_backup_holds_no_key(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        seed = opened.keyring.signer()
        copy = opened.back_up()
        assert seed is not None
        assert seed._seed not in copy.read_bytes()
        assert [path.suffix for path in copy.parent.iterdir()] == [".sqlite3"]


def test_a_restored_workshop_signs_with_the_key_that_is_there(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        before, copy = opened.keyring.said(), opened.back_up()
    restore_workshop(copy, folder)
    with existing_workshop(folder) as opened:
        assert opened.keyring.said() == before


def test_the_key_goes_along_when_a_workshop_moves(folder: Path, tmp_path: Path) -> None:
    with existing_workshop(folder) as opened:
        before = opened.keyring.said()
    move_workshop(folder, tmp_path / "new place")
    assert not (folder / KEY_FILE).exists()
    with existing_workshop(tmp_path / "new place") as opened:
        after = opened.keyring.said()
    assert (after.state, after.public) == ("there", before.public)


def test_the_key_of_another_workshop_in_the_folder_signs_nothing(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        before, lines = opened.keyring.said(), opened.keyring.lines()
        (folder / KEY_FILE).write_bytes(FOREIGN.in_pem())
        said = opened.keyring.said()
        assert (said.state, said.public) == ("foreign", before.public)
        assert opened.keyring.signer() is None
        assert record_file(opened.acting(), OTHER) == 2
        assert own_keys(opened.ledger) == (before.public,)
        opened.keyring.back_from_lines("\n".join(lines))
        assert (opened.keyring.said().state, opened.keyring.said().public) == ("there", before.public)


def test_in_the_place_of_a_foreign_key_a_new_one_can_be_made(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        (folder / KEY_FILE).write_bytes(FOREIGN.in_pem())
        opened.keyring.new(opened.acting(), opened.keyring.said().fingerprint)
        said = opened.keyring.said()
        assert said.state == "there"
        assert FOREIGN.public not in own_keys(opened.ledger)
        assert [Path(place).read_bytes() for place in said.laid] == [FOREIGN.in_pem()]


def test_where_nothing_was_signed_yet_a_key_that_lies_there_is_taken(tmp_path: Path) -> None:
    with workshop(tmp_path) as opened:
        (tmp_path / KEY_FILE).write_bytes(FOREIGN.in_pem())
        assert opened.keyring.said().state == "there"
        record_file(opened.acting(), EXAMPLE)
        assert own_keys(opened.ledger) == (FOREIGN.public,)


def test_a_workshop_does_not_move_to_where_a_key_lies(folder: Path, tmp_path: Path) -> None:
    there = tmp_path / "new place"
    there.mkdir()
    (there / KEY_FILE).write_bytes(FOREIGN.in_pem())
    before = sorted(path.name for path in folder.iterdir())
    with pytest.raises(InputRefused) as refused:
        move_workshop(folder, there)
    assert refused.value.wanted == "want-empty-folder"
    assert sorted(path.name for path in folder.iterdir()) == before
    assert [path.name for path in there.iterdir()] == [KEY_FILE]


def test_of_several_who_ask_for_a_new_key_at_once_one_gets_it(folder: Path) -> None:
    askers = 4
    with existing_workshop(folder) as opened, ThreadPoolExecutor(askers) as pool:
        first, start = opened.keyring.said(), Barrier(askers)

        def ask() -> bool:
            start.wait()
            try:
                opened.keyring.new(opened.acting(), first.fingerprint)
            except Conflict:
                return False
            return True

        assert sorted(each.result() for each in [pool.submit(ask) for _ in range(askers)]) == [
            *[False] * (askers - 1),
            True,
        ]
        assert own_keys(opened.ledger) == (first.public, opened.keyring.said().public)


def test_nobody_gets_a_new_key_between_the_entry_of_another_and_its_place(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with existing_workshop(folder) as opened, ThreadPoolExecutor(1) as pool:
        known = opened.keyring.said().fingerprint
        asked: list[Future[Path | None]] = []

        def put_late(home: Path, key: WorkshopKey) -> Path | None:
            if not asked:
                asked.append(pool.submit(opened.keyring.new, opened.acting(), known))
                wait(asked, timeout=0.5)
            return put_key(home, key)

        monkeypatch.setattr("steelyard.bootstrap.keyring.put_key", put_late)
        opened.keyring.new(opened.acting(), known)
        assert isinstance(asked[0].exception(), Conflict)
        assert len(own_keys(opened.ledger)) == 2


def test_somebody_who_writes_meanwhile_leaves_the_key_as_it_was(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        said, present = opened.keyring.said(), read_key(folder)
        acting = opened.acting()
        write = type(acting).write

        def too_late(*drafts: Draft, seen: Mapping[str, int]) -> object:
            accept_key(opened.acting(), {"name": "the boatyard"}, public=FOREIGN.public)
            return write(acting, *drafts, seen=seen)

        object.__setattr__(acting, "write", too_late)
        with pytest.raises(Conflict):
            opened.keyring.new(acting, said.fingerprint)
        assert read_key(folder) == present
        assert own_keys(opened.ledger) == (said.public,)


def test_a_ledger_that_cannot_be_written_leaves_the_key_as_it_was(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        acting, present = opened.acting(), read_key(folder)

        def full(*_: object, **__: object) -> None:
            raise Full("here")

        object.__setattr__(acting, "write", full)
        with pytest.raises(Full):
            opened.keyring.new(acting, opened.keyring.said().fingerprint)
        assert read_key(folder) == present
        assert opened.keyring.said().laid == ()


def test_a_repeat_of_a_new_key_makes_no_other_and_is_answered_as_the_first(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        first = opened.keyring.said().fingerprint
        opened.keyring.new(opened.acting(submission="once"), first)
        second = opened.keyring.said()
        opened.keyring.new(opened.acting(submission="once"), first)
        assert opened.keyring.said() == second
        opened.keyring.new(opened.acting(submission="twice"), second.fingerprint)
        with pytest.raises(Conflict):
            opened.keyring.new(opened.acting(submission="once"), first)


def test_a_submission_that_stood_for_something_else_makes_no_key(folder: Path) -> None:
    with existing_workshop(folder) as opened:
        said = opened.keyring.said()
        accept_key(opened.acting(submission="once"), {"name": "the boatyard"}, public=FOREIGN.public)
        with pytest.raises(InputRefused) as refused:
            opened.keyring.new(opened.acting(submission="once"), said.fingerprint)
        assert refused.value.field == "submission"
        assert opened.keyring.said() == said


def test_what_leaves_is_signed_only_by_a_key_the_ledger_knows(folder: Path, tmp_path: Path) -> None:
    with existing_workshop(folder) as opened:
        assert opened.keyring.for_leaving() == opened.keyring.signer()
    with workshop(tmp_path / "sealed before") as opened:
        record_file(replace(opened.acting(), signer=nobody), EXAMPLE)
        assert opened.keyring.for_leaving() is None
        assert opened.keyring.said().state == "not-yet"  # reading makes no key
        assert sign_record(opened.acting(), 1)
        assert opened.keyring.for_leaving() == opened.keyring.signer() is not None
