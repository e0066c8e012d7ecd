"""Pulls, budget, history: order, places and words."""

import pytest

from charts.looking import FAR, HISTORY, SVG, WANTED, places, texts, tree, with_class
from steelyard.charts import PastCheck, Pull, Share, Wanted, budget_bars, history_strip, pull_dots


def dots(*pulls: Pull, wanted: Wanted = WANTED) -> list[tuple[float, float]]:
    """The middle of each dot that is a disc, without the ring of the newest and the places that wait."""
    root = tree(pull_dots(pulls, wanted))
    found = [e for e in root.iter(f"{SVG}circle") if {"ch-full", "ch-open"} & set(e.get("class", "").split())]
    return [(float(e.get("cx", 0)), float(e.get("cy", 0))) for e in found]


def test_pulls_go_from_left_to_right_and_more_torque_lies_higher() -> None:
    at = dots(Pull(49), Pull(51), Pull(50))
    assert [x for x, _ in at] == sorted(x for x, _ in at)
    assert at[1][1] < at[2][1] < at[0][1]


def test_the_limit_of_the_strip_lies_where_a_pull_at_the_limit_lies() -> None:
    root = tree(pull_dots([Pull(48), Pull(52), Pull(50)], WANTED))
    (_, top), (_, bottom) = places(with_class(root, "ch-band")[0])
    (target,) = with_class(root, "ch-target")
    at = dots(Pull(48), Pull(52), Pull(50))
    assert [bottom, top, float(target.get("y1", 0))] == pytest.approx([y for _, y in at], abs=0.011)


def test_a_place_is_kept_for_each_pull_to_come() -> None:
    assert len(with_class(tree(pull_dots([Pull(50)], WANTED)), "ch-wait")) == 4
    assert not with_class(tree(pull_dots([Pull(50)] * 7, WANTED)), "ch-wait")


def test_only_the_newest_has_a_ring() -> None:
    root = tree(pull_dots([Pull(49), Pull(51)], WANTED))
    (ring,) = with_class(root, "ch-ring")
    assert float(ring.get("cx", 0)) == dots(Pull(49), Pull(51))[1][0]


def test_a_pull_outside_points_out_and_a_struck_one_is_crossed() -> None:
    chart = pull_dots(FAR, WANTED)
    assert [row[2] for row in chart.table.rows] == [
        "struck out",
        "inside the limit",
        "above the limit",
        "never clicked",
        "inside the limit",
    ]
    out = [e for e in with_class(tree(chart), "ch-out")]
    assert len(out) == 1 and out[0][0].tag == f"{SVG}path"


def test_a_struck_out_pull_does_not_squeeze_the_others() -> None:
    with_it, without = dots(Pull(49), Pull(51), Pull(900, "struck")), dots(Pull(49), Pull(51))
    assert with_it[:2] == without and with_it[2][1] < without[1][1]


def test_the_strip_says_what_it_shows() -> None:
    said = pull_dots(FAR, WANTED, mean=58.25, within=4.5).summary
    assert said == (
        "Pulls counted: 3, target 50 N·m. Limit 48 to 52 N·m. Outside the limit: 1. Not counted: 2. "
        "Mean 58.25 N·m ± 4.5 N·m."
    )
    assert "Limit at most 52 N·m." in pull_dots([], Wanted(50, "N·m", high=52)).summary
    assert "Limit at least 48 N·m." in pull_dots([], Wanted(50, "N·m", low=48)).summary


def test_a_strange_pull_is_our_bug() -> None:
    for torque, state in ((float("nan"), "counted"), (50, "lost")):
        with pytest.raises(ValueError, match="no such pull"):
            Pull(torque, state)


def test_bars_stand_largest_first_and_are_as_long_as_their_share() -> None:
    chart = budget_bars([Share("droop", 20), Share("scale", 75), Share("gravity", 5)])
    assert chart.table.rows == (("scale", "75"), ("droop", "20"), ("gravity", "5.0"))
    lengths = [float(e.get("width", 0)) for e in with_class(tree(chart), "ch-bar")]
    rails = [float(e.get("width", 0)) for e in with_class(tree(chart), "ch-rail")]
    assert [a / b for a, b in zip(lengths, rails, strict=True)] == pytest.approx([0.75, 0.2, 0.05], abs=1e-4)
    assert "The largest: scale, 75 %." in chart.summary


@pytest.mark.parametrize("percent", [-1, 101, float("nan")])
def test_a_share_beyond_the_whole_is_our_bug(percent: float) -> None:
    with pytest.raises(ValueError, match="shares"):
        budget_bars([Share("scale", percent)])


def test_a_long_name_is_broken_and_shortened_but_whole_in_the_table() -> None:
    name = "the distance between the drive axis and the mark " * 4
    chart = budget_bars([Share(name, 100)])
    written = [t for t in texts(tree(chart)) if "%" not in t]
    assert len(written) == 2 and written[1].endswith("…")
    assert chart.table.rows[0][0] == name


def test_each_tool_has_a_line_and_each_check_a_shape() -> None:
    chart = history_strip(HISTORY)
    root = tree(chart)
    assert len(chart.table.rows) == len(HISTORY) == 40
    assert [t for t in texts(root) if t.startswith("T-")] == ["T-01", "T-02"]
    crosses = len(with_class(root, "ch-cross")) - 1  # one stands in the key
    assert crosses == sum(check.verdict == "out" for check in HISTORY)


def test_later_checks_stand_further_right_even_on_one_day() -> None:
    checks = [PastCheck("T-01", day, "in", 1, 1, 4) for day in ("2025-03-01", "2024-03-01", "2025-03-01")]
    root = tree(history_strip(checks))
    at = [float(e.get("cx", 0)) for e in with_class(root, "ch-full")][:3]
    assert at == sorted(at) and at[2] - at[1] > 10 and at[1] - at[0] > 100


def test_a_history_says_how_each_tool_was_last() -> None:
    checks = [
        PastCheck("T-01", "2025-03-01", "out", -6, 1, 4),
        PastCheck("T-01", "2024-03-01", "in", 1, 1, 4),
    ]
    chart = history_strip(checks, decimal_mark=",")
    assert "T-01: checks 2, the last on 2025-03-01: out, decided at −6,00 % ± 1,00 %." in chart.summary
    assert [row[1] for row in chart.table.rows] == ["2024-03-01", "2025-03-01"]


def test_a_history_that_cannot_be_drawn_is_our_bug() -> None:
    with pytest.raises(ValueError, match="no check"):
        history_strip([])
    with pytest.raises(ValueError):
        PastCheck("T-01", "March", "in", 1, 1)
    with pytest.raises(ValueError, match="finite"):
        PastCheck("T-01", "2025-03-01", "in", float("inf"), 1)
