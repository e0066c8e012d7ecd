"""A point judged from yes/no answers: its interval, what the kit adds, what one side proves."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from steelyard.evaluation import (
    Cause,
    Enough,
    Judged,
    PointCase,
    Rule,
    Verdict,
    enough,
    evaluate_point,
    raw_at,
)
from steelyard.quantities import Line, Shape
from steelyard.readings.threshold import Answer, clicked, estimate_threshold, not_clicked
from steelyard.rigs import Reference
from steelyard.tools import Measure

DRAWS = 20_000
MIXED = (
    clicked(2.5),
    not_clicked(1.0),
    clicked(1.5),
    not_clicked(0.5),
    clicked(2.0),
    not_clicked(1.5),
    clicked(1.0),
    not_clicked(0.0),
)


def lever(_maths: Any, raw: Any, error: Any) -> Any:
    """20 N·m per kilogram, everything about the kit in one relative error."""
    return 20 * raw * (1 + error)


def case(answers: tuple[Answer, ...], *, kit: float = 0.0, measure: Measure = Measure.ISO) -> PointCase:
    """A point at 100 N·m, limit 4 %; kit: standard uncertainty. [1]"""
    return PointCase(
        target_newton_metre=100.0,
        direction="cw",
        raws=(5.0,) * len(answers),
        shown=(100.0,) * len(answers),
        half_steps=(0.0,) * len(answers),
        reference=Reference(lever, (Line("arm", 0.0, kit, Shape.NORMAL),)),
        tool_lines=(),
        setting_step_ratio=0.0,
        full_scale_newton_metre=100.0,
        measure=measure,
        limit_percent=Decimal(4),
        answers=answers,
    )


def test_without_a_kit_error_the_interval_is_the_posteriors_own() -> None:
    found = estimate_threshold(MIXED)
    result = evaluate_point(case(MIXED, measure=Measure.APPLIED), rule=Rule.GUARDED, seed=1, draws=200_000)
    assert result.counted.percent == pytest.approx(found.percent, abs=0.02)
    assert result.counted.low_percent == pytest.approx(found.low_percent, abs=0.06)
    assert result.counted.high_percent == pytest.approx(found.high_percent, abs=0.06)


def test_what_bolts_get_more_is_less_in_the_iso_measure() -> None:
    result = evaluate_point(case(MIXED), rule=Rule.GUARDED, seed=1, draws=DRAWS)
    assert result.bolts_get_percent > 0 > result.iso.percent
    assert result.iso.percent == pytest.approx(-result.bolts_get_percent, abs=0.05)


def test_the_error_that_all_loads_share_is_added_in_quadrature() -> None:
    alone = evaluate_point(case(MIXED), rule=Rule.GUARDED, seed=1, draws=DRAWS).iso
    shared = evaluate_point(case(MIXED, kit=0.005), rule=Rule.GUARDED, seed=1, draws=DRAWS).iso
    assert alone.u_percent is not None and shared.u_percent is not None
    assert shared.u_percent == pytest.approx((alone.u_percent**2 + 0.5**2) ** 0.5, rel=0.01)
    assert shared.expanded_kit_percent == pytest.approx(1.96 * 0.5, rel=0.05)


def test_the_interval_holds_the_truth_where_the_kit_errs_too() -> None:
    # common error of 0.3 % and 0.2 % from load to load; own simulation, 300 tools, 2.6 standard errors
    dice = np.random.default_rng(5)
    held = 0
    for _ in range(300):
        truth, scatter, error = dice.normal(0, 2), dice.choice([0.3, 0.7, 1.0]), dice.normal(0, 0.3)
        level, answers = 0.0, []
        for _ in range(12):
            load = level + dice.normal(0, 0.2)
            answer = dice.normal(truth, scatter) <= load + error
            answers.append(clicked(level) if answer else not_clicked(level))
            level += -0.75 if answer else 0.75
        result = evaluate_point(
            case(tuple(answers), kit=0.003, measure=Measure.APPLIED), rule=Rule.GUARDED, seed=1, draws=4_000
        )
        held += result.counted.low_percent <= truth <= result.counted.high_percent
    assert 0.915 <= held / 300 <= 0.99


@pytest.mark.parametrize(
    ("answers", "verdict", "cause"),
    [
        ((not_clicked(1.0), not_clicked(3.0)), Verdict.CANT_TELL, Cause.NEVER_CLICKED),
        ((clicked(1.0), clicked(-3.0)), Verdict.CANT_TELL, Cause.ALWAYS_CLICKED),
        ((not_clicked(1.0), not_clicked(8.0)), Verdict.CANT_TELL, Cause.NEVER_CLICKED),
        ((not_clicked(7.0), not_clicked(8.0)), Verdict.OUT, Cause.NEVER_CLICKED),
        ((clicked(-7.0), clicked(-8.0)), Verdict.OUT, Cause.ALWAYS_CLICKED),
    ],
)
def test_one_side_alone_is_never_in(answers: tuple[Answer, ...], verdict: Verdict, cause: Cause) -> None:
    for rule in Rule:
        judged = evaluate_point(case(answers, kit=0.002), rule=rule, seed=1, draws=DRAWS).judged
        assert judged.verdict in (verdict, Verdict.CANT_TELL, Verdict.OUT)
        assert judged.verdict is not Verdict.IN
    judged = evaluate_point(case(answers, kit=0.002), rule=Rule.GUARDED, seed=1, draws=DRAWS).judged
    assert (judged.verdict, judged.cause) == (verdict, cause)


def test_a_single_trip_far_outside_the_limit_keeps_a_tool_from_being_in() -> None:
    good = (*MIXED, *MIXED)
    assert evaluate_point(case(good, kit=0.001), rule=Rule.GUARDED, seed=1, draws=DRAWS).judged.verdict is (
        Verdict.IN
    )
    odd = evaluate_point(case((*good, not_clicked(4.5)), kit=0.001), rule=Rule.GUARDED, seed=1, draws=DRAWS)
    assert odd.judged.verdict is not Verdict.IN


def test_few_answers_are_named_as_the_cause() -> None:
    few = evaluate_point(
        case((not_clicked(-3.0), clicked(3.0)), kit=0.001), rule=Rule.GUARDED, seed=1, draws=DRAWS
    )
    assert (few.judged.verdict, few.judged.cause) == (Verdict.CANT_TELL, Cause.FEW_ANSWERS)


def moved(by: float, times: int) -> tuple[Answer, ...]:
    return times * tuple(Answer(a.low_percent + by, a.high_percent + by) for a in MIXED)


def test_an_interval_barely_inside_is_not_in_before_more_answers_say_so() -> None:
    """Own rule: who looks after each answer gives chance many tries; see `steelyard simulate threshold`."""
    eight = evaluate_point(case(moved(0.8, 1), kit=0.0001), rule=Rule.GUARDED, seed=1, draws=DRAWS)
    assert eight.counted.low_percent > -4.0
    assert (eight.judged.verdict, eight.judged.cause) == (Verdict.CANT_TELL, Cause.FEW_ANSWERS)
    more = evaluate_point(case(moved(0.8, 2), kit=0.0001), rule=Rule.GUARDED, seed=1, draws=DRAWS)
    assert more.judged.verdict is Verdict.IN


def test_what_the_kit_adds_is_not_widened_for_in() -> None:
    got = evaluate_point(case(moved(0.8, 6), kit=0.01), rule=Rule.GUARDED, seed=1, draws=DRAWS)
    assert -4.0 < got.counted.low_percent < -3.8
    assert got.judged.verdict is Verdict.IN


def test_before_six_answers_nothing_is_in() -> None:
    # the worst case: clicks and no-clicks far apart, which a prior alone would call in after two answers
    for count in range(2, 6):
        answers = [not_clicked(-3.0), clicked(3.0)] * count
        judged = evaluate_point(
            case(tuple(answers[:count]), kit=0.0001), rule=Rule.PROBABILITY, seed=1, draws=DRAWS
        ).judged
        assert (judged.verdict, judged.cause) == (Verdict.CANT_TELL, Cause.FEW_ANSWERS)


def test_the_load_that_makes_a_torque_is_found() -> None:
    assert raw_at(case(MIXED).reference, 103.0, 4.0) == pytest.approx(5.15)


def test_more_trials_would_not_change_a_verdict_far_from_the_limit() -> None:
    found = estimate_threshold(MIXED)
    inside, unsure = Judged(Verdict.IN, Cause.INSIDE), Judged(Verdict.CANT_TELL, Cause.KIT)
    assert enough(found, inside, kit_percent=0.5, limit_percent=4.0) is Enough.VERDICT
    assert enough(found, inside, kit_percent=0.5, limit_percent=1.9) is None
    assert enough(found, unsure, kit_percent=5.0, limit_percent=4.0) is Enough.KIT
    assert enough(found, unsure, kit_percent=20.0, limit_percent=None) is Enough.FINE
    few = estimate_threshold(MIXED[:5])
    assert enough(few, unsure, kit_percent=5.0, limit_percent=4.0) is None


def test_one_wrong_answer_makes_a_contradiction_and_never_enough() -> None:
    slip = (not_clicked(2.0), not_clicked(5.0), not_clicked(6.5), clicked(-73.9))
    found = estimate_threshold((*slip, *MIXED))
    assert found.is_contradictory
    assert (
        enough(found, Judged(Verdict.OUT, Cause.INTERVAL_OUTSIDE), kit_percent=0.5, limit_percent=4.0) is None
    )
    assert not estimate_threshold(MIXED).is_contradictory


def test_one_answer_alone_never_proves_a_tool_out() -> None:
    one = evaluate_point(case((*MIXED, not_clicked(6.0)), kit=0.001), rule=Rule.GUARDED, seed=1, draws=DRAWS)
    assert one.judged.verdict is Verdict.CANT_TELL
    two = case((*MIXED, not_clicked(6.0), not_clicked(6.0)), kit=0.001)
    judged = evaluate_point(two, rule=Rule.GUARDED, seed=1, draws=DRAWS).judged
    assert (judged.verdict, judged.cause) == (Verdict.OUT, Cause.PULL_OUTSIDE)
    assert (
        enough(estimate_threshold(two.answers), judged, kit_percent=0.2, limit_percent=4.0) is Enough.VERDICT
    )


def test_one_side_alone_is_never_enough() -> None:
    one = estimate_threshold((clicked(-9.0),) * 9)
    assert enough(one, Judged(Verdict.OUT, Cause.ALWAYS_CLICKED), kit_percent=0.1, limit_percent=4.0) is None


def test_a_case_without_answers_has_no_threshold() -> None:
    assert replace(case(MIXED), answers=()).threshold is None
