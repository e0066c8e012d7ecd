"""Laws of thresholds from yes/no trials: order, symmetry, scale, what tells nothing, what is enclosed."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from steelyard.readings.threshold import (
    Answer,
    Sides,
    bracket,
    clicked,
    dixon_mood,
    estimate_threshold,
    expected_gain,
    has_likeliest,
    likeliest_threshold,
    not_clicked,
    steadiness,
)

quick = settings(derandomize=True, max_examples=40, deadline=None)
few = settings(derandomize=True, max_examples=15, deadline=None)

levels = st.integers(-16, 16).map(lambda i: i / 2)
trials = st.one_of(
    levels.map(clicked),
    levels.map(not_clicked),
    st.tuples(levels, st.integers(1, 6)).map(lambda pair: Answer(pair[0], pair[0] + pair[1] / 2)),
)
several = st.lists(trials, min_size=1, max_size=10)
FIGURES = ("percent", "u_percent", "low_percent", "high_percent", "scatter_percent")


def mirrored(answer: Answer) -> Answer:
    return Answer(-answer.high_percent, -answer.low_percent)


def in_unit(answer: Answer, factor: float, shift: float) -> Answer:
    return Answer(answer.low_percent * factor + shift, answer.high_percent * factor + shift)


@quick
@given(several, st.randoms(use_true_random=False))
def test_the_order_of_the_answers_does_not_matter(answers: list[Answer], chance: "object") -> None:
    shuffled = sorted(answers, key=lambda a: (a.high_percent, a.low_percent), reverse=True)
    one, other = estimate_threshold(answers), estimate_threshold(shuffled)
    for name in FIGURES:
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-9)
    assert bracket(answers) == bracket(shuffled)


@quick
@given(several)
def test_the_mirror_image_has_the_mirrored_estimate(answers: list[Answer]) -> None:
    one, other = estimate_threshold(answers), estimate_threshold([mirrored(a) for a in answers])
    assert one.percent == pytest.approx(-other.percent, abs=1e-9)
    assert one.low_percent == pytest.approx(-other.high_percent, abs=1e-6)
    assert one.u_percent == pytest.approx(other.u_percent, abs=1e-9)
    assert (one.bracket_low_percent, one.bracket_high_percent) == pytest.approx(
        (-other.bracket_high_percent, -other.bracket_low_percent)
    )


@quick
@given(several, trials)
def test_an_answer_struck_out_is_as_if_never_given(answers: list[Answer], struck: Answer) -> None:
    """An estimate keeps nothing from the one before."""
    never = estimate_threshold(answers)
    estimate_threshold([*answers, struck])
    again = estimate_threshold([*answers, struck][:-1])
    assert [getattr(again, name) for name in FIGURES] == [getattr(never, name) for name in FIGURES]
    assert np.array_equal(again.weights, never.weights)


@quick
@given(several)
def test_a_click_far_above_tells_nothing(answers: list[Answer]) -> None:
    one, other = estimate_threshold(answers), estimate_threshold([*answers, clicked(math.inf)])
    for name in FIGURES:
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-9)
    assert expected_gain(answers, [1e6])[0] == pytest.approx(0.0, abs=1e-9)


@quick
@given(several, levels)
def test_another_click_never_raises_the_estimate_and_no_click_never_lowers_it(
    answers: list[Answer], level: float
) -> None:
    assume(abs(level) < 8)
    now = estimate_threshold(answers).percent
    assert estimate_threshold([*answers, clicked(level)]).percent <= now + 0.02
    assert estimate_threshold([*answers, not_clicked(level)]).percent >= now - 0.02


@quick
@given(several)
def test_the_interval_lies_about_the_estimate(answers: list[Answer]) -> None:
    got = estimate_threshold(answers)
    assert got.low_percent < got.percent < got.high_percent
    assert got.u_percent > 0
    assert got.weights.sum() == pytest.approx(1)
    assert got.quantile(0.025) == pytest.approx(got.low_percent)


@quick
@given(levels, st.integers(2, 8), st.integers(1, 3))
def test_the_interval_reaches_into_the_bracket_of_separated_answers(
    low: float, room: int, times: int
) -> None:
    """Between the bracket's ends only what is usual speaks: the interval never misses it."""
    high = low + room / 2
    got = estimate_threshold([*[not_clicked(low)] * times, *[clicked(high)] * times])
    assert got.sides is Sides.SEPARATED
    assert got.low_percent < high
    assert got.high_percent > low
    assert (got.bracket_low_percent, got.bracket_high_percent) == (low, high)


