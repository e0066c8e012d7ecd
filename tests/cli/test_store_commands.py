"""Backup, restore and the store: what they say, where things lie afterwards, with which exit status."""

import re
import signal
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from steelyard.bootstrap import find_folder, one_server, workshop
from steelyard.cli import run
from steelyard.cli.progress import said_steps
from steelyard.desk import tool_event, tools


def entries(folder: Path) -> int:
    with workshop(folder) as opened:
        return opened.ledger.head().number


def tamper(folder: Path, statement: str) -> None:
    with closing(sqlite3.connect(folder / "ledger.sqlite3")) as connection, connection:
        connection.execute(statement)


def test_a_backup_is_laid_beside_the_workshop(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["backup", "--data", str(shop)]) == 0
    (copy,) = (shop.parent / "shop-backups").iterdir()
    assert str(copy) in capsys.readouterr().out


def test_a_backup_goes_where_it_is_asked_to(shop: Path, tmp_path: Path) -> None:
    assert run(["backup", "--data", str(shop), "--to", str(tmp_path / "stick")]) == 0
    assert len(list((tmp_path / "stick").iterdir())) == 1


@pytest.mark.parametrize("words", [["backup"], ["due"], ["export", "1"], ["store", "verify"]])
def test_a_workshop_that_is_not_there_is_said_and_not_made(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*words, "--data", str(tmp_path / "none")]) == 4
    assert "is not there" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()


def test_restoring_keeps_what_was_there(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["backup", "--data", str(shop)])
    (copy,) = (shop.parent / "shop-backups").iterdir()
    before = entries(shop)
    with workshop(shop) as opened:
        opened.rebuild()
        opened.ledger.forget("nobody")
    capsys.readouterr()
    assert run(["restore", str(copy), "--data", str(shop)]) == 0
    out = capsys.readouterr().out
    (aside,) = (shop / "copies").iterdir()
    assert str(copy) in out and str(aside) in out
    assert entries(shop) == before


def test_restoring_into_an_empty_place_lays_nothing_aside(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["restore", str(shop / "ledger.sqlite3"), "--data", str(tmp_path / "new")]) == 0
    assert "kept" not in capsys.readouterr().out
    assert entries(tmp_path / "new") == entries(shop)


def test_restoring_while_it_is_open_is_refused(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["backup", "--data", str(shop)])
    (copy,) = (shop.parent / "shop-backups").iterdir()
    with workshop(shop):
        assert run(["restore", str(copy), "--data", str(shop)]) == 5
    assert "another program holds" in capsys.readouterr().err


def test_restoring_while_it_is_served_names_the_address_and_says_to_end_it(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["backup", "--data", str(shop)])
    (copy,) = (shop.parent / "shop-backups").iterdir()
    before = entries(shop)
    with one_server(shop) as server:
        server.announce("http://127.0.0.1:8421/")
        assert run(["restore", str(copy), "--data", str(shop)]) == 5
    told = capsys.readouterr().err
    assert "http://127.0.0.1:8421/" in told
    assert "end Steelyard first" in told
    assert "try again" not in told
    assert entries(shop) == before
    assert not (shop / "copies").exists()


def test_what_is_no_backup_is_refused(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["restore", str(tmp_path / "check.toml"), "--data", str(shop)]) == 5
    assert run(["restore", str(tmp_path / "no.sqlite3"), "--data", str(shop)]) == 4
    assert entries(shop)


