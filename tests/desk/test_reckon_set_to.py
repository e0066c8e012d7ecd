"""What to set on a checked tool, and which of several tools to take."""

import math
from datetime import date

import pytest

from forms import ADAPTER, DRUM, HUNG, changed
from steelyard.desk import judge_check
from steelyard.desk.checked_curve import checked_curve, is_old, set_to
from steelyard.desk.reckon import Answer, reckon_choose, reckon_set_to
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_quantity
from steelyard.words import say

TODAY = date(2026, 11, 25)
LOW = """
[[point]]
target = "20 N·m"
pulls = "19.6 19.7 19.5 19.7 19.6 N·m"
"""
MIDDLE = """
[[point]]
target = "60 N·m"
pulls = "58.9 59.2 58.8 59.1 59.0 N·m"
"""
THREE = changed(ADAPTER, "percent = 4", "percent = 6") + LOW + MIDDLE


def spoken(answer: Answer) -> str:
    said = [say(code, **facts) for code, facts in answer.lines]
    return "\n".join([*said, *(say(each.code, **each.facts) for each in answer.findings)])


def value(answer: Answer, key: str) -> float:
    return float(answer.numbers[key])


def card(text: str = THREE, want: str = "70 N·m", *, today: date = TODAY) -> Answer:
    return reckon_set_to(text.encode(), want=want, today=today)


def codes(answer: Answer) -> list[str]:
    return [code for code, _ in answer.lines]


def test_the_setting_lies_on_the_line_between_the_points() -> None:
    # d at 60: mean of 60/x − 1 of the pulls; at 100 the same; X = T(1 + d(X)), solved by steps
    at_60 = math.fsum(60 / x - 1 for x in (58.9, 59.2, 58.8, 59.1, 59.0)) / 5
    at_100 = math.fsum(100 / x - 1 for x in (96.1, 97.0, 96.6, 96.8, 96.5)) / 5
    setting = 70.0
    for _ in range(50):
        setting = 70 * (1 + at_60 + (at_100 - at_60) * (setting - 60) / 40)
    answer = card()
    assert value(answer, "exact_setting_newton_metre") == pytest.approx(setting, rel=1e-6)
    assert value(answer, "setting_newton_metre") == pytest.approx(round(setting * 2) / 2)


def test_both_settings_are_said() -> None:
    answer = card()
    text = spoken(answer)
    assert text.startswith("Set T-04 to 71.5 N·m for 70 N·m (exactly 71.56 N·m).\n")
    assert "By the check of T-04 on 2026-11-20, cw: in." in text


def test_at_a_checked_point_the_plus_minus_is_that_of_the_check() -> None:
    judged = judge_check(THREE.encode())
    middle = judged.points[2].result.iso
    torque = 60 / (1 + middle.percent / 100)
    got = set_to(
        checked_curve(judged, None), read_quantity(f"{torque:.12f} N·m", Dimension.TORQUE, field="t")
    )
    percent = 100 * got.rounded.expanded_newton_metre / torque
    assert got.rounded.shown_newton_metre == 60
    assert percent == pytest.approx(middle.expanded_percent / (1 + middle.percent / 100), rel=0.1)


def test_a_single_pull_scatters_beyond_the_mean() -> None:
    answer = card()
    # s of the pulls at 100, the larger scatter, t(4) at 95 % 2.776 (JCGM 100:2008 table G.2)
    readings = (96.1, 97.0, 96.6, 96.8, 96.5)
    mean = math.fsum(readings) / 5
    scatter = 2.776 * math.sqrt(math.fsum((x - mean) ** 2 for x in readings) / 4) / mean
    mean_only, torque = value(answer, "torque_within_newton_metre"), value(answer, "torque_newton_metre")
    expected = math.hypot(mean_only, scatter * torque)
    assert value(answer, "single_pull_within_newton_metre") == pytest.approx(expected, rel=1e-3)


def test_the_plus_minus_is_wider_between_points_than_at_them() -> None:
    pulls = "96.1 97.0 96.6 96.8 96.5 N·m"
    steep = changed(THREE, pulls, "104.1 105.0 104.6 104.8 104.5 N·m")

    def ratio(want: str) -> float:
        answer = card(steep, want)
        return value(answer, "torque_within_newton_metre") / value(answer, "torque_newton_metre")

    assert ratio("80 N·m") > 1.5 * max(ratio("59 N·m"), ratio("104 N·m"))


@pytest.mark.parametrize("want", ["19 N·m", "97 N·m", "5 N·m"])
def test_nothing_is_said_outside_the_checked_range(want: str) -> None:
    with pytest.raises(InputRefused, match=r"a torque from 19\.6\d N·m to 96\.\d+ N·m") as refused:
        card(want=want)
    assert refused.value.field == "--want"


def test_the_ends_that_a_refusal_names_are_accepted() -> None:
    with pytest.raises(InputRefused) as refused:
        card(want="5 N·m")
    for end in ("lowest", "highest"):
        got = value(card(want=str(refused.value.facts[end])), "setting_newton_metre")
        assert 20 <= got <= 100


