"""Thresholds from yes/no trials: what is said of one side, of bad input, of a drift and of a change."""

import math

import numpy as np
import pytest
from statsmodels.discrete.discrete_model import Probit

from steelyard.errors import InputRefused
from steelyard.readings.threshold import (
    Answer,
    Sides,
    bracket,
    clicked,
    dixon_mood,
    estimate_threshold,
    expected_gain,
    grid_for,
    has_likeliest,
    least_fitting,
    likeliest_threshold,
    most_telling,
    not_clicked,
    steadiness,
)
from steelyard.readings.threshold.grid import log_between

LEVELS = [0.5 * i for i in range(-24, 25)]


def guided(*trips: float) -> list[Answer]:
    """Answers of these trips, each trial where it tells most."""
    answers: list[Answer] = []
    for trip in trips:
        level = LEVELS[int(expected_gain(answers, LEVELS).argmax())]
        answers.append(clicked(level) if trip <= level else not_clicked(level))
    return answers


def test_an_answer_without_room_is_a_bug() -> None:
    with pytest.raises(ValueError, match="room"):
        Answer(1.0, 1.0)


def test_the_nearest_deviation_of_an_answer_is_none_where_it_allows_none() -> None:
    assert clicked(1.0).nearest_percent == 0.0
    assert clicked(-2.0).nearest_percent == -2.0
    assert not_clicked(3.0).nearest_percent == 3.0
    assert Answer(-4.0, -1.0).nearest_percent == -1.0


def test_before_any_answer_the_usual_stands_about_the_setting() -> None:
    got = estimate_threshold([])
    assert (got.sides, got.count, got.is_two_sided) == (Sides.NONE, 0, False)
    assert got.percent == pytest.approx(0, abs=1e-9)
    assert got.sd_percent > 4


def test_all_clicks_are_a_bound_and_no_estimate() -> None:
    got = estimate_threshold([clicked(4.0), clicked(1.0), clicked(-0.5)])
    assert got.sides is Sides.ONLY_CLICKS
    assert (got.bracket_low_percent, got.bracket_high_percent) == (-math.inf, -0.5)
    assert not got.is_two_sided


def test_five_times_no_click_at_the_setting_is_finite_and_wide() -> None:
    # own earlier sketch, measured: 4.4 ± 2.7 %, 95 % from 0.6 to 10.5
    got = estimate_threshold([not_clicked(0.0)] * 5)
    assert got.sides is Sides.ONLY_NO_CLICKS
    assert 3 < got.percent < 6
    assert got.low_percent > -0.5
    assert got.high_percent > 8


def test_one_click_is_never_spot_on() -> None:
    got = estimate_threshold([not_clicked(-0.5), clicked(0.5)])
    assert got.sides is Sides.SEPARATED
    assert got.high_percent - got.low_percent > 3


def test_answers_that_contradict_one_threshold_without_scatter_show_scatter() -> None:
    calm = estimate_threshold([not_clicked(-1.0), clicked(1.0)] * 3)
    torn = estimate_threshold([not_clicked(3.0), clicked(-3.0)] * 3)
    assert torn.sides is Sides.MIXED
    assert (torn.bracket_low_percent, torn.bracket_high_percent) == (3.0, -3.0)
    assert torn.scatter_percent > 2 * calm.scatter_percent


def test_a_tool_far_out_is_found_as_well() -> None:
    got = estimate_threshold([not_clicked(38.0), clicked(42.0), not_clicked(39.5), clicked(40.5)] * 2)
    assert 39 < got.percent < 41
    assert got.u_percent < 1


def test_poured_runs_enclose_the_trips() -> None:
    """A bucket at the click, in steps of 0.1 %: own example."""
    pours = [9.62, 9.71, 9.66, 9.68, 9.65]
    middle = sum(pours) / len(pours)
    answers = [Answer(100 * (kg / middle - 1) - 0.1, 100 * (kg / middle - 1)) for kg in pours]
    got = estimate_threshold(answers)
    assert got.percent == pytest.approx(-0.05, abs=0.03)
    assert 0.3 < got.scatter_percent < 0.6  # s of the five is 0.35 %
    assert got.scatter_low_percent < 0.35 < got.scatter_high_percent