@quick
@given(st.lists(levels, min_size=1, max_size=8))
def test_one_side_alone_is_a_bound_and_no_estimate(at: list[float]) -> None:
    above, below = estimate_threshold(list(map(clicked, at))), estimate_threshold(list(map(not_clicked, at)))
    assert (above.sides, below.sides) == (Sides.ONLY_CLICKS, Sides.ONLY_NO_CLICKS)
    assert not above.is_two_sided
    assert not below.is_two_sided
    assert math.isinf(above.bracket_low_percent)
    assert above.bracket_high_percent == min(at)
    assert math.isinf(below.bracket_high_percent)
    assert below.bracket_low_percent == max(at)


@quick
@given(several, st.lists(levels, min_size=1, max_size=6))
def test_no_trial_is_expected_to_blunt_the_threshold(answers: list[Answer], tried: list[float]) -> None:
    gain = expected_gain(answers, tried)
    assert (gain > -1e-9).all()
    assert (gain <= math.log(2) + 1e-9).all()


@few
@given(several, st.floats(0.1, 100), st.floats(-500, 500))
def test_the_likeliest_threshold_goes_with_the_unit(
    answers: list[Answer], factor: float, shift: float
) -> None:
    assume(has_likeliest(answers))
    one = likeliest_threshold(answers)
    assume(one.s < 50)
    other = likeliest_threshold([in_unit(a, factor, shift) for a in answers])
    assert other.mean == pytest.approx(one.mean * factor + shift, rel=1e-5, abs=1e-5 * factor * max(one.s, 1))
    assert other.s == pytest.approx(one.s * factor, rel=1e-5)
    assert other.log_likelihood == pytest.approx(one.log_likelihood, abs=1e-8)


@few
@given(several, st.integers(2, 5))
def test_answers_counted_are_answers_repeated(answers: list[Answer], times: int) -> None:
    assume(has_likeliest(answers))
    counted = likeliest_threshold(answers, counts=[times] * len(answers))
    repeated = likeliest_threshold(answers * times)
    assert counted.mean == pytest.approx(repeated.mean, rel=1e-6, abs=1e-6)
    assert counted.s_error == pytest.approx(repeated.s_error, rel=1e-4)
    assert counted.log_likelihood == pytest.approx(times * likeliest_threshold(answers).log_likelihood)


@quick
@given(st.lists(st.tuples(st.integers(-4, 4), st.booleans()), min_size=2, max_size=20), st.floats(0.1, 10))
def test_up_and_down_goes_with_the_unit_and_the_mirror(run: list[tuple[int, bool]], step: float) -> None:
    assume(len({yes for _, yes in run}) == 2)
    at, yes = [float(i) for i, _ in run], [y for _, y in run]
    one = dixon_mood(at, yes, step=1, by_responses=True)
    other = dixon_mood([step * x + 3 for x in at], yes, step=step, by_responses=True)
    assert (other.mean, other.s) == pytest.approx((step * one.mean + 3, step * one.s))
    turned = dixon_mood([-x for x in at], [not y for y in yes], step=1, by_responses=False)
    assert (turned.mean, turned.s) == pytest.approx((-one.mean, one.s))


@few
@given(st.lists(st.one_of(levels.map(clicked), levels.map(not_clicked)), min_size=6, max_size=10))
def test_the_mirror_image_drifts_the_other_way(answers: list[Answer]) -> None:
    one, other = steadiness(answers), steadiness([mirrored(a) for a in answers])
    assert one is not None
    assert other is not None
    assert one.drift_percent == pytest.approx(-other.drift_percent, abs=1e-6)
    assert one.now_percent == pytest.approx(-other.now_percent, abs=1e-6)
    same = replace(other, drift_percent=one.drift_percent, now_percent=one.now_percent)
    assert (one.drift_probability, one.change_probability) == pytest.approx(
        (same.drift_probability, same.change_probability), abs=1e-6
    )
