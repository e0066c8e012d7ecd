"""`steelyard next FILE`, and a judged check whose points are known from yes/no answers."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from steelyard.cli.main import run
from steelyard.words import say

ROOT = Path(__file__).parents[2]
EXAMPLE = str(ROOT / "examples/click-wrench-by-yes-no.toml")
JSON = (ROOT / "docs/reference/json.md").read_text("utf-8")
FORM = Path(EXAMPLE).read_text("utf-8")


def told(capsys: pytest.CaptureFixture[str]) -> str:
    return " ".join(capsys.readouterr().out.split())


def with_pulls(folder: Path, *pulls: str, target: str = "60 N·m") -> str:
    """The example with these pulls alone."""
    listed = f"\npulls = [{', '.join(pulls)}]" if pulls else ""
    file = folder / "check.toml"
    file.write_text(f'{FORM.split("[[point]]")[0]}[[point]]\ntarget = "{target}"{listed}\n', "utf-8")
    return str(file)


def keys(content: Any) -> Iterator[str]:
    if isinstance(content, list):
        for item in content:
            yield from keys(item)
    if isinstance(content, dict):
        for key, value in content.items():
            yield key
            if key not in ("facts", "level_and_slope"):
                yield from keys(value)


# ---------------------------------------------------------------- next


def test_it_says_what_to_try_next_and_where_it_is_enough(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["next", EXAMPLE]) == 11
    text = told(capsys)
    assert re.search(
        r"\[XX\] 95 N·m cw: bolts get 5\.\d % LESS than set: between 4\.\d and [67]\.\d % less", text
    )
    assert "more trials would not change the verdict." in text
    assert "Try next: hang M-2 + M-1 + B-500 + B-200 (4.010 kg in all), set 20 N·m" in text
    assert "afresh even for the same load" in text and "Take care" in text


@pytest.mark.parametrize(
    ("example", "field", "wanted"),
    [
        ("beam-wrench-on-weights", "tool.kind", "want-clicking-tool"),
        ("click-wrench-on-adapter", "kit.kind", "want-hanging-kit"),
    ],
)
def test_a_check_that_takes_no_answers_is_told_what_it_lacks(
    example: str, field: str, wanted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["next", str(ROOT / f"examples/{example}.toml")]) == 3
    said = " ".join(capsys.readouterr().err.split())
    assert said.startswith(f"{field}: ") and say(wanted) in said


def test_one_answer_is_refused_with_how_many_and_which_are_wanted(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert run(["check", with_pulls(tmp_path, '{ load = "M-10 + M-2", clicked = true }')]) == 3
    assert say("want-two-answers", fewest=6) in " ".join(capsys.readouterr().err.split())


def test_before_any_answer_it_names_a_first_trial(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert run(["next", with_pulls(tmp_path)]) == 11
    text = told(capsys)
    assert "no answer yet" in text and "Try next: hang M-10" in text


def test_one_side_alone_is_a_bound(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    clicks = ['{ load = "M-10 + M-2 + M-1", clicked = true }'] * 2
    assert run(["next", with_pulls(tmp_path, *clicks)]) == 11
    text = told(capsys)
    assert "scatter aside: every trial clicked" in text and "between" not in text.split("Try next")[0]


def test_it_ends_with_nought_where_it_is_enough_everywhere(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    far = ['{ load = "M-10 + M-2 + M-1 + B-500", clicked = false }'] * 6
    far += ['{ load = "M-10 + M-5", clicked = true }'] * 3
    assert run(["next", with_pulls(tmp_path, *far)]) == 0
    assert "One more all the same" in told(capsys)


def test_its_json_is_complete_and_documented(capsys: pytest.CaptureFixture[str]) -> None:
    run(["next", "--json", EXAMPLE])
    content = json.loads(capsys.readouterr().out)
    assert [point["enough"] for point in content["points"]] == [None, "verdict", "verdict"]
    assert content["points"][2]["next"]["way"] == "setting"
    assert content["enough"] is False
    assert [k for k in sorted(set(keys(content))) if not re.search(rf"`{k}`", JSON)] == []


# ---------------------------------------------------------------- check


def test_a_judged_check_shows_trials_bracket_scatter_and_rule(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", EXAMPLE]) == 10
    text = told(capsys)
    assert "known from 14 yes/no answers: trips in the mean at 20.3" in text
    assert "of yes/no answers counts what each proves" in text
    assert "No click up to -6.1 %, a click from -5.1 %: in between it rests on what is usual" in text
    assert "Scatter from trip to trip" in text
    assert "no click: M-2 + M-1 + B-500 + B-100" in text and "B-50, set 87 N·m" in text
    for claim in ("first pull", "spread s", "14 pulls", "not counted"):
        assert claim not in text


def test_a_judged_bound_is_never_in_and_never_an_estimate(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    clicks = ['{ load = "M-10 + M-2 + B-500", clicked = true }'] * 3
    assert run(["check", with_pulls(tmp_path, *clicks)]) == 11
    text = told(capsys)
    assert "3 yes/no answers of one side alone: a bound, no estimate" in text
    assert "ISO deviation +" not in text and "ISO deviation -" not in text


def test_points_known_from_one_side_make_no_line_through_them(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    clicks = "[" + ", ".join(['{ load = "M-10 + M-2 + B-500", clicked = true }'] * 3) + "]"
    file = Path(with_pulls(tmp_path, target="60 N·m"))
    text = file.read_text("utf-8") + f'pulls = {clicks}\n[[point]]\ntarget = "58 N·m"\npulls = {clicks}\n'
    file.write_text(text, "utf-8")
    run(["check", "--json", str(file)])
    content = json.loads(capsys.readouterr().out)
    assert content["level_and_slope"] == {} and content["pattern"] == []


def test_an_answer_far_outside_decides_in_its_own_words(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    pulls = ['{ load = "M-10 + M-2 + B-500", clicked = true }'] * 3
    pulls += ['{ load = "M-10 + M-2", clicked = false }'] * 3
    pulls += ['{ load = "M-10 + M-2 + M-1 + B-500 + B-200", clicked = false }'] * 2
    assert run(["check", with_pulls(tmp_path, *pulls)]) == 10
    assert "answers prove trips outside by more than the kit's ±" in told(capsys)


def test_the_keys_of_a_threshold_are_documented(capsys: pytest.CaptureFixture[str]) -> None:
    run(["check", "--json", EXAMPLE])
    content = json.loads(capsys.readouterr().out)
    assert [k for k in sorted(set(keys(content))) if not re.search(rf"`[^`]*\b{k}\b[^`]*`", JSON)] == []
    first = content["points"][0]["pulls"][0]
    assert first["clicked"] is False and first["between_percent"][1] is None