@pytest.mark.parametrize("low", [-46.0, -9.0, 9.0, 45.0])
def test_a_pour_far_from_a_threshold_keeps_its_digits(low: float) -> None:
    """Far out in the tail the difference of two probabilities is not lost; asymptotic series of the tail."""
    place, scatter = np.array(0.0), np.array(1.0)
    got = float(log_between(place, scatter, Answer(low, low + 1)))
    z = min(abs(low), abs(low + 1))
    tail = -z * z / 2 - math.log(z * math.sqrt(2 * math.pi)) + math.log1p(-1 / z**2 + 3 / z**4)
    assert got == pytest.approx(tail, abs=2e-3)


def test_runs_that_never_clicked_lift_the_estimate() -> None:
    pours = [Answer(0.9, 1.0), Answer(0.7, 0.8), Answer(1.1, 1.2)]
    never = [not_clicked(1.5), not_clicked(1.5)]
    assert estimate_threshold([*pours, *never]).percent > estimate_threshold(pours).percent + 0.2


def test_the_first_trial_is_best_made_at_the_setting() -> None:
    assert LEVELS[int(expected_gain([], LEVELS).argmax())] == 0.0


def test_the_next_trial_lies_inside_the_bracket_of_separated_answers() -> None:
    answers = [not_clicked(-4.0), clicked(4.0), not_clicked(0.0)]
    assert 0.0 < LEVELS[int(expected_gain(answers, LEVELS).argmax())] < 4.0


def test_of_trials_that_tell_nearly_as_much_the_farthest_is_taken() -> None:
    """It tells more of the scatter; what it tells of the threshold is at least 95 % of the best."""
    answers = [
        not_clicked(-1.0),
        clicked(1.0),
        not_clicked(0.0),
        clicked(0.5),
        not_clicked(0.5),
        clicked(0.0),
    ]
    at = estimate_threshold(answers).percent
    gains = expected_gain(answers, LEVELS)
    place = most_telling(answers, LEVELS, estimate_percent=at)
    assert gains[place] >= 0.95 * gains.max()
    farther = [
        gain for level, gain in zip(LEVELS, gains, strict=True) if abs(level - at) > abs(LEVELS[place] - at)
    ]
    assert max(farther) < 0.95 * gains.max()


def test_no_likeliest_threshold_of_separated_answers() -> None:
    for answers in (
        [],
        [clicked(1.0)],
        [not_clicked(0.0), clicked(1.0)],
        [not_clicked(1.0), clicked(1.0)],
        [not_clicked(0.0), not_clicked(1.0), clicked(1.0), clicked(2.0)],
        [Answer(0.0, 1.0), Answer(0.5, 1.5)],
        [Answer(0.0, 1.0), Answer(1.0, 2.0)],
    ):
        assert not has_likeliest(answers)
        with pytest.raises(InputRefused) as refused:
            likeliest_threshold(answers)
        assert refused.value.wanted == "want-overlap"


def test_a_no_click_above_a_click_at_another_level_makes_one() -> None:
    answers = [not_clicked(0.0), clicked(1.0), not_clicked(1.5), clicked(2.0)]
    assert has_likeliest(answers)
    assert 0 < likeliest_threshold(answers).mean < 2


def test_two_pours_apart_make_one() -> None:
    got = likeliest_threshold([Answer(0.0, 1.0), Answer(2.0, 3.0)])
    assert got.mean == pytest.approx(1.5, abs=1e-6)


def test_clicks_that_came_lower_than_the_no_clicks_make_none() -> None:
    """Ever larger scatter would be ever likelier."""
    assert not has_likeliest([clicked(0.0), not_clicked(1.0), clicked(2.0), not_clicked(3.0)])
    assert has_likeliest([not_clicked(0.0), clicked(1.0), not_clicked(2.0), clicked(3.0)])


def test_an_answer_counted_never_was_not_given() -> None:
    answers = [not_clicked(0.0), clicked(1.0), not_clicked(1.5), clicked(2.0)]
    assert not has_likeliest(answers, counts=[1, 1, 0, 1])
    assert likeliest_threshold([*answers, clicked(-9.0)], counts=[1, 1, 1, 1, 0]) == likeliest_threshold(
        answers
    )


