"""The command `simulate coverage`: population, counts, worst cells; JSON; progress beside it."""

import argparse
import json

import pytest

from steelyard.cli import run
from steelyard.cli.simulate import answer, arguments, progress_line, report
from steelyard.desk.simulate import Coverage, coverage_content
from steelyard.errors import InputRefused
from steelyard.simulation import Cell, Part, Plan, RigKind, Tally

FEW = ("coverage", "--cases", "120", "--cells-cases", "0", "--draws", "1000")


def read(*words: str) -> argparse.Namespace:
    """A command line as read."""
    parser = argparse.ArgumentParser(prog="steelyard simulate")
    arguments(parser)
    return parser.parse_args(words)


def counted(*, held: int) -> Coverage:
    """Made-up counts with one cell."""
    plan = Plan(100, 1_000, 1_000, 1, kinds=(RigKind.STEPS,), pulls=(5,))
    cell = Cell(RigKind.STEPS, Part.STEP, 5, Tally(1_000, held, 3))
    return Coverage(plan, {RigKind.STEPS: Tally(100, 95, 40)}, (cell,))


def test_the_population_is_printed_before_the_counts(capsys: pytest.CaptureFixture[str]) -> None:
    answer(read(*FEW))
    population, counts = capsys.readouterr().out.split("\n\n")
    assert population.startswith("Made-up tools on made-up kits: 40 to 100 N·m, arms of 400 to 550 mm")
    assert "  poured bucket, force-type scale: length of the arm, load, own weight" in population
    assert "over all 120 cases at 5 pulls the interval holds the truth" in counts.lower()


def test_json_has_every_count(capsys: pytest.CaptureFixture[str]) -> None:
    answer(read(*FEW, "--json"))
    content = json.loads(capsys.readouterr().out)
    assert content["overall"]["cases"] == 120
    assert sorted(content["by_kind"]) == sorted(RigKind)
    assert content["cells"] == []


def test_a_cell_outside_its_bounds_is_named() -> None:
    text = "\n".join(report(counted(held=1_000)))
    assert "[XX] Cells: 1 with 1000 cases each; 1 outside the bounds" in text
    assert text.endswith(
        "hung load added in steps, step of the load, 5 pulls: held 100.0 % (± 0.1 %), called in 0.3 %"
    )
    assert coverage_content(counted(held=1_000))["violations"][0]["part"] == "step"


def test_cells_inside_their_bounds_are_called_so() -> None:
    text = "\n".join(report(counted(held=960)))
    assert "[ok] Cells: 1 with 1000 cases each; 0 outside the bounds" in text
    assert "Cells outside the bounds:" not in text


def test_progress_is_a_line_every_tenth_where_nobody_watches(capsys: pytest.CaptureFixture[str]) -> None:
    said = progress_line()
    for part in range(1, 201):
        said(part, 200)
    lines = capsys.readouterr().err.splitlines()
    assert lines[0] == "20 of 200 …"
    assert len(lines) == 10


@pytest.mark.parametrize(
    ("option", "number"), [("--cases", "99"), ("--cells-cases", "-1"), ("--draws", "999"), ("--seed", "-1")]
)
def test_numbers_outside_their_limits_are_refused(option: str, number: str) -> None:
    with pytest.raises(InputRefused, match=f"^{option}"):
        answer(read(*FEW, option, number))


def test_one_kind_of_rig_and_number_of_pulls_can_be_asked_alone(capsys: pytest.CaptureFixture[str]) -> None:
    line = ["simulate", "coverage", "--cases", "100", "--cells-cases", "2", "--draws", "1000"]
    run([*line, "--rig", "beam", "--pulls", "5", "--json"])
    cells = json.loads(capsys.readouterr().out)["cells"]
    assert {(cell["rig"], cell["pulls"]) for cell in cells} == {("beam", 5)}


def test_an_unknown_kind_of_rig_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["simulate", "coverage", "--rig", "crane"]) == 3
    assert "known-masses" in capsys.readouterr().err
