"""The command `reckon`: its options reach the desk, and its answers are sentences or JSON."""

import argparse
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from forms import BEAM
from steelyard.cli.reckon import answer, arguments
from steelyard.cli.reckon_options import QUESTIONS
from steelyard.errors import InputRefused
from steelyard.words import say


def parser() -> argparse.ArgumentParser:
    made = argparse.ArgumentParser(prog="steelyard reckon")
    arguments(made)
    return made


def ask(*words: str) -> None:
    """Answer a command line; raises unless the exit code is 0."""
    code = answer(parser().parse_args(words))
    if code != 0:
        raise AssertionError(f"exit code {code}")


HUNG = ("hung", "--load", "10.15 kg", "--arm", "450 mm", "--gravity", "9.80665 m/s²", "--no-buoyancy")
WATER = ("water", "--volume", "10 L ± 0.02 L", "--temperature", "20 °C")
ANSWERS = (
    (("torque", "80", "ft-lb", "--to", "Nm"), "80 ft-lb = 108.465 N·m"),
    (("torque", "-5", "N·m"), "-5 N·m = -3.68781 lbf·ft"),
    (
        ("adapter", "--wanted", "300 in-lb", "--tool-length", "10 in", "--adapter", "4 in"),
        "Set the tool to 214.3 lbf·in",
    ),
    (
        (
            *("adapter", "--setting", "100 N·m", "--tool-length", "400 mm"),
            *("--adapter", "50 mm", "--angle", "180°"),
        ),
        "The bolt gets 87.50 N·m when the tool is set to 100.0 N·m.",
    ),
    (
        (
            *("insert", "--wanted", "90 N·m", "--tool-length", "400 mm"),
            *("--standoff", "70 mm", "--reference-standoff", "20 mm"),
        ),
        "Set the tool to 80.00 N·m",
    ),
    ((*HUNG, "--own-mass", "1.3 kg", "--balance", "220 mm"), "47.60 N·m (35.11 lbf·ft) at the drive."),
    ((*HUNG, "--own-reading", "0.65 kg", "--own-at", "440 mm"), "47.60 N·m (35.11 lbf·ft) at the drive."),
    ((*HUNG, "--own-zero", "--to", "in-lb"), "396.4 lbf·in (44.79 N·m) at the drive."),
    ((*HUNG, "--own-zero", "--droop", "5°"), "44.62 N·m"),
    (
        (
            *("hung", "--wanted", "100 N·m", "--arm", "1 m", "--own-zero"),
            *("--latitude", "45", "--height", "0 m"),
        ),
        "Hang 10.199",
    ),
    (("gravity", "--latitude", "-33.9", "--height", "0 m"), "Gravity there is 9.79641 m/s² ± 0.00096 m/s²."),
    (
        ("mass", "--step", "100 g", "--class", "III", "--with", "100.2 kg", "--without", "80.1 kg"),
        "The load is 20.10 kg ± 0.33 kg",
    ),
    (
        ("mass", "--step", "100 g", "--accuracy", "50 g", "--with", "100.2 kg", "--without", "80.1 kg"),
        "The load is 20.10 kg ± 0.11 kg",
    ),
    (
        ("mass", "--step", "10 g", "--accuracy", "50 g", "--placements", "9.62 9.63 9.61 kg"),
        "The load is 9.620 kg ± 0.0",
    ),
    (
        (
            *("combinations", "--row", "A + B = 15.02 kg", "--row", "A = 10.01 kg", "--row", "B = 5.00 kg"),
            *("--step", "10 g", "--class", "III"),
        ),
        "A: 10.013 kg ± 0.0",
    ),
    (
        (
            *("pivot", "--near-load", "25 kg ± 20 g", "--near-arm", "300 mm ± 0.5 mm"),
            *("--far-load", "15.385 kg ± 20 g", "--far-arm", "470 mm ± 0.5 mm"),
        ),
        "The pivot lies 28.0 mm from the drive axis; in 95 of 100 cases it lies from 25.9 mm to 30.1 mm.",
    ),
    ((*WATER, "--air-density", "1.2 kg/m³"), "A scale that is right shows 9.972 kg ± 0.023 kg"),
    ((*WATER, "--height", "35 m", "--shows", "9.9 kg", "--step", "10 g"), "The scale shows 0.72 % ± 0.24 %"),
)