class TestVerify:
    def test_a_whole_ledger(self, shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
        with workshop(shop) as opened:
            head = opened.ledger.head()
        assert run(["store", "verify", "--data", str(shop)]) == 0
        out = capsys.readouterr().out
        assert f"Whole: {head.number} entries" in out
        assert f"entry {head.number}, digest {head.digest}" in " ".join(out.split())

    def test_a_changed_entry(self, shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
        tamper(shop, "UPDATE entry SET body = replace(body, 'T-04', 'T-05') WHERE number = 2")
        assert run(["store", "verify", "--data", str(shop)]) == 5
        out = capsys.readouterr().out
        assert "NOT whole" in out
        assert "entry 2 was changed" in out

    def test_a_cut_tail_shows_against_what_was_printed(
        self, shop: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        with workshop(shop) as opened:
            head = opened.ledger.head()
        printed = ["--entry", str(head.number), "--digest", head.digest[:8].upper()]
        assert run(["store", "verify", "--data", str(shop), *printed]) == 0
        assert "is the one that was printed" in capsys.readouterr().out
        tamper(shop, f"DELETE FROM entry WHERE number = {head.number}")
        assert run(["store", "verify", "--data", str(shop), *printed]) == 5
        assert "were cut off or replaced" in " ".join(capsys.readouterr().out.split())

    @pytest.mark.parametrize("half", [["--entry", "3"], ["--digest", "1f0c9a44"]])
    def test_half_of_what_was_printed_is_refused(
        self, shop: Path, half: list[str], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert run(["store", "verify", "--data", str(shop), *half]) == 3
        assert "both, --entry and --digest" in capsys.readouterr().err


def test_rebuilding_mends_what_is_shown(shop: Path) -> None:
    tamper(shop, "UPDATE document SET body = replace(body, 'T-04', 'T-05')")
    assert run(["store", "verify", "--data", str(shop)]) == 5
    assert run(["store", "rebuild", "--data", str(shop)]) == 0
    assert run(["store", "verify", "--data", str(shop)]) == 0


@pytest.mark.parametrize("task", ["verify", "rebuild"])
def test_stopped_half_way_everything_is_as_it_was(
    task: str, shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def said(done: int, of: int) -> bool:
        signal.raise_signal(signal.SIGINT)
        return True

    with monkeypatch.context() as patch:
        patch.setattr("steelyard.cli.progress.said_steps", lambda: said)
        assert run(["store", task, "--data", str(shop)]) == 130
    assert capsys.readouterr().err == "Stopped.\n"
    assert run(["store", "verify", "--data", str(shop)]) == 0


class TestMoving:
    def test_it_is_found_from_the_old_folder(
        self, shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        before, to = entries(shop), tmp_path / "new"
        assert run(["store", "move", str(to), "--data", str(shop)]) == 0
        (aside,) = (shop / "copies").iterdir()
        assert str(aside) in capsys.readouterr().out
        assert not (shop / "ledger.sqlite3").exists()
        assert find_folder(shop) == to
        assert entries(to) == before
        assert run(["store", "verify", "--data", str(shop)]) == 0

    def test_there_and_back_again(self, shop: Path, tmp_path: Path) -> None:
        to = tmp_path / "new"
        assert run(["store", "move", str(to), "--data", str(shop)]) == 0
        assert run(["store", "move", str(shop), "--data", str(to)]) == 0
        assert find_folder(shop) == find_folder(to) == shop
        assert not (shop / "moved-to.txt").exists()

    def test_a_demo_stays_one(self, shop: Path, tmp_path: Path) -> None:
        (shop / "demo.txt").touch()
        run(["store", "move", str(tmp_path / "new"), "--data", str(shop)])
        with workshop(tmp_path / "new") as moved:
            assert moved.is_demo

    def test_a_workshop_there_already_is_not_touched(self, shop: Path, tmp_path: Path) -> None:
        with workshop(tmp_path / "other"):
            pass
        assert run(["store", "move", str(tmp_path / "other"), "--data", str(shop)]) == 3
        assert entries(tmp_path / "other") == 0

    def test_one_that_is_open_stays(self, shop: Path, tmp_path: Path) -> None:
        with one_server(shop) as server:
            server.announce("http://127.0.0.1:1/")
            assert run(["store", "move", str(tmp_path / "new"), "--data", str(shop)]) == 5
        with workshop(shop):
            assert run(["store", "move", str(tmp_path / "new"), "--data", str(shop)]) == 5
        assert find_folder(shop) == shop
        assert not (tmp_path / "new" / "ledger.sqlite3").exists()
        assert not (shop / "moved-to.txt").exists()

    def test_where_the_new_folder_is_not_there_no_empty_one_is_made(
        self, shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        run(["store", "move", str(tmp_path / "stick"), "--data", str(shop)])
        (tmp_path / "stick" / "ledger.sqlite3").unlink()
        assert run(["serve", "--data", str(shop)]) == 4
        assert "is not there" in capsys.readouterr().err
        assert not (tmp_path / "stick" / "ledger.sqlite3").exists()


def test_due_lists_what_the_day_asks_for(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["due", "--data", str(shop)]) == 0
    (said,) = capsys.readouterr().out.splitlines()
    assert re.fullmatch(
        r"SOON     T-04: \d{4}-\d\d-\d\d, in \d+ days", said
    )  # the kit could not tell: a month


def test_due_names_what_fell_ahead_of_what_is_merely_due(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with workshop(shop) as opened:
        (tool,) = tools(opened.ledger, "", "", today=opened.clock.now().date()).rows
        tool_event(opened.acting(), tool.id, {"what": "back"})
        run(["due", "--data", str(shop)])
        assert capsys.readouterr().out == f"DUE      {tool.number}: today\n"
        tool_event(opened.acting(), tool.id, {"what": "overloaded"})
    run(["due", "--data", str(shop)])
    assert capsys.readouterr().out == f"FIRST    {tool.number}: overloaded: check before use\n"


def test_a_short_task_says_nothing_and_a_long_one_how_far_it_is(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    hour = [0.0]
    monkeypatch.setattr("time.monotonic", lambda: hour[0])
    said = said_steps()
    assert all(said(done, 40) for done in range(10))
    assert capsys.readouterr().err == ""
    for done in range(10, 41):
        hour[0] += 1
        assert said(done, 40)
    lines = capsys.readouterr().err.splitlines()
    assert lines[0] == "10 of 40 …" and lines[-1] == "40 of 40 …"
    assert len(lines) == 7
