"""A workshop in its folder: its backups, where it is found, who serves it."""

import os
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from steelyard.bootstrap import (
    Workshop,
    demo_workshop,
    existing_workshop,
    find_folder,
    one_server,
    own_folder,
    start_daily_backups,
    workshop,
)
from steelyard.desk import add_person
from steelyard.errors import Busy, InputRefused, NotFound, SteelyardError
from steelyard.records import THE_WORKSHOP, Draft, Kind
from web.shop import make_workshop

ADDRESS = "http://127.0.0.1:8734/"


def put(opened: Workshop, who: str = "rigger") -> None:
    """Write something down."""
    add_person(opened.acting(), {"person": who})


def number(opened: Workshop, record: int) -> None:
    """A record is sealed."""
    opened.acting().write(Draft(Kind.RECORD_NUMBERED, THE_WORKSHOP, {"record": record, "check": "c1"}))


class Standing:
    """A clock that stands."""

    def now(self) -> datetime:
        return datetime(2026, 11, 25, 10, 0, tzinfo=UTC)


def _copied(opened: Workshop) -> int:
    """How many entries are in the only backup there is; 0 without one."""
    if not opened.backup_folder.is_dir():
        return 0
    copies = list(opened.backup_folder.glob("*.sqlite3"))
    if not copies:
        return 0
    (copy,) = copies
    with closing(sqlite3.connect(copy)) as connection:
        return int(connection.execute("SELECT count(*) FROM entry").fetchone()[0])


class TestBackups:
    def test_a_workshop_in_memory_has_none(self, tmp_path: Path) -> None:
        shop = make_workshop(tmp_path / "shop")
        assert shop.last_backup() is None
        with pytest.raises(NotFound):
            shop.back_up()
        with pytest.raises(NotFound):
            shop.rebuild()
        start_daily_backups(shop, print)()
        assert list(tmp_path.iterdir()) == []

    def test_the_last_one_is_known_to_the_hour(self, tmp_path: Path) -> None:
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            assert shop.last_backup() is None
            copy = shop.back_up()
            assert copy.parent == shop.backup_folder == tmp_path / "shop-backups"
            last = shop.last_backup()
            assert last is not None
            assert abs(last - datetime.now().astimezone()) < timedelta(minutes=1)

    def test_a_backup_whose_file_was_touched_later_counts_from_the_day_in_its_name(
        self, tmp_path: Path
    ) -> None:
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            copy = shop.back_up()
            day = f"{datetime.now().astimezone():%Y-%m-%d}"
            copy.rename(copy.with_name(copy.name.replace(day, "2026-01-02")))
            last = shop.last_backup()
            assert last is not None and f"{last:%Y-%m-%d %H:%M}" == "2026-01-02 00:00"

    def test_what_cannot_be_read_there_is_no_trouble_for_the_day(self, tmp_path: Path) -> None:
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            copy = shop.back_up()
            day = f"{datetime.now().astimezone():%Y-%m-%d}"
            copy.rename(copy.with_name(copy.name.replace(day, "2026-02-30")))
            assert shop.last_backup() is None

    def test_one_a_day_is_made_by_itself(self, tmp_path: Path) -> None:
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            stop = start_daily_backups(shop, lambda trouble: None, every_seconds=0.01)
            _wait_for(lambda: shop.last_backup() is not None)
            stop()
            assert len(list(shop.backup_folder.iterdir())) == 1
            assert "daily backup" not in {thread.name for thread in threading.enumerate()}

    def test_what_goes_wrong_is_told_and_tried_again(self, tmp_path: Path) -> None:
        troubles: list[SteelyardError] = []
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            shop.backup_folder.write_text("not a folder")
            stop = start_daily_backups(shop, troubles.append, every_seconds=0.01)
            _wait_for(lambda: len(troubles) > 0)
            shop.backup_folder.unlink()
            _wait_for(lambda: shop.last_backup() is not None)
            stop()

    def test_the_same_trouble_is_told_once_an_hour_and_not_at_every_look(self, tmp_path: Path) -> None:
        troubles: list[SteelyardError] = []
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            shop = replace(shop, clock=Standing())
            shop.backup_folder.write_text("not a folder")
            stop = start_daily_backups(shop, troubles.append, every_seconds=0.01)
            _wait_for(lambda: len(troubles) > 0)
            threading.Event().wait(0.2)
            stop()
        assert len(troubles) == 1

    def test_what_was_written_since_is_in_the_days_backup_when_serving_ends(self, tmp_path: Path) -> None:
        with workshop(tmp_path / "shop") as shop:
            put(shop)
            stop = start_daily_backups(shop, print, every_seconds=1000)
            _wait_for(lambda: shop.last_backup() is not None)
            put(shop, "engine shop")
            assert _copied(shop) == 1
            stop()
            assert _copied(shop) == 2

    def test_the_first_record_of_a_day_is_copied_at_once_and_later_ones_at_the_end(
        self, tmp_path: Path
    ) -> None:
        with workshop(tmp_path / "shop") as opened:
            shop = replace(opened, clock=Standing())
            put(shop)
            stop = start_daily_backups(shop, print, every_seconds=0.01)
            _wait_for(lambda: _copied(shop) == 1)
            put(shop, "engine shop")
            threading.Event().wait(0.2)
            assert _copied(shop) == 1
            number(shop, 1)
            _wait_for(lambda: _copied(shop) == 3)
            number(shop, 2)
            threading.Event().wait(0.2)
            assert _copied(shop) == 3
            stop()
            assert _copied(shop) == 4

    def test_a_demo_keeps_its_own_inside_and_makes_none_by_itself(self, tmp_path: Path) -> None:
        with demo_workshop(tmp_path / "shop") as shop:
            put(shop)
            start_daily_backups(shop, print)()
            assert shop.last_backup() is None
            assert shop.back_up().parent == tmp_path / "shop" / "backups"


