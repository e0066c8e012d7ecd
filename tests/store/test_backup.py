"""Backups are read back before they count, and restoring overwrites nothing."""

import re
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from steelyard.errors import Busy, Damaged, NotFound, TooNew
from steelyard.store import (
    SqlLedger,
    back_up,
    back_up_daily,
    last_backup,
    open_ledger,
    restore,
    verify_ledger,
)
from store.entries import STAMP, event, files_in, fill, tool

NOW = datetime(2026, 11, 25, 13, 54, 28, tzinfo=UTC)


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[SqlLedger]:
    with open_ledger(tmp_path / "shop" / "ledger.sqlite3") as made:
        fill(made)
        made.keep_file(b"picture", "image/jpeg")
        yield made


def number_of(path: Path) -> int:
    with open_ledger(path) as opened:
        assert verify_ledger(opened).is_whole
        return opened.head().number


def names(folder: Path) -> list[str]:
    """Names in a folder, the digits of the chain left out."""
    return [re.sub(r"-[0-9a-f]{8}-", "-#-", name) for name in files_in(folder)]


class TestBackingUp:
    def test_a_copy_is_one_file_with_everything_in_it(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        assert names(tmp_path / "second") == ["ledger-#-2026-11-25-135428.sqlite3"]
        assert number_of(copy) == 5
        with open_ledger(copy) as opened:
            assert list(opened.entries()) == list(ledger.entries())

    def test_a_second_one_in_the_same_second_takes_another_name(
        self, ledger: SqlLedger, tmp_path: Path
    ) -> None:
        first = back_up(ledger.path, tmp_path / "second", now=NOW)
        assert back_up(ledger.path, tmp_path / "second", now=NOW) != first
        assert len(list((tmp_path / "second").iterdir())) == 2

    def test_what_is_written_meanwhile_is_in_it_or_not_but_never_half(
        self, ledger: SqlLedger, tmp_path: Path
    ) -> None:
        is_over = threading.Event()

        def write() -> None:
            while not is_over.is_set():
                ledger.append([event("t1"), event("t1", "lent")], STAMP)

        writer = threading.Thread(target=write)
        writer.start()
        try:
            copies = [back_up(ledger, tmp_path / "second", now=NOW) for _ in range(5)]
        finally:
            is_over.set()
            writer.join()
        numbers = [number_of(copy) for copy in copies]
        assert numbers == sorted(numbers)
        assert all((number - 5) % 2 == 0 for number in numbers)
        assert numbers[-1] > 5

    def test_a_ledger_whose_chain_is_broken_is_no_backup(self, ledger: SqlLedger, tmp_path: Path) -> None:
        with closing(sqlite3.connect(ledger.path)) as connection, connection:
            connection.execute("UPDATE entry SET body = replace(body, 'T-01', 'T-99') WHERE number = 1")
        with pytest.raises(Damaged, match="chain of entries"):
            back_up(ledger, tmp_path / "second", now=NOW)
        assert list(files_in(tmp_path / "second")) == []

    def test_a_copy_of_something_else_is_no_backup(
        self, ledger: SqlLedger, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("steelyard.store.backup.digest_at", lambda path, number: f"{number:064}")
        with pytest.raises(Damaged, match="not the copy that was asked for"):
            back_up(ledger, tmp_path / "second", now=NOW)
        assert list(files_in(tmp_path / "second")) == []

    def test_nothing_to_back_up(self, tmp_path: Path) -> None:
        with pytest.raises(NotFound):
            back_up(tmp_path / "none.sqlite3", tmp_path / "second", now=NOW)
        assert list(files_in(tmp_path)) == []


class TestDaily:
    def test_once_a_day(self, ledger: SqlLedger, tmp_path: Path) -> None:
        second = tmp_path / "second"
        assert back_up_daily(ledger, second, now=NOW) is not None
        assert back_up_daily(ledger, second, now=NOW + timedelta(hours=9)) is None
        assert back_up_daily(ledger, second, now=NOW + timedelta(hours=11)) is not None
        assert names(second) == [
            "ledger-#-daily-2026-11-25.sqlite3",
            "ledger-#-daily-2026-11-26.sqlite3",
        ]
        assert last_backup(ledger, second) == date(2026, 11, 26)

    def test_an_empty_ledger_needs_none(self, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "new.sqlite3") as new:
            assert back_up_daily(new, tmp_path / "second", now=NOW) is None
            assert last_backup(new, tmp_path / "second") is None

    def test_two_workshops_may_share_the_folder(self, ledger: SqlLedger, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "other" / "ledger.sqlite3") as other:
            other.append([tool("t7", "T-07")], STAMP)
            assert back_up_daily(other, tmp_path / "second", now=NOW) is not None
            assert back_up_daily(ledger, tmp_path / "second", now=NOW) is not None
            assert len(list((tmp_path / "second").iterdir())) == 2

    def test_old_ones_go_but_for_one_a_month_and_nothing_else_does(
        self, ledger: SqlLedger, tmp_path: Path
    ) -> None:
        second = tmp_path / "second"
        made = back_up_daily(ledger, second, now=NOW)
        assert made is not None
        stem = made.name.removesuffix("2026-11-25.sqlite3")
        for back in range(1, 1000):
            (second / f"{stem}{NOW.date() - timedelta(days=back)}.sqlite3").touch()
        others = {
            "holiday.jpg",
            "ledger-0a0b0c0d-daily-2020-01-01.sqlite3",
            f"{stem}2020-01-01.sqlite3.txt",
            made.name.replace("daily-2026-11-25", "2020-01-01-120000"),
            f".{stem}2026-11-26.sqlite3-x.part",
        }
        scrap = second / f".{stem}2026-11-24.sqlite3-k3j4.part"
        for name in [*others, scrap.name]:
            (second / name).touch()
        back_up_daily(ledger, second, now=NOW + timedelta(days=1))
        left = {path.name for path in second.iterdir()}
        assert others <= left
        assert scrap.name not in left
        days = sorted(name.removeprefix(stem)[:10] for name in left - others)
        assert days[-14:] == [str(date(2026, 11, 26) - timedelta(days=back)) for back in range(13, -1, -1)]
        months = [f"{2024 + m // 12}-{m % 12 + 1:02}-01" for m in range(11, 11 + 24)]
        assert days[:-14] == months

    def test_a_day_that_no_calendar_has_is_passed_over(self, ledger: SqlLedger, tmp_path: Path) -> None:
        second = tmp_path / "second"
        made = back_up_daily(ledger, second, now=NOW)
        assert made is not None
        odd = second / made.name.replace("2026-11-25", "2026-02-30")
        odd.touch()
        assert back_up_daily(ledger, second, now=NOW + timedelta(days=1)) is not None
        assert last_backup(ledger, second) == date(2026, 11, 26)
        assert odd.exists()

    def test_made_afresh_it_holds_what_was_written_since(self, ledger: SqlLedger, tmp_path: Path) -> None:
        second = tmp_path / "second"
        made = back_up_daily(ledger, second, now=NOW)
        assert made is not None
        assert back_up_daily(ledger, second, now=NOW, afresh=True) is None
        ledger.append([event("t1")], STAMP)
        assert back_up_daily(ledger, second, now=NOW) is None
        assert back_up_daily(ledger, second, now=NOW, afresh=True) == made
        with open_ledger(made) as copy:
            assert copy.head() == ledger.head()

    def test_a_days_backup_that_cannot_be_read_is_made_afresh(
        self, ledger: SqlLedger, tmp_path: Path
    ) -> None:
        second = tmp_path / "second"
        made = back_up_daily(ledger, second, now=NOW)
        assert made is not None
        made.write_bytes(b"broken")
        assert back_up_daily(ledger, second, now=NOW, afresh=True) == made
        with open_ledger(made) as copy:
            assert copy.head() == ledger.head()

    def test_a_clock_gone_back_does_not_cost_the_new_one(self, ledger: SqlLedger, tmp_path: Path) -> None:
        second = tmp_path / "second"
        for day in range(40):
            back_up_daily(ledger, second, now=NOW + timedelta(days=day))
        old = back_up_daily(ledger, second, now=datetime(2026, 11, 27, tzinfo=UTC))
        assert old is not None
        assert old.exists()


class TestRestoring:
    def test_there_and_back(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        entries = list(ledger.entries())
        ledger.append([event("t1")], STAMP)
        ledger.close()
        aside = restore(copy, ledger.path)
        with open_ledger(ledger.path) as back:
            assert list(back.entries()) == entries
            assert verify_ledger(back).is_whole
        assert aside is not None
        assert aside.parent == ledger.path.parent / "copies"
        assert number_of(aside) == 6
        assert number_of(copy) == 5

    def test_where_nothing_was(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        assert restore(copy, tmp_path / "new" / "ledger.sqlite3") is None
        assert list(files_in(tmp_path / "new")) == ["ledger.sqlite3"]
        assert number_of(tmp_path / "new" / "ledger.sqlite3") == 5

    def test_a_broken_file_is_moved_aside_with_its_log(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        ledger.close()
        log = ledger.path.with_name("ledger.sqlite3-wal")
        ledger.path.write_bytes(b"burnt" * 1000)
        log.write_bytes(b"log")
        aside = restore(copy, ledger.path)
        assert aside is not None
        assert aside.read_bytes() == b"burnt" * 1000
        assert aside.with_name(aside.name + "-wal").read_bytes() == b"log"
        assert not log.exists()
        assert number_of(ledger.path) == 5

    def test_a_ledger_in_use_is_left_alone(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        ledger.append([event("t1")], STAMP)
        with pytest.raises(Busy):
            restore(copy, ledger.path)
        ledger.append([event("t1")], STAMP)
        assert number_of(ledger.path) == 7
        assert not (ledger.path.parent / "copies").exists()
        assert not list(ledger.path.parent.glob("*.part")) + list(ledger.path.parent.glob(".*"))

    @pytest.mark.parametrize(
        ("statement", "refusal"),
        [
            ("UPDATE entry SET body = replace(body, 'T-01', 'T-99') WHERE number = 1", Damaged),
            ("DELETE FROM entry WHERE number = 2", Damaged),
            ("UPDATE entry SET body = '{', digest = 'x' WHERE number = 2", Damaged),
            ("UPDATE alembic_version SET version_num = '9999'", TooNew),
            ("DROP TABLE alembic_version", Damaged),
        ],
    )
    def test_a_bad_copy_is_refused_before_anything_is_moved(
        self, ledger: SqlLedger, tmp_path: Path, statement: str, refusal: type[Exception]
    ) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        ledger.close()
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute(statement)
        with pytest.raises(refusal, match=re.escape(str(copy))):
            restore(copy, ledger.path)
        assert list(files_in(ledger.path.parent)) == ["ledger.sqlite3"]
        assert number_of(ledger.path) == 5

    def test_a_copy_with_broken_pages_is_refused(self, ledger: SqlLedger, tmp_path: Path) -> None:
        copy = back_up(ledger, tmp_path / "second", now=NOW)
        content = bytearray(copy.read_bytes())
        content[-4096 * 3 : -4096 * 2] = b"\xff" * 4096
        copy.write_bytes(content)
        with pytest.raises(Damaged):
            restore(copy, tmp_path / "new" / "ledger.sqlite3")

    @pytest.mark.parametrize("content", [b"", b"Torque list\n" * 500])
    def test_what_is_no_copy_is_refused(self, tmp_path: Path, content: bytes) -> None:
        copy = tmp_path / "copy.sqlite3"
        copy.write_bytes(content)
        with pytest.raises(Damaged, match="no ledger of this program"):
            restore(copy, tmp_path / "ledger.sqlite3")
        assert list(files_in(tmp_path)) == ["copy.sqlite3"]

    def test_a_copy_that_is_not_there(self, tmp_path: Path) -> None:
        with pytest.raises(NotFound):
            restore(tmp_path / "none.sqlite3", tmp_path / "ledger.sqlite3")
