"""A check from a file becomes a record, and the record becomes a file that gives the same numbers."""

import json
from pathlib import Path
from typing import Any

import pytest

from forms import ADAPTER, ALL, changed
from steelyard.bootstrap import workshop
from steelyard.cli import run
from steelyard.desk import record_body


def written(folder: Path, text: str) -> str:
    file = folder / "check.toml"
    file.write_text(text, "utf-8")
    return str(file)


def numbers(content: dict[str, Any]) -> Any:
    """Everything that was measured or reckoned: without what names the file and the record."""
    return [content["points"], content["verdict"], content["pattern"]]


@pytest.mark.parametrize("name", ALL)
def test_a_kept_check_exports_to_the_same_numbers(
    name: str, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    shop = str(tmp_path / "shop")
    status = run(["check", written(tmp_path, ALL[name]), "--json", "--keep", "--data", shop])
    first = json.loads(capsysbinary.readouterr().out)
    assert run(["export", "1", "--data", shop]) == 0
    (tmp_path / "again.toml").write_bytes(capsysbinary.readouterr().out)
    assert run(["check", str(tmp_path / "again.toml"), "--json"]) == status
    assert numbers(json.loads(capsysbinary.readouterr().out)) == numbers(first)


def test_the_number_and_the_digest_of_the_record_are_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, shop = written(tmp_path, ADAPTER), tmp_path / "shop"
    assert run(["check", file, "--keep", "--data", str(shop)]) == 11
    out = capsys.readouterr().out
    with workshop(shop) as opened:
        digest = record_body(opened.ledger, 1)["closed"]["digest"]
    assert out.endswith(f"Kept as record 1 in {shop}, digest {digest}\n")
    run(["check", file, "--keep", "--json", "--data", str(shop)])
    assert json.loads(capsys.readouterr().out)["record"] == {"number": 1, "digest": digest}


def test_the_same_file_is_kept_once_and_another_gets_the_next_number(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop = str(tmp_path / "shop")
    for text, number in ((ADAPTER, 1), (ADAPTER, 1), (changed(ADAPTER, "96.1", "96.2"), 2)):
        run(["check", written(tmp_path, text), "--keep", "--data", shop])
        assert f"Kept as record {number} " in capsys.readouterr().out


def test_an_exported_record_is_known_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shop = str(tmp_path / "shop")
    run(["check", written(tmp_path, ADAPTER), "--keep", "--data", shop])
    capsys.readouterr()
    run(["export", "1", "--data", shop])
    exported = written(tmp_path, capsys.readouterr().out)
    assert run(["check", exported, "--keep", "--data", shop]) == 11
    assert f"This is already record 1 in {shop}" in capsys.readouterr().out
    run(["check", exported, "--keep", "--json", "--data", shop])
    assert json.loads(capsys.readouterr().out)["record"]["number"] == 1
    assert run(["export", "2", "--data", shop]) == 4


def test_nothing_is_kept_unless_it_is_asked_for(tmp_path: Path) -> None:
    run(["check", written(tmp_path, ADAPTER), "--data", str(tmp_path / "shop")])
    assert not (tmp_path / "shop").exists()


def test_what_cannot_be_kept_is_refused_before_anything_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = changed(ADAPTER, "date = 2026-11-20", "date = 9999-11-20")
    assert run(["check", written(tmp_path, text), "--keep", "--data", str(tmp_path / "shop")]) == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("date: ")
    with workshop(tmp_path / "shop") as opened:
        assert opened.ledger.head().number == 0


class TestExport:
    @pytest.fixture
    def shop(self, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
        shop = str(tmp_path / "shop")
        run(["check", written(tmp_path, ADAPTER), "--keep", "--data", shop])
        capsys.readouterr()
        return shop

    def test_a_new_file_is_written_and_none_is_overwritten(
        self, shop: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        words = ["export", "1", "--data", shop, "--out", str(tmp_path / "one.toml")]
        assert run(words) == 0
        form = (tmp_path / "one.toml").read_bytes()
        assert str(tmp_path / "one.toml") in capsys.readouterr().out
        assert run(words) == 3
        assert "not there yet" in capsys.readouterr().err
        assert (tmp_path / "one.toml").read_bytes() == form

    def test_a_place_that_cannot_be_written(
        self, shop: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert run(["export", "1", "--data", shop, "--out", str(tmp_path / "no" / "one.toml")]) == 3
        assert "a place where a file can be written" in capsys.readouterr().err

    @pytest.mark.parametrize("words", [["2"], ["0"], ["-1"], ["1", "--phase", "as-left"]])
    def test_what_is_not_there(self, shop: str, words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
        assert run(["export", *words, "--data", shop]) == 4
        assert "is not there" in capsys.readouterr().err
