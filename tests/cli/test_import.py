"""`steelyard import`: tried first, kept as a whole, refused rows named; a whole workshop goes elsewhere."""

import signal
from pathlib import Path

import pytest

import sealed
from steelyard.bootstrap import workshop
from steelyard.cli import run
from steelyard.desk import check_view, choose_kit, exercise, look_over, set_up, tools

GOOD = "number,kind,lowest,highest,unit,limit.published\nT-11,click-preset,20,100,N·m,iso-6789-1-2017\n"
BAD = GOOD + "T-12,hammer,20,100,N·m,iso-6789-1-2017\nT-11,click-preset,20,100,N·m,iso-6789-1-2017\n"


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    """The folder of a workshop in which nothing was written."""
    with workshop(tmp_path / "empty"):
        return tmp_path / "empty"


def listed(tmp_path: Path, text: str) -> str:
    path = tmp_path / "list.csv"
    path.write_text(text, "utf-8")
    return str(path)


def count(folder: Path) -> int:
    with workshop(folder) as opened:
        return opened.ledger.head().number


def test_without_keep_nothing_is_written(
    empty: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["import", listed(tmp_path, GOOD), "--data", str(empty)]) == 0
    out = capsys.readouterr().out
    assert "Will be added: 1" in out and "Nothing is kept yet" in out
    assert count(empty) == 0


def test_kept_and_then_there_already(empty: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["import", listed(tmp_path, GOOD), "--keep", "--data", str(empty)]
    assert run(words) == 0
    assert "Kept. Rows: 1; entries 1 to 1." in capsys.readouterr().out
    assert run(words) == 0
    assert "There already, stay as they are: 1" in capsys.readouterr().out
    with workshop(empty) as opened:
        found = tools(opened.ledger, "", "", today=opened.clock.now().date())
        assert [row.number for row in found.rows] == ["T-11"]


def test_refused_rows_are_named_and_keep_all_out(
    empty: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fates = tmp_path / "fates.csv"
    words = ["import", listed(tmp_path, BAD), "--keep", "--fates", str(fates), "--data", str(empty)]
    assert run(words) == 3
    out = capsys.readouterr().out
    assert "Refused: 2" in out and "row 3 (T-12): kind" in out and "row 4 (T-11): number" in out
    assert count(empty) == 0
    head, *rows = fates.read_text("utf-8-sig").splitlines()
    assert head == "row,fate,which,column,reason"
    assert [row.split(",")[:2] for row in rows] == [
        ["3", "refused"],
        ["4", "refused"],
        ["2", "will be added"],
    ]


def test_a_file_of_fates_is_not_written_over(empty: Path, tmp_path: Path) -> None:
    words = ["import", listed(tmp_path, GOOD), "--fates", str(tmp_path / "list.csv"), "--data", str(empty)]
    assert run(words) == 3
    assert (tmp_path / "list.csv").read_text("utf-8") == GOOD


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("colour\nred\n", "what"),
        ("number,kind,colour\nT-1,dial,red\n", "what"),
        ("", "with a table in it"),
    ],
)
def test_what_is_no_such_table_is_refused(
    empty: Path, tmp_path: Path, text: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["import", listed(tmp_path, text), "--data", str(empty)]) == 3
    assert said in capsys.readouterr().err


def test_a_file_that_is_not_there_is_not_found(empty: Path, tmp_path: Path) -> None:
    assert run(["import", str(tmp_path / "none.csv"), "--data", str(empty)]) == 4


def test_stopped_while_it_is_written_nothing_is_kept(
    empty: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = "".join(f"T-{i},click-preset,20,100,N·m,iso-6789-1-2017\n" for i in range(20, 1500))
    file = listed(tmp_path, GOOD + rows)
    monkeypatch.setattr("steelyard.cli.progress.FIRST_AFTER_SECONDS", 0.0)
    steps = 0

    def stopping(line: str, **_how: object) -> None:
        nonlocal steps
        steps += 1
        if "1000" in line:
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr("steelyard.cli.progress.print", stopping, raising=False)
    monkeypatch.setattr("steelyard.cli.progress.EVERY_SECONDS_IN_A_FILE", 0.0)
    assert run(["import", file, "--keep", "--data", str(empty)]) == 130
    assert steps
    assert count(empty) == 0


def test_a_table_that_went_out_is_there_already(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for form in ("csv", "xlsx", "json"):
        for what in ("rack", "rigs"):
            out = tmp_path / f"{what}.{form}"
            assert run(["export", what, "--as", form, "--out", str(out), "--data", str(shop)]) == 0
            capsys.readouterr()
            assert run(["import", str(out), "--what", what, "--data", str(shop)]) == 0
            said = capsys.readouterr().out
            assert "Refused" not in said and "Will be added" not in said


def test_a_whole_workshop_goes_into_a_new_folder(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole, folder = tmp_path / "workshop.zip", tmp_path / "new"
    assert run(["export", "workshop", "--out", str(whole), "--data", str(shop)]) == 0
    assert run(["import", str(whole)]) == 3
    assert run(["import", str(whole), "--keep", "--data", str(folder)]) == 3
    assert run(["import", str(whole), "--data", str(folder)]) == 0
    assert count(folder) == count(shop)
    assert "verified" in capsys.readouterr().out


def test_records_that_went_out_are_there_already_or_history_elsewhere(
    shop: Path, empty: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    records, rack = tmp_path / "records.csv", tmp_path / "rack.csv"
    assert run(["export", "records", "--out", str(records), "--data", str(shop)]) == 0
    assert run(["export", "rack", "--out", str(rack), "--data", str(shop)]) == 0
    words = ["import", str(records), "--what", "records", "--keep", "--data"]
    assert run([*words, str(shop)]) == 0
    assert "There already, stay as they are: 1" in capsys.readouterr().out
    assert run([*words, str(empty)]) == 3
    assert run(["import", str(rack), "--keep", "--data", str(empty)]) == 0
    assert run([*words, str(empty)]) == 0
    assert "Kept. Rows: 1; entries 2 to 2." in capsys.readouterr().out


def test_pulls_go_into_a_check_in_hand_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "bench"
    with workshop(folder) as opened:
        acting = opened.acting()
        check = sealed.opened(acting, sealed.tool(acting))
        look_over(acting, check, {"damaged": "no"})
    words = ["import", listed(tmp_path, "tool,reading\nT-02,19.9\nT-02,20.1\n"), "--what", "pulls", "--keep"]
    assert run([*words, "--data", str(folder)]) == 3
    assert "at the bench “Choose the kit” comes first" in " ".join(capsys.readouterr().out.split())
    with workshop(folder) as opened:
        acting = opened.acting()
        rig = sealed.transducer(acting)
        choose_kit(acting, check, {"rig": rig, "plan": "own", "targets": "20", "pulls": "3"})
        set_up(acting, check, {"is_ready": "yes", "axis": "vertical", "zeroed": "with-tool"})
        exercise(acting, check, {"exercise_pulls": "0"})
    assert run([*words, "--data", str(folder)]) == 0
    assert run([*words, "--data", str(folder)]) == 3
    assert "stand in the check in hand of T-02" in " ".join(capsys.readouterr().err.split())
    with workshop(folder) as opened:
        pulls = check_view(opened.ledger, check).body["pulls"]
    assert [pull["pull"]["reading"] for pull in pulls] == ["19.9 N·m", "20.1 N·m"]
