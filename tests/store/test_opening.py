"""Opening the file of a ledger: made, migrated, refused."""

import os
import shutil
import sqlite3
import stat
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from steelyard.desk.ports import Wanted
from steelyard.errors import Damaged, TooNew
from steelyard.store import SqlLedger, open_ledger, verify_ledger
from steelyard.store.finding import facts_of, places_of
from steelyard.store.migrations import OWN, Migrations
from steelyard.store.schema import METADATA
from store.entries import STAMP, event, files_in, fill, tool

SECOND = '''"""For the tests."""
import sqlalchemy as sa
from alembic import op
revision = "0002"
down_revision = "0001"
def upgrade() -> None:
    op.create_table("extra", sa.Column("number", sa.Integer, primary_key=True))
    op.add_column("document", sa.Column("colour", sa.Text))
'''


def with_second(folder: Path, then: str = "") -> Migrations:
    """Our migrations and one more. then: what the second does at its end."""
    scripts = folder / "migrations"
    shutil.copytree(OWN.folder, scripts)
    (scripts / "versions" / "second.py").write_text(f"{SECOND}    {then}\n", "utf-8")
    return Migrations(scripts, "0002")


def filled(path: Path) -> Path:
    with open_ledger(path) as ledger:
        fill(ledger)
    return path


def tables(path: Path) -> set[str]:
    with closing(sqlite3.connect(path)) as connection:
        return {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}


def test_it_makes_folder_and_file(tmp_path: Path) -> None:
    path = tmp_path / "Größe 1%" / "my ledger?#.sqlite3"
    with open_ledger(path) as ledger:
        fill(ledger)
    assert list(files_in(path.parent)) == [path.name]
    with open_ledger(path) as ledger:
        assert ledger.head().number == 5


@pytest.mark.skipif(os.name != "posix", reason="this system knows no modes")
def test_folder_and_files_are_for_this_user_alone(tmp_path: Path) -> None:
    path = tmp_path / "shop" / "ledger.sqlite3"
    with open_ledger(path) as ledger:
        fill(ledger)
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
        assert {stat.S_IMODE(file.stat().st_mode) for file in path.parent.iterdir()} == {0o600}


def test_an_empty_file_becomes_a_ledger(tmp_path: Path) -> None:
    path = tmp_path / "ledger.sqlite3"
    path.touch()
    assert filled(path) == path


def test_many_that_open_a_new_file_at_once_all_get_it(tmp_path: Path) -> None:
    path = tmp_path / "ledger.sqlite3"

    def write(number: int) -> None:
        with open_ledger(path) as ledger:
            ledger.append([tool(f"t{number}", "T-01")], STAMP)

    with ThreadPoolExecutor(6) as pool:
        list(pool.map(write, range(6)))
    with open_ledger(path) as ledger:
        assert ledger.head().number == 6
        assert verify_ledger(ledger).is_whole


def test_what_is_committed_is_on_the_disk_and_what_is_forgotten_is_not(tmp_path: Path) -> None:
    path = tmp_path / "ledger.sqlite3"
    with open_ledger(path) as ledger:
        with ledger.engine.connect() as connection:
            settings = ("journal_mode", "synchronous", "foreign_keys", "secure_delete", "busy_timeout")
            found = [connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in settings]
        assert found == ["wal", 2, 1, 1, 5000]
        ledger.append([tool("t1", "T-01")], STAMP, names={"p1": ("Zephyrine Quux", "salt")})
        assert any(b"Zephyrine" in file.read_bytes() for file in tmp_path.iterdir())
        ledger.forget("p1")
        assert not any(b"Zephyrine" in file.read_bytes() for file in tmp_path.iterdir())
        assert verify_ledger(ledger).is_whole


class TestMigrations:
    def test_the_last_revision_is_the_one_that_is_named(self) -> None:
        assert ScriptDirectory(str(OWN.folder)).get_heads() == [OWN.latest]

    def test_they_make_the_tables_of_the_schema(self, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "ledger.sqlite3") as ledger, ledger.engine.connect() as connection:
            assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
            inspector = sa.inspect(connection)
            for table in METADATA.tables.values():
                assert inspector.get_pk_constraint(table.name)["name"] == f"pk_{table.name}"

    def test_an_older_file_is_copied_then_migrated(self, tmp_path: Path) -> None:
        path = filled(tmp_path / "shop" / "ledger.sqlite3")
        with open_ledger(path, migrations=with_second(tmp_path)) as ledger:
            assert "extra" in tables(path)
            assert ledger.head().number == 5
        (copy,) = (path.parent / "copies").iterdir()
        assert copy.name.startswith("ledger-before-0002-")
        assert "extra" not in tables(copy)
        with open_ledger(copy) as ledger:
            assert verify_ledger(ledger).is_whole
            assert ledger.head().number == 5

    def test_a_file_that_is_up_to_date_is_not_copied(self, tmp_path: Path) -> None:
        path = filled(tmp_path / "shop" / "ledger.sqlite3")
        open_ledger(path).close()
        assert list(files_in(path.parent)) == ["ledger.sqlite3"]

    def test_a_migration_that_fails_leaves_the_file_as_it_was(self, tmp_path: Path) -> None:
        path = filled(tmp_path / "shop" / "ledger.sqlite3")
        broken = with_second(tmp_path, then='op.execute("UPDATE no_such_table SET a = 1")')
        before = tables(path)
        with pytest.raises(sa.exc.OperationalError, match="no_such_table"):
            open_ledger(path, migrations=broken)
        assert tables(path) == before
        with open_ledger(path) as ledger:
            assert verify_ledger(ledger).is_whole
            ledger.append([event("t1")], STAMP)

    def test_a_newer_file_is_refused_and_left_alone(self, tmp_path: Path) -> None:
        path = filled(tmp_path / "shop" / "ledger.sqlite3")
        open_ledger(path, migrations=with_second(tmp_path)).close()
        before, names = path.read_bytes(), list(files_in(path.parent))
        with pytest.raises(TooNew, match="newer Steelyard.*nothing was changed"):
            open_ledger(path)
        assert path.read_bytes() == before
        assert list(files_in(path.parent)) == names

    def test_a_missing_revision_is_not_taken_for_an_old_one(self, tmp_path: Path) -> None:
        path = filled(tmp_path / "ledger.sqlite3")
        with closing(sqlite3.connect(path)) as connection, connection:
            connection.execute("DELETE FROM alembic_version")
        with pytest.raises(TooNew):
            open_ledger(path, migrations=replace(OWN, latest="0002"))


