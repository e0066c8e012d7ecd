"""The private key in a workshop's folder: for its owner alone, never overwritten."""

import errno
import os
import stat
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest

from steelyard.errors import Full, InputRefused
from steelyard.proof import WorkshopKey, key_in_pem, new_key
from steelyard.store import (
    KEY_FILE,
    has_key_file,
    is_private,
    laid_keys,
    make_key,
    move_key,
    protected_copy,
    put_key,
    read_key,
)

PHRASE = "seven herons on a slip"
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
    assert laid_keys(tmp_path) == (aside,)
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
    assert key is not None
    assert read_key(there) == key == WorkshopKey(key._seed)
    assert not (here / KEY_FILE).exists()


MAKERS, ROUNDS_OF_MAKING = 8, 20


def refuse_links(*_: object, **__: object) -> None:
    """As a disk that knows no second names. Raises OSError."""
    raise OSError(errno.EPERM, "no links here")


def test_all_who_make_one_at_once_get_the_same_whole_one(tmp_path: Path) -> None:
    for number in range(ROUNDS_OF_MAKING):
        folder, start = tmp_path / str(number), Barrier(MAKERS)
        folder.mkdir()

        def make(folder: Path = folder, start: Barrier = start) -> WorkshopKey | None:
            start.wait()
            return make_key(folder)

        with ThreadPoolExecutor(MAKERS) as makers:
            made = [each.result() for each in [makers.submit(make) for _ in range(MAKERS)]]
        assert set(made) == {read_key(folder)} != {None}
        assert [path.name for path in folder.iterdir()] == [KEY_FILE]


def test_a_key_has_its_name_only_once_it_is_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Killed(BaseException):
        """The program ends here."""

    def killed(_: object) -> None:
        raise Killed

    monkeypatch.setattr("steelyard.store.key_file.flush", killed)
    with pytest.raises(Killed):
        make_key(tmp_path)
    assert not has_key_file(tmp_path)


def test_where_a_disk_knows_no_links_it_is_made_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "link", refuse_links)
    key = make_key(tmp_path)
    assert key == read_key(tmp_path) == make_key(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == [KEY_FILE]


def test_what_a_killed_program_left_is_cleared_and_what_is_being_made_is_not(tmp_path: Path) -> None:
    stale, fresh = tmp_path / ".key.pem-0badcafe.part", tmp_path / ".key.pem-12345678.part"
    for path in (stale, fresh):
        path.write_bytes(b"")
    an_age_ago = time.time() - 7200
    os.utime(stale, (an_age_ago, an_age_ago))
    key = make_key(tmp_path)
    assert read_key(tmp_path) == key
    assert sorted(path.name for path in tmp_path.iterdir()) == [fresh.name, KEY_FILE]


def test_there_is_a_key_at_each_moment_while_another_takes_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second, seen = make_key(tmp_path), new_key(), []
    replace = os.replace

    def watched(source: Path, to: Path) -> None:
        seen.append(read_key(tmp_path))
        replace(source, to)
        seen.append(read_key(tmp_path))

    monkeypatch.setattr(os, "replace", watched)
    put_key(tmp_path, second)
    assert seen == [first, second]


def test_a_full_disk_leaves_the_key_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = make_key(tmp_path)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(Full):
        put_key(tmp_path, new_key())
    assert read_key(tmp_path) == first
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copies", KEY_FILE]


def unreadable(path: Path, how: str) -> None:
    """Put something in the place of a key that cannot be read."""
    if how == "folder":
        path.mkdir()
    elif how == "circle":
        path.symlink_to(path)
    elif how == "pipe":
        os.mkfifo(path)
    else:
        path.write_bytes(new_key().in_pem())
        path.chmod(0)


@posix
@pytest.mark.parametrize("how", ["folder", "circle", "pipe", "rights"])
def test_one_that_cannot_be_read_is_none_and_another_can_take_its_place(tmp_path: Path, how: str) -> None:
    unreadable(tmp_path / KEY_FILE, how)
    if how == "rights" and os.access(tmp_path / KEY_FILE, os.R_OK):
        pytest.skip("this user reads everything")
    assert read_key(tmp_path) is None
    assert has_key_file(tmp_path)
    assert is_private(tmp_path)
    if how != "pipe":
        put_key(tmp_path, key := new_key())
        assert read_key(tmp_path) == key


@pytest.mark.parametrize("number", [errno.EACCES, errno.EIO])
def test_one_the_disk_does_not_give_is_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def refused(_: Path) -> bytes:
        raise OSError(number, "not given")

    make_key(tmp_path)
    monkeypatch.setattr(Path, "read_bytes", refused)
    assert read_key(tmp_path) is None


def test_the_same_copy_asked_for_twice_is_one_file(tmp_path: Path) -> None:
    key = new_key()
    copy = protected_copy(tmp_path, key, PHRASE)
    assert protected_copy(tmp_path, key, PHRASE) == copy
    other = protected_copy(tmp_path, key, PHRASE + " and one on a mast")
    assert other != copy
    assert protected_copy(tmp_path, key, PHRASE) == copy


def test_a_copy_that_is_quick_to_guess_is_not_as_good(tmp_path: Path) -> None:
    from cryptography.hazmat.primitives import serialization as how

    key = new_key()
    name = protected_copy(tmp_path, key, PHRASE)
    quick = how.BestAvailableEncryption(PHRASE.encode())
    name.write_bytes(key._private().private_bytes(how.Encoding.PEM, how.PrivateFormat.PKCS8, quick))
    assert key_in_pem(name.read_bytes(), PHRASE) == key
    assert protected_copy(tmp_path, key, PHRASE) != name