@pytest.mark.parametrize(("words", "first"), ANSWERS)
def test_the_main_number_comes_first(
    words: tuple[str, ...], first: str, capsys: pytest.CaptureFixture[str]
) -> None:
    ask(*words)
    assert capsys.readouterr().out.startswith(first)


def test_what_to_mind_stands_below(capsys: pytest.CaptureFixture[str]) -> None:
    ask("hung", "--load", "40 lb", "--arm", "15 in", "--own-zero", "--gravity", "g_n", "--no-buoyancy")
    said, minded = capsys.readouterr().out.split("\n\n")
    assert said.startswith("50.00 lbf·ft (67.79 N·m) at the drive.")
    first, second, *_ = minded.splitlines()
    assert first == "- This leaves out the tool's own weight, usually 2 to 9 % of the torque."
    assert second.startswith("- Keep feet")


@pytest.mark.parametrize("words", [words for words, _ in ANSWERS], ids=lambda words: str(words[0]))
def test_every_answer_comes_as_json_too(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    ask(*words, "--json")
    content = json.loads(capsys.readouterr().out)
    assert sorted(content) == ["findings", "numbers", "sentences"]
    assert content["sentences"]
    assert all(isinstance(number, float) for number in content["numbers"].values())
    assert all(sorted(each) == ["code", "sentence", "severity"] for each in content["findings"])


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_question_explains_itself(question: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        parser().parse_args([question, "--help"])
    assert left.value.code == 0
    assert say(f"asking-about-{question}") in " ".join(capsys.readouterr().out.split())


@pytest.fixture
def form(tmp_path: Path) -> str:
    """A beam wrench with two checked points, checked on 2026-11-20."""
    path = tmp_path / "beam.toml"
    load = 'load = "M-5 + 9.5 kg ± 4 g"'
    path.write_text(f'{BEAM}\n[[point]]\ntarget = "42 N·m"\n{load}\npulls = "43.1 43.2 43.0 N·m"\n', "utf-8")
    return str(path)


@pytest.mark.parametrize(
    ("question", "first"),
    [("set-to", "Pull until T-07 shows 31 N·m"), ("choose", "Take T-07 and pull until")],
)
def test_a_checked_tool_comes_from_its_form(
    question: str, first: str, form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = (question, form, "--want", "30.5 N·m", "--today", "2026-11-25", "--direction", "cw")
    ask(*words)
    assert capsys.readouterr().out.startswith(first)
    ask(*words, "--json")
    content = json.loads(capsys.readouterr().out)
    assert content["numbers"]["setting_newton_metre"] == 31
    assert content["sentences"][0].startswith(first)


def test_without_a_day_the_clock_here_is_asked(form: str) -> None:
    today = datetime.now(UTC).astimezone().date()
    old = form.replace("beam", "old")
    Path(old).write_text(
        Path(form).read_text("utf-8").replace("2026-11-20", f"{today.year - 2}-11-20"), "utf-8"
    )
    with pytest.raises(InputRefused, match="not older than 12 months"):
        ask("set-to", old, "--want", "30 N·m")
    Path(old).write_text(Path(form).read_text("utf-8").replace("2026-11-20", today.isoformat()), "utf-8")
    ask("set-to", old, "--want", "30 N·m")


def test_a_day_that_is_none_is_refused(form: str) -> None:
    with pytest.raises(InputRefused) as refused:
        ask("set-to", form, "--want", "30 N·m", "--today", "25.11.2026")
    assert refused.value.field == "--today"


def test_a_refusal_names_the_option_and_is_left_to_the_caller() -> None:
    with pytest.raises(InputRefused, match=r"^--own-mass: nothing is given; wanted is the tool's own weight"):
        ask(*HUNG)


def test_a_question_has_to_be_asked() -> None:
    with pytest.raises(SystemExit):
        parser().parse_args([])
