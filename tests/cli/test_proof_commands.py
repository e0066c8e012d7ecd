"""`verify`, `sign`, `key` and a backup with the key, as typed at a terminal."""

import io
import json
import stat
from pathlib import Path

import pytest

from proof.signed_shop import EXAMPLES, KEY, leaving
from steelyard.bootstrap import workshop
from steelyard.cli import run
from steelyard.desk import record_file
from steelyard.proof import fingerprint, key_in_pem
from steelyard.store import KEY_FILE

EXAMPLE = (EXAMPLES / "click-wrench-on-adapter.toml").read_bytes()
PHRASE = "seven herons on a slip"


@pytest.fixture
def shop(tmp_path: Path) -> str:
    """The folder of a workshop with one record."""
    with workshop(tmp_path / "shop") as opened:
        record_file(opened.acting(), EXAMPLE)
    return str(tmp_path / "shop")


@pytest.fixture
def phrase(tmp_path: Path) -> str:
    """A file with a pass phrase."""
    (tmp_path / "phrase").write_text(f"{PHRASE}\nmore\n")
    return str(tmp_path / "phrase")


class TestVerify:
    @pytest.mark.parametrize(
        "words", [["paper", "1"], ["export", "1", "--as", "dcc"], ["export", "1", "--as", "json"]]
    )
    def test_what_a_command_writes_is_intact(self, shop: str, tmp_path: Path, words: list[str]) -> None:
        out = tmp_path / "one"
        assert run([*words, "--data", shop, "--out", str(out)]) == 0
        assert run(["verify", str(out), "--data", shop]) == 0
        content = bytearray(out.read_bytes())
        content[len(content) // 2] ^= 1
        out.write_bytes(content)
        assert run(["verify", str(out), "--data", shop]) in (3, 10)

    def test_an_auditor_without_a_workshop_gives_the_fingerprint_that_was_told(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
        monkeypatch.setenv("HOME", str(tmp_path))
        (tmp_path / "one.pdf").write_bytes(leaving("pdf"))
        assert run(["verify", str(tmp_path / "one.pdf")]) == 11
        told = ["--fingerprint", fingerprint(KEY.public)]
        assert run(["verify", str(tmp_path / "one.pdf"), *told]) == 0
        assert capsys.readouterr().out.count("Intact") == 1
        assert [path.name for path in tmp_path.iterdir()] == ["one.pdf"]  # nothing was made by looking

    def test_for_a_program_it_says_the_same_in_json(
        self, shop: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        (tmp_path / "one.json").write_bytes(leaving("json"))
        assert run(["verify", str(tmp_path / "one.json"), "--json", "--data", shop]) == 11
        said = json.loads(capsys.readouterr().out)
        assert (said["standing"], said["form"], said["key"]) == ("unknown-key", "json", KEY.public)

    def test_without_a_file_it_is_the_ledger(self, shop: str, capsys: pytest.CaptureFixture[str]) -> None:
        assert run(["verify", "--data", shop]) == 0
        assert capsys.readouterr().out.startswith("Whole")

    @pytest.mark.parametrize(("name", "status"), [("no such file", 4), (".", 3)])
    def test_what_cannot_be_read(self, shop: str, tmp_path: Path, name: str, status: int) -> None:
        assert run(["verify", str(tmp_path / name), "--data", shop]) == status


class TestKey:
    def test_it_is_shown_printed_lost_and_brought_back(
        self, shop: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        sheet = tmp_path / "sheet.pdf"
        assert run(["key", "sheet", "--out", str(sheet), "--data", shop]) == 0
        assert stat.S_IMODE(sheet.stat().st_mode) == 0o600
        with workshop(Path(shop)) as opened:
            lines, mark = opened.keyring.lines(), opened.keyring.said().fingerprint
        (Path(shop) / KEY_FILE).unlink()
        assert run(["key", "sheet", "--out", str(tmp_path / "other.pdf"), "--data", shop]) == 3
        monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(lines) + "\n\nmore\n"))
        assert run(["key", "back", "--data", shop]) == 0
        capsys.readouterr()
        assert run(["key", "show", "--data", shop]) == 0
        assert mark in capsys.readouterr().out

    def test_a_backup_has_the_key_only_where_that_is_asked_for(
        self, shop: str, phrase: str, tmp_path: Path
    ) -> None:
        first, second = tmp_path / "first", tmp_path / "second"
        assert run(["backup", "--data", shop, "--to", str(first)]) == 0
        words = ["backup", "--data", shop, "--to", str(second), "--with-key", "--phrase-file", phrase]
        assert run(words) == 0
        assert [path.suffix for path in first.iterdir()] == [".sqlite3"]
        (copy,) = second.glob("*.pem")
        (Path(shop) / KEY_FILE).unlink()
        assert run(["key", "back", str(copy), "--phrase-file", phrase, "--data", shop]) == 0
        assert key_in_pem((Path(shop) / KEY_FILE).read_bytes()) == key_in_pem(copy.read_bytes(), PHRASE)

    def test_a_pass_phrase_is_asked_for_twice_without_showing_it(
        self, shop: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        said = iter([PHRASE, "another one altogether"])
        monkeypatch.setattr("steelyard.cli.key.getpass", lambda _: next(said))
        assert run(["key", "copy", "--data", shop]) == 3

    def test_a_new_one_has_to_be_meant(self, shop: str) -> None:
        assert run(["key", "new", "--data", shop]) == 3
        before = (Path(shop) / KEY_FILE).read_bytes()
        assert run(["key", "new", "--sure", "--data", shop]) == 0
        assert (Path(shop) / KEY_FILE).read_bytes() != before

    def test_it_says_where_a_replaced_key_lies(self, shop: str, capsys: pytest.CaptureFixture[str]) -> None:
        for words in (["new", "--sure"], ["show"]):
            assert run(["key", *words, "--data", shop]) == 0
            said = capsys.readouterr().out
            assert "key-replaced-" in "".join(said.split())
            assert "delete that file" in " ".join(said.split())

    def test_a_foreign_key_is_told(self, shop: str, capsys: pytest.CaptureFixture[str]) -> None:
        (Path(shop) / KEY_FILE).write_bytes(KEY.in_pem())
        assert run(["key", "show", "--data", shop]) == 0
        assert "that of another workshop" in " ".join(capsys.readouterr().out.split())
        assert run(["sign", "1", "--data", shop]) == 3

    def test_the_key_of_a_file_is_known_only_by_the_fingerprint_that_was_told(
        self, shop: str, tmp_path: Path
    ) -> None:
        file, mark = tmp_path / "one.xml", fingerprint(KEY.public)
        file.write_bytes(leaving("dcc"))
        accept = ["key", "accept", str(file), "--name", "the boatyard", "--data", shop, "--fingerprint"]
        assert run([*accept, "0" * 32]) == 3
        assert run([*accept, mark]) == 0
        assert run(["verify", str(file), "--data", shop]) == 0
        assert run(["key", "drop", "--fingerprint", mark, "--data", shop]) == 0
        assert run(["key", "drop", "--fingerprint", mark, "--data", shop]) == 4
        assert run(["verify", str(file), "--data", shop]) == 11


class TestSign:
    def test_those_nobody_signed_are_signed_once(self, shop: str, capsys: pytest.CaptureFixture[str]) -> None:
        (Path(shop) / KEY_FILE).unlink()
        assert run(["sign", "1", "--data", shop]) == 3
        assert run(["key", "new", "--sure", "--data", shop]) == 0
        capsys.readouterr()
        assert run(["sign", "1", "--data", shop]) == 0
        assert capsys.readouterr().out == "Record 1 is signed.\n"
        assert run(["sign", "--all", "--data", shop]) == 0
        assert capsys.readouterr().out == "Every record is signed.\n"

    def test_which_has_to_be_said(self, shop: str) -> None:
        assert run(["sign", "--data", shop]) == 3
        assert run(["sign", "7", "--data", shop]) == 4
