"""The command `simulate`: populations, counts, bounds, worst cells; JSON; progress beside it."""

import argparse
import dataclasses
import json

import pytest

from steelyard.cli import run
from steelyard.cli.simulate import answer, arguments
from steelyard.cli.simulate_adjusting import report as adjusting_report
from steelyard.cli.simulate_coverage import report
from steelyard.cli.simulate_progress import progress_line
from steelyard.cli.simulate_threshold import report as threshold_report
from steelyard.desk.simulate import Coverage, coverage_content
from steelyard.desk.simulate_adjusting import adjusting_content
from steelyard.desk.simulate_threshold import ThresholdCounts, simulate_threshold, threshold_content
from steelyard.errors import InputRefused
from steelyard.simulation import (
    UNKNOWN,
    AdjustingCell,
    AdjustingCounts,
    AdjustingPlan,
    AdjustingWay,
    Cell,
    Part,
    Plan,
    RigKind,
    Tally,
)

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


THRESHOLD = ("simulate", "threshold", "--tools", "10", "--drift-tools", "10")
ADJUSTING = ("simulate", "adjusting", "--tools", "10")


@pytest.fixture(scope="module")
def thresholds() -> ThresholdCounts:
    """A few tools in every way."""
    return simulate_threshold(tools=10, drift_tools=10, seed=1, progress=lambda _part, _whole: None)


def test_thresholds_are_one_table_of_all_ways_and_what_was_made_up(thresholds: ThresholdCounts) -> None:
    text = "\n".join(threshold_report(thresholds))
    assert text.startswith("Made-up click tools: thresholds off by ±3 %")
    rows = [row for row in text.split("\n\n")[1].splitlines() if "%" in row[:36]]
    assert len(rows) == 8
    assert {row.split(",")[0] for row in rows} == {"guided", "up and down", "rising staircase"}
    assert all(len(row) <= 110 for row in text.splitlines() if row.startswith("  "))
    assert "Guided, and up and down by the posterior: error at most 0.55/0.58/0.62/0.85 %" in text


def test_a_threshold_bound_that_is_not_kept_is_named(thresholds: ThresholdCounts) -> None:
    poor = {
        way: {scatter: dataclasses.replace(cell, squares=9.0 * cell.tools) for scatter, cell in row.items()}
        for way, row in thresholds.cells.items()
    }
    text = "\n".join(threshold_report(dataclasses.replace(thresholds, cells=poor)))
    assert "[XX] Guided" in text
    assert "not kept: error, guided, 0.5 %, all scatters" in text


def test_thresholds_as_json_have_every_count(thresholds: ThresholdCounts) -> None:
    content = json.loads(json.dumps(threshold_content(thresholds), allow_nan=False))
    assert len(content["ways"]) == 8
    assert len(content["drifts"]) == 16
    first = content["ways"][0]
    assert (first["method"], first["step_percent"], first["overall"]["tools"]) == ("guided", 0.5, 40)
    assert content["ways"][-1]["overall"]["sure_trials_median"] is None


def test_adjusting_is_a_table_of_all_ways(capsys: pytest.CaptureFixture[str]) -> None:
    status = run([*ADJUSTING, "--seed", "3"])
    population, table, bounds = capsys.readouterr().out.split("\n\n")
    assert population.startswith("Made-up tools at 20, 60 and 100 N·m")
    assert sum(row.startswith("  advice") for row in table.splitlines()) == 3
    assert status == (10 if bounds.startswith("[XX]") else 0)


def test_adjusting_bounds_that_are_not_kept_are_named() -> None:
    cell = AdjustingCell((16, 2), (16, 2), (0.02,))
    counts = AdjustingCounts(AdjustingPlan(2, 1), {UNKNOWN: {AdjustingWay.GUIDED: cell}})
    *_, last = adjusting_report(counts)
    assert last == "  not kept: what they truly deliver when done"
    assert adjusting_content(counts)["violations"] == ["turns", "unfinished", "true"]
    assert ">15" in "\n".join(adjusting_report(counts))


def test_adjusting_as_json_has_every_count(capsys: pytest.CaptureFixture[str]) -> None:
    run([*ADJUSTING, "--json"])
    content = json.loads(capsys.readouterr().out)
    assert sorted(content["cases"]) == ["known", "strong", "unknown"]
    assert sorted(content["cases"]["unknown"]) == ["guided", "quarter", "secant"]


@pytest.mark.parametrize(
    "line",
    [
        [*THRESHOLD, "--seed", "-1"],
        ["simulate", "threshold", "--tools", "9"],
        ["simulate", "threshold", "--drift-tools", "0"],
        ["simulate", "adjusting", "--tools", "0"],
    ],
)
def test_numbers_of_tools_outside_their_limits_are_refused(
    line: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(line) == 3
    assert "a whole number from" in capsys.readouterr().err


def test_a_simulation_stopped_by_hand_ends_with_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("steelyard.desk.simulate_adjusting.simulate_adjustings", stop)
    assert run([*ADJUSTING]) == 130
    assert capsys.readouterr().out == ""
