"""A disk that is full, a file that may not be written, one that another program holds: told, nothing lost."""

import os
import re
import sqlite3
import tempfile
import threading
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
import sqlalchemy as sa

from faults.programs import run_script
from steelyard.errors import Busy, Full, ReadOnly, StoreTrouble
from steelyard.store import SqlLedger, back_up, open_ledger, restore, verify_ledger
from steelyard.store.engine import connect, make_engine
from steelyard.store.trouble import told
from store.entries import STAMP, at, event, fill, tool

POSIX = pytest.mark.skipif(os.name != "posix", reason="needs limits and users as POSIX has them")
NOW = datetime(2026, 11, 25, 13, 54, 28, tzinfo=UTC)


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[SqlLedger]:
    with open_ledger(tmp_path / "ledger.sqlite3", patience_ms=50) as made:
        fill(made)
        yield made


def assert_nothing_is_lost(path: Path, number: int) -> None:
    with open_ledger(path) as again:
        assert verify_ledger(again).is_whole
        assert again.head().number == number
        again.append([event("t1")], STAMP)
        assert again.head().number == number + 1


class TestFull:
    def test_a_full_disk_is_told_and_nothing_is_lost(self, ledger: SqlLedger) -> None:
        with closing(sqlite3.connect(ledger.path)) as connection:
            (pages,) = connection.execute("PRAGMA page_count").fetchone()
        ledger.close()
        sa.event.listen(
            ledger.engine, "connect", lambda raw, _: raw.execute(f"PRAGMA max_page_count={pages + 4}").close()
        )
        with pytest.raises(Full, match=f"no room.*{re.escape(str(ledger.path))}.*nothing was written"):
            for _ in range(200):
                number = ledger.head().number
                ledger.append([event("t1", note="x" * 400)] * 3, STAMP, submission=str(number))
        with pytest.raises(Full):
            ledger.append([event("t1", note="x" * 4000)], STAMP)
        assert ledger.head().number == number
        ledger.close()
        assert_nothing_is_lost(ledger.path, number)

    @POSIX
    def test_a_limit_on_the_size_of_files_is_told_and_nothing_is_lost(self, ledger: SqlLedger) -> None:
        ledger.close()
        script = """
import resource, sys
from pathlib import Path
from store.entries import STAMP, event
from steelyard.errors import Full
from steelyard.store import open_ledger
path = Path(sys.argv[1])
with open_ledger(path) as ledger:
    resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size + 60_000,) * 2)
    try:
        while True:
            number = ledger.append([event("t1", note="x" * 1000)], STAMP)[-1].number
    except Full:
        print(number, ledger.head().number)
"""
        promised, head = run_script(script, str(ledger.path)).split()
        assert promised == head
        assert_nothing_is_lost(ledger.path, int(head))

    @POSIX
    def test_a_backup_without_room_leaves_no_half_copy(self, ledger: SqlLedger, tmp_path: Path) -> None:
        ledger.keep_file(b"x" * 200_000, "image/jpeg")
        script = """
import resource, sys
from datetime import UTC, datetime
from pathlib import Path
from steelyard.errors import Full
from steelyard.store import back_up
resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
try:
    back_up(Path(sys.argv[1]), Path(sys.argv[2]), now=datetime.now(UTC))
except Full as refusal:
    print(refusal)
"""
        assert "no room" in run_script(script, str(ledger.path), str(tmp_path / "second"))
        assert list((tmp_path / "second").iterdir()) == []
        assert back_up(ledger, tmp_path / "second", now=NOW).exists()