def _wait_for(is_so: Callable[[], bool]) -> None:
    patience = threading.Event()
    for _ in range(1000):
        if is_so():
            return
        patience.wait(0.01)
    raise AssertionError("it did not come about")


class TestFolders:
    def test_the_persons_own_is_where_the_system_has_such_data(
        self, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
    ) -> None:
        monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
        assert own_folder().name == "steelyard"
        assert find_folder() == own_folder()

    def test_one_that_must_be_there_is_not_made(self, tmp_path: Path) -> None:
        with pytest.raises(NotFound), existing_workshop(tmp_path / "none"):
            pass
        assert list(tmp_path.iterdir()) == []

    def test_notes_that_lead_round_in_a_circle_end(self, tmp_path: Path) -> None:
        one, two = tmp_path / "one", tmp_path / "two"
        for folder, onward in ((one, two), (two, one)):
            folder.mkdir()
            (folder / "moved-to.txt").write_text(f"{onward}\n", "utf-8")
        with pytest.raises(NotFound):
            find_folder(one)

    def test_a_demo_is_marked_and_a_real_one_never_becomes_one(self, tmp_path: Path) -> None:
        with demo_workshop(tmp_path / "demo") as made:
            assert made.is_demo
        with workshop(tmp_path / "demo") as again:
            assert again.is_demo
        with workshop(tmp_path / "real") as real:
            assert not real.is_demo
        with pytest.raises(InputRefused), demo_workshop(tmp_path / "real"):
            pass


class TestOneServer:
    def test_the_second_finds_the_address_of_the_first(self, tmp_path: Path) -> None:
        with one_server(tmp_path) as first:
            assert first.other is None
            first.announce(ADDRESS)
            with one_server(tmp_path) as second:
                assert second.other == ADDRESS

    def test_after_the_first_has_ended_the_place_is_free(self, tmp_path: Path) -> None:
        with one_server(tmp_path) as first:
            first.announce(ADDRESS)
        with one_server(tmp_path) as second:
            assert second.other is None

    def test_an_address_without_its_server_is_stale(self, tmp_path: Path) -> None:
        (tmp_path / "server.txt").write_text(f"{ADDRESS}\n", "utf-8")
        with one_server(tmp_path) as server:
            assert server.other is None
            assert (tmp_path / "server.txt").read_text("utf-8") == ""

    def test_one_that_is_just_starting_is_waited_for(self, tmp_path: Path) -> None:
        with one_server(tmp_path) as first:
            timer = threading.Timer(0.2, first.announce, [ADDRESS])
            timer.start()
            with one_server(tmp_path) as second:
                assert second.other == ADDRESS
            timer.join()

    def test_one_that_leaves_no_address_is_busy(self, tmp_path: Path) -> None:
        with one_server(tmp_path), pytest.raises(Busy), one_server(tmp_path, patience_seconds=0.1):
            pass

    def test_a_folder_that_cannot_hold_the_note_is_served_all_the_same(self, tmp_path: Path) -> None:
        os.mkdir(tmp_path / "server.txt")
        with one_server(tmp_path) as server:
            assert server.other is None
            server.announce(ADDRESS)