def test_a_check_serves_for_twelve_months() -> None:
    card(today=date(2027, 11, 20))
    with pytest.raises(InputRefused, match="not older than 12 months on 2027-11-21; check the tool again"):
        card(today=date(2027, 11, 21))
    with pytest.raises(InputRefused, match="a day not before the check, 2026-11-20"):
        card(today=date(2026, 11, 19))


def test_a_leap_day_has_its_year_too() -> None:
    assert not is_old(date(2024, 2, 29), today=date(2025, 2, 28))
    assert is_old(date(2024, 2, 29), today=date(2025, 3, 1))


def test_a_neighbour_that_was_out_is_a_finding() -> None:
    out = changed(THREE, "96.1 97.0 96.6 96.8 96.5", "90.1 91.0 90.6 90.8 90.5")
    answer = card(out)
    assert answer.findings[0].code == "reckon-set-to-point-out"
    assert "The tool was out at 100 N·m cw: have it put right" in spoken(answer)
    assert "100 N·m" not in spoken(card(out, "40 N·m"))


def test_a_tool_that_shows_is_pulled_until_it_shows() -> None:
    shows = changed(THREE, 'kind = "click-adjustable"', 'kind = "electronic"')
    assert spoken(card(shows)).startswith("Pull until T-04 shows 71.5 N·m for 70 N·m")


UNFIT = (
    (ADAPTER, "70 N·m", "check form"),  # one point only
    (DRUM, "5 N·m", "check form"),  # a preset driver
    (THREE, "0 N·m", "--want"),
    (THREE, "70", "--want"),
    (changed(THREE, "58.9 59.2 58.8 59.1 59.0", "98.9 99.2 98.8 99.1 99.0"), "70 N·m", "check form"),
)


@pytest.mark.parametrize(("text", "want", "field"), UNFIT)
def test_what_cannot_be_set_is_refused(text: str, want: str, field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        card(text, want)
    assert refused.value.field == field


def test_a_direction_that_the_tool_has_not_is_refused() -> None:
    with pytest.raises(InputRefused) as refused:
        reckon_set_to(THREE.encode(), want="70 N·m", today=TODAY, direction="ccw")
    assert refused.value.field == "--direction"


def numbered(text: str, number: str) -> str:
    return changed(text, "T-04", number)


ROUGH = numbered(changed(THREE, 'stated_of_reading = "0.5 %"', 'stated_of_reading = "1 %"'), "T-05")


def choose(*texts: str, want: str = "70 N·m", today: date = TODAY) -> Answer:
    return reckon_choose([text.encode() for text in texts], want=want, today=today)


def test_the_tool_known_best_is_taken() -> None:
    answer = choose(ROUGH, THREE)
    assert answer.numbers["tool"] == "T-04"
    text = spoken(answer)
    assert text.startswith("Take T-04 and set it to 71.5 N·m for 70 N·m")
    assert "T-05 would do too, with a wider ±" in text
    same = card()
    assert value(answer, "torque_within_newton_metre") == value(same, "torque_within_newton_metre")


LEFT = (
    (changed(ROUGH, "96.1 97.0 96.6 96.8 96.5", "90.1 91.0 90.6 90.8 90.5"), "reckon-choose-not-out"),
    (changed(ROUGH, "percent = 6", "percent = 3.5"), "reckon-choose-not-cant-tell"),
    (changed(ROUGH, "2026-11-20", "2025-11-20"), "reckon-choose-not-fresh"),
    (changed(ROUGH, "2026-11-20", "2026-11-26"), "reckon-choose-not-yet"),
    (
        changed(ROUGH, 'highest = "100 N·m"', 'highest = "400 N·m"'),
        "reckon-choose-not-range",
    ),
    (numbered(ADAPTER, "T-06").replace("percent = 4", "percent = 6"), "reckon-choose-not-able"),
    (changed(THREE, "2026-11-20", "2026-11-19"), "reckon-choose-not-last"),
)


@pytest.mark.parametrize(("other", "code"), LEFT, ids=[code for _, code in LEFT])
def test_why_a_tool_is_not_taken_is_said(other: str, code: str) -> None:
    answer = choose(other, THREE)
    assert answer.numbers["tool"] == "T-04"
    assert codes(answer)[-1] == code


def test_a_bad_check_is_not_outlived_by_an_older_good_one() -> None:
    out = changed(THREE, "96.1 97.0 96.6 96.8 96.5", "90.1 91.0 90.6 90.8 90.5")
    answer = choose(changed(THREE, "2026-11-20", "2026-11-19"), out)
    assert codes(answer) == ["reckon-choose-none", "reckon-choose-not-last", "reckon-choose-not-out"]
    assert answer.numbers == {}


def test_outside_the_checked_range_no_tool_is_taken() -> None:
    answer = choose(THREE, want="98 N·m")
    assert codes(answer) == ["reckon-choose-none", "reckon-choose-not-able"]
    assert "where this tool was checked" in spoken(answer)


def test_a_form_that_cannot_be_read_is_named_by_its_place() -> None:
    with pytest.raises(InputRefused) as refused:
        choose(THREE, changed(HUNG, 'number = "T-01"\n', ""))
    assert refused.value.field == "check form 2, tool.number"