class TestReadOnly:
    def test_a_connection_that_may_only_read(self, ledger: SqlLedger) -> None:
        with SqlLedger(ledger.path, make_engine(ledger.path, mode="ro")) as reader:
            assert reader.head().number == 5
            assert verify_ledger(reader).is_whole
            for write in (
                lambda: reader.append([event("t1")], STAMP),
                lambda: reader.keep_file(b"picture", "image/jpeg"),
                lambda: reader.forget("p1"),
            ):
                with pytest.raises(ReadOnly, match="may not be written: nothing was written"):
                    write()
        ledger.close()
        assert_nothing_is_lost(ledger.path, 5)

    @POSIX
    @pytest.mark.parametrize(
        ("file_mode", "folder_mode"), [(0o644, 0o755), (0o444, 0o777), (0o600, 0o755), (0o644, 0o700)]
    )
    def test_a_user_without_leave_is_told(self, file_mode: int, folder_mode: int) -> None:
        """Tried as another user where the tests run as one whom no permission stops."""
        script = """
import os, sys
from pathlib import Path
from store.entries import STAMP, event, tool
from steelyard.errors import ReadOnly
from steelyard.store import MemoryLedger, open_ledger
MemoryLedger().append([tool("t1", "T-01")], STAMP)  # loads what the other user may have no leave to load
if os.getuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
try:
    with open_ledger(Path(sys.argv[1])) as ledger:
        ledger.append([event("t1")], STAMP)
except ReadOnly as refusal:
    print(refusal)
"""
        with tempfile.TemporaryDirectory() as name:
            Path(name).chmod(0o755)
            path = Path(name) / "shop" / "ledger.sqlite3"
            with open_ledger(path) as made:
                fill(made)
            path.chmod(file_mode if os.getuid() == 0 else file_mode & 0o444)
            path.parent.chmod(folder_mode if os.getuid() == 0 else folder_mode & 0o555)
            try:
                assert "may not be written" in run_script(script, str(path))
            finally:
                path.parent.chmod(0o700)
                path.chmod(0o600)
            assert_nothing_is_lost(path, 5)


class TestHeld:
    def test_a_writer_waits_then_is_told(self, ledger: SqlLedger) -> None:
        with closing(connect(ledger.path)) as other:
            other.execute("BEGIN EXCLUSIVE")
            with pytest.raises(Busy, match="nothing was written; try again"):
                ledger.append([event("t1")], STAMP, submission="s1")
            assert ledger.head().number == 5
            assert ledger.document("tool:t1") is not None
            other.execute("ROLLBACK")
        ledger.append([event("t1")], STAMP, submission="s1")
        assert ledger.head().number == 6

    def test_a_writer_that_is_let_in_in_time_is_not_told_anything(self, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "ledger.sqlite3") as patient, closing(connect(patient.path)) as other:
            other.execute("BEGIN IMMEDIATE")
            release = threading.Timer(0.2, lambda: other.execute("COMMIT"))
            release.start()
            patient.append([tool("t1", "T-01")], STAMP)
            release.join()
            assert patient.head().number == 1

    def test_a_file_held_alone_is_told_even_to_readers(self, ledger: SqlLedger) -> None:
        ledger.close()
        with closing(connect(ledger.path)) as other:
            other.execute("PRAGMA locking_mode=EXCLUSIVE").close()
            other.execute("BEGIN EXCLUSIVE")
            with pytest.raises(Busy):
                open_ledger(ledger.path, patience_ms=50)
        assert_nothing_is_lost(ledger.path, 5)

    @POSIX
    def test_a_ledger_another_program_holds_is_not_replaced(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        script = """
import sys
from pathlib import Path
from steelyard.errors import Busy
from steelyard.store import restore
try:
    restore(Path(sys.argv[1]), Path(sys.argv[2]))
except Busy as refusal:
    print(refusal)
"""
        assert "another program holds" in run_script(script, str(copy), str(ledger.path))
        ledger.close()
        assert restore(copy, ledger.path) is not None


def test_a_clock_set_back_a_day_changes_no_order(ledger: SqlLedger) -> None:
    ledger.append([event("t1", note="before")], at("2026-11-26T08:00"))
    ledger.append([event("t1", note="after")], at("2026-11-25T08:00"))
    body = ledger.document("tool:t1")
    assert body is not None
    assert [said["note"] for said in body["events"]] == ["before", "after"]
    assert verify_ledger(ledger).is_whole


@pytest.mark.parametrize(
    ("error", "trouble"),
    [
        (PermissionError(13, "x"), ReadOnly),
        (OSError(28, "x"), Full),
        (OSError(5, "x"), StoreTrouble),
        (sa.exc.TimeoutError(), Busy),
    ],
)
def test_what_the_system_refuses_is_told_as_trouble(error: Exception, trouble: type[StoreTrouble]) -> None:
    with pytest.raises(StoreTrouble) as refused, told("ledger"):
        raise error
    assert type(refused.value) is trouble


def test_our_own_mistakes_are_not_told_as_trouble(ledger: SqlLedger) -> None:
    with (
        closing(connect(ledger.path)) as connection,
        pytest.raises(sqlite3.OperationalError, match="no such table"),
        told("ledger"),
    ):
        connection.execute("SELECT 1 FROM nowhere")
