"""`steelyard adjust FILE`: what it prints, its JSON, its exit status."""

import json
import tomllib
from pathlib import Path

import pytest
import tomli_w

from steelyard.cli import run
from steelyard.words import say

EXAMPLE = Path(__file__).parents[2] / "examples" / "click-wrench-adjusted.toml"


def turned(tmp_path: Path, count: int) -> str:
    """The example with so many of its turns, in a file."""
    table = tomllib.loads(EXAMPLE.read_text("utf-8"))
    path = tmp_path / "check.toml"
    path.write_text(tomli_w.dumps({**table, "turn": table["turn"][:count]}), "utf-8")
    return str(path)


@pytest.mark.parametrize(("count", "status"), [(0, 11), (1, 11), (2, 0), (3, 0)])
def test_the_exit_says_whether_there_is_more_to_turn(tmp_path: Path, count: int, status: int) -> None:
    assert run(["adjust", turned(tmp_path, count), "--json"]) == status


def test_it_prints_the_turn_how_sure_and_what_was_done(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["adjust", turned(tmp_path, 1)])
    text = capsys.readouterr().out
    assert "Turn IN 5/6 of a turn, 300°." in text
    assert "In all it takes between 0.71 and 0.99 turns (95 %)." in text
    assert "1. 1/2 turn, in (clockwise): 20 N·m cw: +7.2 ± 0.5 %" in text
    assert "The maker’s manual goes first" in text


def test_after_the_lock_it_says_what_the_lock_did(capsys: pytest.CaptureFixture[str]) -> None:
    run(["adjust", str(EXAMPLE)])
    text = capsys.readouterr().out
    assert "Adjusted, locked and read as left" in text
    assert "Locking moved 20 N·m cw: +0.3 ± 0.5 %" in text


def test_its_json_has_the_whole_guidance(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["adjust", turned(tmp_path, 1), "--json"])
    said = json.loads(capsys.readouterr().out)
    assert (said["steelyard_adjust"], said["verdict_as_found"]) == (1, "out")
    assert said["guide"]["advice"]["turns"] == pytest.approx(5 / 6)
    assert said["guide"]["outlook"]["mending"] == "mendable"


def test_a_slope_that_no_turn_mends_ends_with_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tomllib.loads(EXAMPLE.read_text("utf-8"))
    rows = ("24.8 24.9 24.7 24.8 24.8", "58.4 58.6 58.5 58.3 58.5", "92.1 92.0 92.2 92.1 92.3")
    table["point"] = [
        {**point, "pulls": f"{row} N·m"} for point, row in zip(table["point"], rows, strict=True)
    ]
    path = tmp_path / "slope.toml"
    path.write_text(tomli_w.dumps({**table, "turn": []}), "utf-8")
    assert run(["adjust", str(path)]) == 10
    text = capsys.readouterr().out
    assert "The adjuster cannot mend this: best possible worst point is" in text
    assert "it can be brought in." in text


def test_check_judges_it_as_found_and_as_left(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(EXAMPLE)]) == 0
    text = capsys.readouterr().out
    assert "The adjuster was turned (1/2 in (clockwise), 5/6 in (clockwise)) and locked." in text
    assert text.index("T-13: OUT") < text.index("As left") < text.index("T-13: IN")


def test_a_turn_that_cannot_be_as_written_is_to_be_put_right_in_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = Path(turned(tmp_path, 2))
    table = tomllib.loads(path.read_text("utf-8"))
    table["turn"][1]["way"] = "out"
    path.write_text(tomli_w.dumps(table), "utf-8")
    assert run(["adjust", str(path)]) == 11
    text = " ".join(capsys.readouterr().out.split())
    assert say("adjust-now-question", turn=2, way="OUT") in text
    assert say("adjust-question-file", turn=2) in text
    assert "of a turn," not in text  # nothing is advised
    assert run(["adjust", str(path), "--json"]) == 11
    said = json.loads(capsys.readouterr().out)["guide"]
    assert (said["advice"], said["question"]) == (None, {"turn": 2, "way": "out"})
    table["turn"][1]["way"] = "other"
    path.write_text(tomli_w.dumps(table), "utf-8")
    run(["adjust", str(path), "--json"])
    assert json.loads(capsys.readouterr().out)["guide"]["question"] is None


def test_clicks_alone_are_no_reason_to_turn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tomllib.loads(EXAMPLE.with_name("click-wrench-by-yes-no.toml").read_text("utf-8"))
    for point in table["point"]:
        point["pulls"] = [pull for pull in point["pulls"] if pull["clicked"]]
    path = tmp_path / "check.toml"
    path.write_text(tomli_w.dumps(table), "utf-8")
    run(["adjust", str(path)])
    text = " ".join(capsys.readouterr().out.split())
    assert say("adjust-now-one-side") in text