class TestRefused:
    def test_a_file_that_is_no_database(self, tmp_path: Path) -> None:
        path = tmp_path / "ledger.sqlite3"
        path.write_bytes(b"Torque list of the engine shop\n" * 100)
        with pytest.raises(Damaged, match="no ledger of this program"):
            open_ledger(path)
        assert path.read_bytes().startswith(b"Torque list")
        assert list(files_in(tmp_path)) == ["ledger.sqlite3"]

    def test_what_is_left_of_a_ledger_is_not_cleared_away(self, tmp_path: Path) -> None:
        """SQLite clears the log of a file that is no database any more: it may hold the last entries."""
        path, log = tmp_path / "ledger.sqlite3", tmp_path / "ledger.sqlite3-wal"
        path.write_bytes(b"burnt" * 1000)
        log.write_bytes(b"log")
        with pytest.raises(Damaged):
            open_ledger(path)
        assert log.read_bytes() == b"log"

    def test_a_database_of_another_program(self, tmp_path: Path) -> None:
        path = tmp_path / "ledger.sqlite3"
        with closing(sqlite3.connect(path)) as connection, connection:
            connection.execute("CREATE TABLE recipe (name TEXT)")
        before = path.read_bytes()
        with pytest.raises(Damaged, match="no ledger of this program"):
            open_ledger(path)
        assert path.read_bytes() == before

    def test_a_folder(self, tmp_path: Path) -> None:
        with pytest.raises(Damaged, match="no ledger of this program"):
            open_ledger(tmp_path)

    def test_a_file_whose_pages_are_overwritten(self, tmp_path: Path) -> None:
        path = filled(tmp_path / "ledger.sqlite3")
        path.write_bytes(path.read_bytes()[:4096] + b"\xff" * (path.stat().st_size - 4096))
        with pytest.raises(Damaged, match="cannot be read"):
            open_ledger(path)


@pytest.mark.parametrize(
    "wanted",
    [
        Wanted("check", newest_first=True),
        Wanted("check", after="000000000017  c9"),
        Wanted("check", states=("in", "out"), newest_first=True),
        Wanted("check", states=("in", "out"), day_from="2026-01-01", day_to="2026-02-01", newest_first=True),
        Wanted("check", who="p1", newest_first=True),
        Wanted("check", words="t-01"),
        Wanted("tool", states=("in",), due_by="2026-12-01", soonest_first=True),
        Wanted("rig", states=("here",), due_from="2026-11-01", due_by="2026-12-01", soonest_first=True),
    ],
)
def test_a_page_is_read_from_an_index_without_sorting(tmp_path: Path, wanted: Wanted) -> None:
    with open_ledger(tmp_path / "ledger.sqlite3") as ledger:
        plan = plan_of(ledger, wanted)
    assert any("SEARCH document USING" in step and "INDEX ix_document_sort" in step for step in plan), plan
    assert not any("SCAN document" in step or "TEMP B-TREE" in step for step in plan), plan


@pytest.mark.parametrize(
    "wanted",
    [
        Wanted("tool", due_by="2026-12-01"),
        Wanted("tool", states=("in",), due_by="2026-12-01"),
        Wanted("check", owner="tool:t1"),
        Wanted("check", states=("in", "out"), owner="tool:t1", newest_first=True),
    ],
)
def test_what_is_few_is_looked_up(tmp_path: Path, wanted: Wanted) -> None:
    with open_ledger(tmp_path / "ledger.sqlite3") as ledger:
        plan = plan_of(ledger, wanted)
    assert not any("SCAN document" in step for step in plan), plan
    assert any("INDEX ix_document_owner" in step or "due<?" in step for step in plan), plan


def plan_of(ledger: SqlLedger, wanted: Wanted) -> list[str]:
    """The steps by which the database finds a page."""
    query = f"EXPLAIN QUERY PLAN {places_of(wanted, 'state0' if wanted.states else None)}"
    with ledger.engine.connect() as connection:
        return [row[3] for row in connection.exec_driver_sql(query, facts_of(wanted))]
