"""The dial of a turn: which way, how far, in words too."""

import re

import pytest

from charts.looking import SVG, tree
from steelyard.charts import turn_dial


def tip(turns: float) -> tuple[float, float]:
    """Where the arrow's head points to, from the middle, right and up positive."""
    (head,) = [e for e in tree(turn_dial(turns, "x")).iter(f"{SVG}path") if "Z" in e.get("d", "")]
    x, y = map(float, re.findall(r"-?[\d.]+", head.get("d", ""))[:2])
    return x - 110, 110 - y


def test_in_runs_clockwise_and_out_the_other_way() -> None:
    assert tip(0.25) == pytest.approx((68, 0), abs=1)  # a quarter from the top
    assert tip(-0.25) == pytest.approx((-68, 0), abs=1)
    assert tip(0.5) == pytest.approx((0, -68), abs=1)


def test_it_says_the_turn_in_words_and_degrees() -> None:
    drawn = turn_dial(-5 / 8, "5/8")
    assert "counter-clockwise from the top, 5/8 of a turn, 225°: out" in drawn.summary
    assert drawn.table.rows == (("OUT", "5/8", "225"),)


def test_more_than_a_whole_turn_has_a_ring_of_its_own() -> None:
    def strokes(turns: float) -> int:
        return sum(1 for _ in tree(turn_dial(turns, "x")).iter(f"{SVG}path"))

    assert strokes(1.5) == strokes(0.5) + 1


@pytest.mark.parametrize("turns", [0.0, float("nan"), float("inf")])
def test_no_turn_is_our_bug(turns: float) -> None:
    with pytest.raises(ValueError):
        turn_dial(turns, "0")
