"""Drawings: every kind has one, and names what is measured."""

import pytest

from charts.looking import texts, tree
from steelyard.charts import Chart, own_weight_drawing, rig_drawing, tool_drawing
from steelyard.tools import Kind


def lines(chart: Chart) -> str:
    """The picture without the words that are read out."""
    return chart.svg.partition("</title>")[2]


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_of_tool_has_its_own_drawing(kind: Kind) -> None:
    chart = tool_drawing(kind)
    assert "drive axis" in texts(tree(chart))
    assert all(lines(tool_drawing(other)) != lines(chart) for other in Kind if other is not kind)


@pytest.mark.parametrize("kind", [kind for kind in Kind if not kind.is_driver])
def test_a_wrench_shows_grip_and_balance_point(kind: Kind) -> None:
    said = texts(tree(tool_drawing(kind)))
    grip = "handle pin" if kind is Kind.BEAM else "grip mark"
    assert {grip, "balance point", f"drive axis to {grip}", "drive axis to balance point"} <= set(said)


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind.is_driver])
def test_a_driver_says_that_nothing_can_be_hung_on_it(kind: Kind) -> None:
    assert "no arm: nothing can be hung on it" in texts(tree(tool_drawing(kind)))


@pytest.mark.parametrize(
    ("kind", "named"),
    [
        (
            "hung-weight",
            {"from drive axis to mark", "droop", "drop", "level under load:", "Keep feet clear."},
        ),
        ("drum", {"drum diameter", "cord", "drive axis"}),
        (
            "transducer",
            {"Drive axis vertical", "Drive axis horizontal", "Set to zero before the tool goes on."},
        ),
    ],
)
def test_a_rig_names_what_is_measured_and_minded(kind: str, named: set[str]) -> None:
    assert named <= set(texts(tree(rig_drawing(kind))))


def test_own_weight_names_the_distance() -> None:
    assert {"drive axis to resting edge", "tool level"} <= set(texts(tree(own_weight_drawing())))