def test_up_and_down_needs_both_outcomes() -> None:
    with pytest.raises(InputRefused) as refused:
        dixon_mood([1.0, 0.0, -1.0], [True, True, True], step=1)
    assert refused.value.wanted == "want-both-answers"


def test_below_six_answers_nothing_is_said_of_steadiness() -> None:
    assert steadiness([clicked(1.0), not_clicked(0.0)] * 2) is None


def test_a_steady_tool_is_steady() -> None:
    draw = np.random.default_rng(4)
    got = steadiness(guided(*draw.normal(0.4, 0.7, 20)))
    assert got is not None
    assert not got.is_drifting
    assert not got.is_changed


def test_a_strong_drift_is_noticed_with_its_sense() -> None:
    draw = np.random.default_rng(4)
    got = steadiness(guided(*(draw.normal(2.0 - 0.15 * i, 0.3) for i in range(30))))
    assert got is not None
    assert got.is_drifting or got.is_changed
    assert got.drift_percent < -0.05
    assert got.now_percent == pytest.approx(2.0 - 0.15 * 29, abs=3 * got.now_u_percent)


def test_the_slope_of_many_answers_is_that_of_the_likeliest_line() -> None:
    """Oracle: statsmodels' Probit of the click on level and trial; the threshold's slope is −b_trial/b_level.

    Two hundred answers leave the slope a place that is narrower than a step of the first grid.
    """
    draw = np.random.default_rng(6)
    levels = draw.choice(LEVELS[20:36], 200)
    trips = draw.normal(1.0 + 0.01 * np.arange(200), 0.8)
    said = trips <= levels
    terms = np.column_stack([np.ones(200), levels, np.arange(200)])
    fitted = Probit(said.astype(float), terms).fit(disp=0).params
    got = steadiness([clicked(x) if yes else not_clicked(x) for x, yes in zip(levels, said, strict=True)])
    assert got is not None
    assert got.drift_u_percent < 0.003
    assert got.drift_percent == pytest.approx(-fitted[2] / fitted[1], abs=got.drift_u_percent / 4)


def test_a_setup_changed_between_two_trials_is_noticed_with_its_place() -> None:
    """A direction of turning reversed by mistake, a mark confused: all at once otherwise."""
    before = [not_clicked(-0.5), clicked(0.5)] * 6
    after = [not_clicked(5.5), clicked(6.5)] * 6
    got = steadiness([*before, *after])
    assert got is not None
    assert got.is_changed
    assert not got.is_drifting
    assert abs(got.changed_after - 12) <= 1


def test_an_answer_that_the_others_would_not_have_expected_is_named() -> None:
    answers = [not_clicked(-1.0), clicked(0.5), not_clicked(5.0), not_clicked(-0.5), clicked(1.0)]
    least = least_fitting(answers)
    assert least is not None
    assert (least.place, least.is_odd) == (2, True)
    without = least_fitting([*answers[:2], *answers[3:]])
    assert without is not None
    assert not without.is_odd


def test_the_probability_of_an_answer_is_that_given_all_the_others() -> None:
    """Against the evidence with it over the evidence without it, summed on the grid itself."""
    answers = [not_clicked(-1.0), clicked(0.5), not_clicked(3.0), clicked(1.0)]
    grid = grid_for(answers)
    without = np.exp(grid.log_posterior([*answers[:2], answers[3]])).sum()
    least = least_fitting(answers)
    assert least is not None
    assert least.probability == pytest.approx(np.exp(grid.log_posterior(answers)).sum() / without)


def test_of_two_answers_none_is_the_odd_one() -> None:
    assert least_fitting([clicked(-5.0), not_clicked(9.0)]) is None


def test_a_wide_gap_is_still_mostly_what_is_usual() -> None:
    assert estimate_threshold([not_clicked(-58.0), clicked(141.0)]).is_mostly_usual
    assert not estimate_threshold([not_clicked(-2.0), clicked(2.0)]).is_mostly_usual
    assert not estimate_threshold([clicked(141.0)]).is_mostly_usual


def test_the_bracket_of_no_answers_is_open() -> None:
    assert bracket([]) == (-math.inf, math.inf)
