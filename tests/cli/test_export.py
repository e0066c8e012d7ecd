"""`steelyard export`: tables, a record as JSON, and the whole workshop."""

import csv
import io
import json
import os
import signal
import stat
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from steelyard.bootstrap import existing_workshop, take_in_workshop, workshop_zip
from steelyard.cli import run
from steelyard.desk import record_export
from steelyard.desk.records_out import PULL_COLUMNS, RECORD_COLUMNS
from steelyard.desk.tables_out import RACK_COLUMNS, RIGS_COLUMNS

COLUMNS = {"rack": RACK_COLUMNS, "rigs": RIGS_COLUMNS, "records": RECORD_COLUMNS, "pulls": PULL_COLUMNS}


def exported(shop: Path, capsys: pytest.CaptureFixture[str], *words: str) -> bytes:
    """What a command writes into a file, whose place it says."""
    file = shop.parent / "out"
    assert run(["export", *words, "--data", str(shop), "--out", str(file)]) == 0
    assert str(file) in capsys.readouterr().out
    content = file.read_bytes()
    file.unlink()
    return content


@pytest.mark.parametrize("what", COLUMNS)
def test_a_table_goes_out_as_csv_where_nothing_else_is_asked(
    what: str, shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = exported(shop, capsys, what).decode("utf-8-sig")
    assert tuple(next(csv.reader(io.StringIO(text, newline="")))) == COLUMNS[what]


@pytest.mark.parametrize("what", COLUMNS)
def test_the_same_rows_go_out_in_every_form(
    what: str, shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    count = {"rack": 1, "rigs": 0, "records": 1}.get(what)
    rows = json.loads(exported(shop, capsys, what, "--as", "json"))["rows"]
    book = CalamineWorkbook.from_filelike(io.BytesIO(exported(shop, capsys, what, "--as", "xlsx")))
    text = exported(shop, capsys, what, "--as", "csv").decode("utf-8-sig")
    assert book.get_sheet_by_index(0).height - 1 == len(rows)
    assert len(list(csv.reader(io.StringIO(text, newline="")))) - 1 == len(rows)
    assert count is None or len(rows) == count


def test_without_a_file_it_is_printed(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["export", "rack", "--data", str(shop)]) == 0
    assert capsys.readouterr().out.startswith("\ufeffnumber,kind,")


def test_records_and_pulls_are_narrowed(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (record,) = json.loads(exported(shop, capsys, "records", "--as", "json"))["rows"]
    narrowed = ["--tool", record["tool_number"], "--from", record["day"], "--to", record["day"]]
    narrowed += ["--verdict", record["verdict"], "--words", record["tool_number"]]
    assert len(json.loads(exported(shop, capsys, "records", "--as", "json", *narrowed))["rows"]) == 1
    assert json.loads(exported(shop, capsys, "pulls", "--as", "json", *narrowed))["rows"] != []
    assert json.loads(exported(shop, capsys, "records", "--as", "json", "--words", "moon"))["rows"] == []


def test_a_record_goes_out_as_json(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with existing_workshop(shop) as opened:
        said = record_export(opened.ledger, 1)
    written = json.loads(exported(shop, capsys, "1", "--as", "json"))
    assert {name: written[name] for name in said} == json.loads(json.dumps(said))


def test_the_whole_workshop_goes_out_for_its_owner_alone(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "w.zip"
    assert run(["export", "workshop", "--data", str(shop), "--out", str(file)]) == 0
    assert "names of people" in capsys.readouterr().out
    if os.name == "posix":
        assert stat.S_IMODE(file.stat().st_mode) == 0o600
    with existing_workshop(shop) as old:
        assert file.read_bytes() == b"".join(workshop_zip(old))
        counts = take_in_workshop(file, tmp_path / "new")
        assert counts is not None and counts.head_digest == old.ledger.head().digest


@pytest.mark.parametrize(
    ("words", "option"),
    [
        (["rack", "--words", "x"], "--words"),
        (["rigs", "--to", "2026-01-01"], "--to"),
        (["records", "--verdict", "fine"], "--verdict"),
        (["records", "--from", "soon"], "--from"),
        (["records", "--from", "2026-02-01", "--to", "2026-01-01"], "--to"),
        (["pulls", "--tool", "T-99"], "--tool"),
        (["rack", "--as", "dcc"], "--as"),
        (["rack", "--as", "form"], "--as"),
        (["1", "--as", "csv"], "--as"),
        (["1", "--as", "xlsx"], "--as"),
        (["1", "--words", "x"], "--words"),
        (["1", "--as", "json", "--phase", "as-left"], "--phase"),
        (["rack", "--phase", "as-left"], "--phase"),
        (["workshop", "--phase", "as-left"], "--phase"),
        (["workshop", "--as", "json"], "--as"),
        (["workshop", "--tool", "T-1"], "--tool"),
    ],
)
def test_what_does_not_go_together_is_refused(
    words: list[str], option: str, shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["export", *words, "--data", str(shop), "--out", str(tmp_path / "out")]) == 3
    assert capsys.readouterr().err.startswith(f"{option}: ")
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("what", ["jobs", "1.5", "", "Rack"])
def test_another_word_is_a_bad_command(what: str, shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        run(["export", what, "--data", str(shop)])
    assert ended.value.code == 2
    assert "rack, rigs, records, pulls, workshop" in capsys.readouterr().err


def test_a_file_that_is_there_is_left_alone(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "out").write_text("mine")
    for what in ("rack", "workshop", "1"):
        assert run(["export", what, "--data", str(shop), "--out", str(tmp_path / "out")]) == 3
        assert "--out" in capsys.readouterr().err
    assert (tmp_path / "out").read_text() == "mine"


@pytest.mark.parametrize("words", [["rack", "--as", "xlsx"], ["workshop"]])
def test_no_screen_is_filled_with_what_nobody_reads(
    words: list[str], shop: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert run(["export", *words, "--data", str(shop)]) == 3
    assert "--out" in capsys.readouterr().err


def test_stopped_half_way_it_takes_its_file_away(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopping(*named: object) -> Iterator[bytes]:
        yield from workshop_zip(*named)  # type: ignore[arg-type]

    def ended(opened: object, on_step: object) -> Iterator[bytes]:
        pieces = stopping(opened, on_step)
        yield next(pieces)
        signal.raise_signal(signal.SIGINT)
        yield from pieces

    monkeypatch.setattr("steelyard.bootstrap.workshop_zip", ended)
    assert run(["export", "workshop", "--data", str(shop), "--out", str(tmp_path / "w.zip")]) == 130
    assert "Stopped" in capsys.readouterr().err
    assert not (tmp_path / "w.zip").exists()


def test_a_zip_names_what_is_in_it(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with zipfile.ZipFile(io.BytesIO(exported(shop, capsys, "workshop"))) as archive:
        assert json.loads(archive.read("workshop.json"))["steelyard_workshop"] == 1
