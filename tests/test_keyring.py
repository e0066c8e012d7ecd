"""The key of a workshop in its folder: made with the first seal, missed where it is gone, brought back."""

from pathlib import Path

import pytest

from proof.signed_shop import EXAMPLES
from steelyard.bootstrap import existing_workshop, move_workshop, restore_workshop, workshop
from steelyard.desk import record_file
from steelyard.desk.signing import own_keys, unsigned_records
from steelyard.errors import Conflict, InputRefused
from steelyard.proof import WorkshopKey
from steelyard.store import KEY_FILE

EXAMPLE = (EXAMPLES / "click-wrench-on-adapter.toml").read_bytes()
OTHER = (EXAMPLES / "driver-on-transducer.toml").read_bytes()
PHRASE = "seven herons on a slip"


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


@pytest.mark.parametrize("content", [None, b"rubbish"])
def test_a_lost_key_stops_no_work_and_no_other_takes_its_place(folder: Path, content: bytes | None) -> None:
    if content is None:
        (folder / KEY_FILE).unlink()
    else:
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
            opened.keyring.back_from_lines("\n".join(WorkshopKey(b"\4" * 32).lines()))
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
