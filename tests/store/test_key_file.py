"""The private key in a workshop's folder: for its owner alone, never overwritten."""

import os
import stat
from pathlib import Path

import pytest

from steelyard.errors import InputRefused
from steelyard.proof import WorkshopKey, key_in_pem, new_key
from steelyard.store import KEY_FILE, is_private, make_key, move_key, protected_copy, put_key, read_key

posix = pytest.mark.skipif(os.name != "posix", reason="this system knows no modes")


def mode(path: Path) -> int:
    """The mode bits of a file."""
    return stat.S_IMODE(path.stat().st_mode)


def test_a_new_key_is_read_back(tmp_path: Path) -> None:
    assert read_key(tmp_path) is None
    key = make_key(tmp_path)
    assert read_key(tmp_path) == key
    assert make_key(tmp_path) == key


@posix
@pytest.mark.parametrize("umask", [0o000, 0o022])
def test_nobody_else_reads_it_whatever_the_umask(tmp_path: Path, umask: int) -> None:
    before = os.umask(umask)
    try:
        make_key(tmp_path)
        put_key(tmp_path, new_key())
        copy = protected_copy(tmp_path / "backups", new_key(), "seven herons on a slip")
    finally:
        os.umask(before)
    laid = next((tmp_path / "copies").iterdir())
    assert [mode(path) for path in (tmp_path / KEY_FILE, copy, laid)] == [0o600] * 3
    assert is_private(tmp_path)
    (tmp_path / KEY_FILE).chmod(0o644)
    assert not is_private(tmp_path)


def test_a_key_put_in_its_place_leaves_the_one_before_aside(tmp_path: Path) -> None:
    first, second = make_key(tmp_path), new_key()
    aside = put_key(tmp_path, second)
    assert aside is not None
    assert key_in_pem(aside.read_bytes()) == first
    assert read_key(tmp_path) == second
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copies", KEY_FILE]


def test_a_copy_opens_with_its_pass_phrase_alone(tmp_path: Path) -> None:
    key = new_key()
    copy = protected_copy(tmp_path, key, "seven herons on a slip")
    assert key_in_pem(copy.read_bytes(), "seven herons on a slip") == key
    assert key.in_pem() not in copy.read_bytes()
    with pytest.raises(InputRefused):
        protected_copy(tmp_path, key, "short")
    assert list(tmp_path.iterdir()) == [copy]


@pytest.mark.parametrize("content", [b"", b"rubbish", b"\xff\x00"])
def test_a_damaged_key_is_no_key_and_stays_where_it_is(tmp_path: Path, content: bytes) -> None:
    (tmp_path / KEY_FILE).write_bytes(content)
    assert read_key(tmp_path) is None
    assert (tmp_path / KEY_FILE).read_bytes() == content


def test_it_goes_along_to_another_folder(tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    there.mkdir()
    move_key(here, there)
    key = make_key(here)
    move_key(here, there)
    assert read_key(there) == key == WorkshopKey(key._seed)
    assert not (here / KEY_FILE).exists()
