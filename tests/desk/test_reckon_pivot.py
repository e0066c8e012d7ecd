"""Where the pivot lies, from loads at two marks."""

import math

import pytest

from steelyard.desk.reckon import Answer, reckon_pivot
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_within
from steelyard.words import say

K = 1.959963984540054  # two-sided 95 % quantile of the normal distribution
# a pivot at 28 mm: 25 kg · 272 mm = 15.384615… kg · 442 mm, own arithmetic
CLEAR = {
    "near_load": "25 kg ± 20 g",
    "near_arm": "300 mm ± 0.5 mm",
    "far_load": "15.384615 kg ± 20 g",
    "far_arm": "470 mm ± 0.5 mm",
}
ALIKE = CLEAR | {
    "near_arm": "430 mm ± 1 mm",
    "far_load": "24.4 kg ± 20 g",
    "far_arm": "440 mm ± 1 mm",
}


def spoken(answer: Answer) -> str:
    said = [say(code, **facts) for code, facts in answer.lines]
    return "\n".join([*said, *(say(each.code, **each.facts) for each in answer.findings)])


def value(answer: Answer, key: str) -> float:
    return float(answer.numbers[key])


def test_the_loads_alone_give_the_pivot_with_first_order_plus_minus() -> None:
    answer = reckon_pivot(**CLEAR)
    assert value(answer, "ratio_pivot_metre") == pytest.approx(0.028, abs=1e-7)
    # ∂p/∂F1 = (L1 − p)/ΔF, ∂p/∂F2 = (L2 − p)/ΔF, ∂p/∂L1 = F1/ΔF, ∂p/∂L2 = F2/ΔF
    difference = 25 - 15.384615
    parts = (0.272 * 0.02, 0.442 * 0.02, 25 * 0.0005, 15.384615 * 0.0005)
    expected = K * math.hypot(*parts) / math.sqrt(3) / difference
    assert value(answer, "ratio_pivot_within_metre") == pytest.approx(expected, rel=1e-6)


def test_a_clear_measurement_is_hardly_moved_by_what_was_thought_before() -> None:
    answer = reckon_pivot(**CLEAR)
    within = value(answer, "ratio_pivot_within_metre")
    assert value(answer, "pivot_metre") == pytest.approx(0.028, abs=2e-5)
    assert value(answer, "pivot_low_metre") == pytest.approx(0.028 - within, abs=5e-5)
    assert value(answer, "pivot_high_metre") == pytest.approx(0.028 + within, abs=5e-5)


def test_what_to_write_into_the_form_has_the_same_spread_as_a_rectangle() -> None:
    answer = reckon_pivot(**CLEAR)
    text = spoken(answer)
    assert 'tool.pivot = "28.0 mm ± 1.9 mm"' in text
    spread = value(answer, "pivot_form_within_metre") / math.sqrt(3)
    assert spread == pytest.approx(value(answer, "ratio_pivot_within_metre") / K, rel=0.01)


def test_a_pivot_near_the_drive_is_never_below_zero() -> None:
    answer = reckon_pivot(**CLEAR | {"far_load": "15.97 kg ± 20 g"})
    assert value(answer, "ratio_pivot_metre") < 0
    assert 0 < value(answer, "pivot_low_metre") < value(answer, "pivot_metre")
    text = spoken(answer)
    written = text.partition('tool.pivot = "')[2].partition('"')[0]
    middle, half = read_within(written, Dimension.LENGTH, field="tool.pivot")
    assert half is not None
    assert middle.exact == half.exact > 0


def test_loads_that_are_too_alike_are_said_to_tell_nothing() -> None:
    answer = reckon_pivot(**ALIKE)
    text = spoken(answer)
    assert text.startswith("The two loads are too alike to tell")
    assert "Write into the form" not in text
    assert "pivot_form_metre" not in answer.numbers
    assert value(answer, "pivot_high_metre") - value(answer, "pivot_low_metre") > 0.8 * 0.038


@pytest.mark.parametrize("far_load", ["18.4 kg ± 20 g", "13.5 kg ± 20 g"])
def test_loads_that_no_pivot_fits_give_none(far_load: str) -> None:  # about −170 mm, about +97 mm
    answer = reckon_pivot(**CLEAR | {"far_load": far_load})
    assert [each.code for each in answer.findings][0] == "reckon-pivot-outside"
    assert not any(key.startswith("pivot_") for key in answer.numbers)


PIVOTS = (
    ({"near_load": None}, "--near-load"),
    ({"near_load": "0 kg"}, "--near-load"),
    ({"near_load": "15 kg ± 20 g"}, "--near-load"),
    ({"far_load": "25 kg ± 20 g"}, "--near-load"),
    ({"near_arm": "40 mm"}, "--near-arm"),
    ({"far_arm": "300 mm"}, "--far-arm"),
    ({"far_arm": None}, "--far-arm"),
    (
        {"near_load": "25 kg", "near_arm": "300 mm", "far_load": "15 kg", "far_arm": "470 mm"},
        "--near-load",
    ),
)


@pytest.mark.parametrize(("change", "field"), PIVOTS)
def test_a_pivot_that_cannot_be_reckoned_is_refused(change: dict[str, str | None], field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        reckon_pivot(**CLEAR | change)
    assert refused.value.field == field
