"""The command `check`: exit status, words, JSON, and what it does not load."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from forms import ADAPTER, ALL, HUNG, changed, without
from steelyard.cli import run
from steelyard.desk import check_content, judge_check

PULLS = 'pulls = "96.1 97.0 96.6 96.8 96.5 N·m"'
GOOD, BAD = 'pulls = "99.8 100.1 99.9 N·m"', 'pulls = "90.1 90.2 90.1 N·m"'
NO_LIMIT = changed(ADAPTER, "percent = 4", "percent = 4\nfrom_percent_of_maximum = 50")
NO_LIMIT = changed(NO_LIMIT, 'target = "100 N·m"', 'target = "40 N·m"').replace(PULLS, 'pulls = "40 41 N·m"')
VERDICTS = {
    "in": (changed(ADAPTER, PULLS, GOOD), 0, "[ok] T-04: IN"),
    "out": (changed(ADAPTER, PULLS, BAD), 10, "[XX] T-04: OUT"),
    "cant-tell": (ADAPTER, 11, "[??] T-04: CAN'T TELL with this kit"),
    "no-limit": (NO_LIMIT, 0, "[--] T-04: NO LIMIT here"),
}


def written(folder: Path, text: str) -> str:
    """The name of a file with this text."""
    file = folder / "check.toml"
    file.write_text(text, "utf-8")
    return str(file)


@pytest.mark.parametrize("verdict", VERDICTS)
def test_the_exit_status_and_the_words_are_those_of_the_verdict(
    verdict: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text, status, words = VERDICTS[verdict]
    assert run(["check", written(tmp_path, text)]) == status
    out, err = capsys.readouterr()
    assert words in out
    assert err == ""


def test_the_text_says_what_the_bolts_get(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["check", written(tmp_path, ADAPTER)])
    out = capsys.readouterr().out
    for words in ("bolts get 3.4 % LESS than set", "ISO deviation +3.52 %", "limit ±4 %", "not traceable"):
        assert words in out
    assert "Take care" not in out


def test_cautions_stand_below_where_something_hangs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["check", written(tmp_path, HUNG)])
    out = capsys.readouterr().out
    assert "Take care" in out
    assert "Keep feet and hands from under the load" in out


def test_a_struck_out_pull_is_printed_with_its_reason(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pulls = 'pulls = ["99.8 N·m", "100.1 N·m", { reading = "0 N·m", struck_out = "hand slipped" }]'
    assert run(["check", written(tmp_path, changed(ADAPTER, PULLS, pulls))]) == 0
    (line,) = (line for line in capsys.readouterr().out.splitlines() if "hand slipped" in line)
    assert "struck out: hand slipped" in line
    assert "%" not in line


@pytest.mark.parametrize("name", ALL)
def test_the_json_is_the_content_of_the_check(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["check", "--json", written(tmp_path, ALL[name])])
    assert json.loads(capsys.readouterr().out) == check_content(judge_check(ALL[name].encode()))


def test_the_same_file_prints_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = written(tmp_path, ADAPTER)
    run(["check", file])
    first = capsys.readouterr().out
    run(["check", file])
    assert capsys.readouterr().out == first


@pytest.mark.parametrize("options", [[], ["--json"]])
def test_refused_input_is_said_in_one_sentence(
    options: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["check", *options, written(tmp_path, without(ADAPTER, "percent"))]) == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("limit: nothing is given; wanted is a limit")
    assert err.count("\n") == 1


def test_a_file_that_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["check", "no-such.toml"]) == 4
    assert "no-such.toml is not there" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["", ".", "a\0b"])
def test_what_is_no_file_is_refused(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(tmp_path / name)]) == 3
    assert "the name of a file that can be read" in capsys.readouterr().err


def test_a_file_without_an_end_is_read_no_further_than_it_may_be_long(
    capsys: pytest.CaptureFixture[str],
) -> None:
    if not Path("/dev/zero").exists():
        pytest.skip("this system has no file without an end")
    assert run(["check", "/dev/zero"]) == 3
    assert "at most 1 MB" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["chek"], ["check"], ["check", "--loud", "a.toml"], ["--loud"]])
def test_a_command_that_is_not_known_is_told_so(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        run(words)
    assert left.value.code == 2
    assert "usage: steelyard" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["--help"], ["check", "--help"], ["--version"]])
def test_help_loads_no_arrays(words: list[str]) -> None:
    script = (
        "import sys\n"
        "from steelyard.cli import run\n"
        "try:\n"
        f"    run({words!r})\n"
        "finally:\n"
        "    heavy = sorted({'numpy', 'scipy'} & set(sys.modules))\n"
        "    print(f'heavy={heavy}')\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
        timeout=60,
        env={"PYTHONPATH": str(Path(__file__).parents[2] / "src"), "PYTHONUTF8": "1"},
    )
    assert "heavy=[]" in done.stdout


def test_the_module_is_the_command(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "steelyard", "check", written(tmp_path, VERDICTS["out"][0])],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        timeout=60,
        env={"PYTHONPATH": str(Path(__file__).parents[2] / "src"), "PYTHONUTF8": "1"},
    )
    assert done.returncode == 10
    assert "OUT" in done.stdout
