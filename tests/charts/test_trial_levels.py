"""Yes/no answers over their level: shapes, places, words."""

import pytest

from charts.looking import FOUND, INF, SVG, TRIALS, tree, with_class
from steelyard.charts import Chart, Found, Trial, trial_levels


def crosses(chart: Chart) -> int:
    return len(with_class(tree(chart), "ch-cross"))


def test_a_click_is_a_disc_and_no_click_a_cross() -> None:
    chart = trial_levels([Trial(-INF, 1), Trial(0, INF), Trial(-INF, 2)], Found())
    discs = [e for e in tree(chart).iter(f"{SVG}circle") if "ch-full" in e.get("class", "")]
    assert (len(discs), crosses(chart)) == (2 + 1, 1 + 1)  # one more of each in the key


def test_a_higher_level_lies_farther_right_and_a_later_answer_lower() -> None:
    root = tree(trial_levels([Trial(-INF, 2), Trial(-INF, -1)], Found()))
    (first, second, _) = [e for e in root.iter(f"{SVG}circle")]
    assert float(first.get("cx", 0)) > float(second.get("cx", 0))
    assert float(first.get("cy", 0)) < float(second.get("cy", 0))


def test_it_says_in_words_and_as_a_table_what_it_shows() -> None:
    chart = trial_levels(TRIALS, FOUND, decimal_mark=",")
    assert chart.summary.startswith("Answers: 3, clicks 2, no clicks 1;")
    assert "No click up to +0,20 %, a click from +1,40 %." in chart.summary
    assert [row[3] for row in chart.table.rows] == [
        "click",
        "no click",
        "clicked between",
        "no click, struck out",
    ]
    assert chart.table.rows[0][1:3] == ("M-10 + M-2", "+2,50")


def test_an_answer_struck_out_far_away_does_not_squeeze_the_others() -> None:
    def zero(*trials: Trial) -> str | None:
        (line,) = with_class(tree(trial_levels(trials, FOUND)), "ch-target")
        return line.get("x1")

    assert zero(*TRIALS) == zero(*TRIALS[:3])


@pytest.mark.parametrize("ends", [(-INF, INF), (2, 1), (float("nan"), 1)])
def test_an_answer_without_any_end_is_our_bug(ends: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="no such trial"):
        Trial(*ends)


def test_no_trials_are_our_bug() -> None:
    with pytest.raises(ValueError, match="no trials"):
        trial_levels([], Found())
