"""Thresholds from yes/no trials against published and independently computed values."""

import pytest

from printed import agrees
from steelyard.errors import InputRefused
from steelyard.readings.threshold import (
    Answer,
    Sides,
    clicked,
    dixon_mood,
    estimate_threshold,
    has_likeliest,
    likeliest_threshold,
    not_clicked,
)

# Gorla et al. 2017, table 9, as quoted by a public package: levels [kN], 1 = failed
GORLA_LEVELS = [35.0 + step for step in (1, 0, 1, 2, 3, 4, 3, 2, 3, 2, 1, 0, 1, 2, 1)]
GORLA_FAILED = [bool(int(sign)) for sign in "100001101110011"]
# Ekaputra et al. 2020, Open Engineering 10, 394: levels [MPa]; the order rebuilt from the published counts
EKAPUTRA_LEVELS = [260.0, 280, 300, 280, 300, 280, 300, 280, 260, 280, 260, 280]
EKAPUTRA_FAILED = [bool(int(sign)) for sign in "001010110100"]
# Bliss 1935, as in many public sources: log10 of the dose, beetles, beetles killed
BEETLE_LEVELS = [1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839]
BEETLES = [59, 60, 62, 56, 63, 59, 62, 60]
KILLED = [6, 13, 18, 28, 52, 53, 61, 60]


def answers(levels: list[float], responded: list[bool]) -> list[Answer]:
    return [clicked(x) if yes else not_clicked(x) for x, yes in zip(levels, responded, strict=True)]


def test_up_and_down_of_gorla_by_failures() -> None:
    # printed 36.63; exact 36.625, s 1.8441675, s/√N 0.652012, computed independently
    got = dixon_mood(GORLA_LEVELS, GORLA_FAILED, step=1, by_responses=True)
    agrees(got.mean, "36.63")
    agrees(got.mean, "36.625")
    agrees(got.s, "1.8441675")
    agrees(got.s / got.counted**0.5, "0.652012")
    assert (got.counted, got.s_is_guess) == (8, False)


def test_up_and_down_of_gorla_by_the_rarer_outcome() -> None:
    # the same data, the seven survivals: 36.785714, computed independently
    got = dixon_mood(GORLA_LEVELS, GORLA_FAILED, step=1)
    agrees(got.mean, "36.785714")
    assert got.counted == 7


def test_up_and_down_of_ekaputra_says_that_its_spread_is_a_guess() -> None:
    # printed: m 282 MPa, s 10.6 MPa = 0.53 · 20, ratio 0.24 below 0.3
    got = dixon_mood(EKAPUTRA_LEVELS, EKAPUTRA_FAILED, step=20)
    assert (got.mean, got.s) == pytest.approx((282, 10.6))
    assert got.s_is_guess


def test_up_and_down_on_three_levels() -> None:
    # hand case of a public test file: failures A 4, B 6, N 4, ratio 0.5
    levels = [260.0, 240, 220, 240, 260, 280, 260, 240, 260]
    failed = [bool(int(sign)) for sign in "110001100"]
    got = dixon_mood(levels, failed, step=20, by_responses=True)
    assert got.mean == pytest.approx(250)
    agrees(got.s, "17.1396")
    assert (got.counted, got.s_is_guess) == (4, False)


def test_likeliest_threshold_of_gorla() -> None:
    # computed independently by statsmodels Probit, surpyval and a direct maximum
    got = likeliest_threshold(answers(GORLA_LEVELS, GORLA_FAILED))
    assert got.mean == pytest.approx(36.529132, abs=1e-5)
    assert got.s == pytest.approx(2.111725, abs=1e-5)
    agrees(got.log_likelihood, "-9.236713363")
    assert got.mean_error == pytest.approx(0.726390, abs=1e-5)
    assert got.s_error == pytest.approx(1.491075, abs=1e-5)


def test_likeliest_threshold_of_the_beetles() -> None:
    # computed independently by statsmodels, scipy and surpyval to seven digits; −b₀/b₁ and 1/b₁ of the probit
    spared = [whole - some for whole, some in zip(BEETLES, KILLED, strict=True)]
    got = likeliest_threshold(
        [*map(clicked, BEETLE_LEVELS), *map(not_clicked, BEETLE_LEVELS)], counts=KILLED + spared
    )
    assert got.mean == pytest.approx(1.7708523622, rel=1e-7)
    assert got.s == pytest.approx(0.0506895445, rel=1e-7)
    assert got.mean == pytest.approx(34.93525890 / 19.72793421, rel=1e-7)
    assert got.s == pytest.approx(1 / 19.72793421, rel=1e-7)
    agrees(got.log_likelihood, "-185.679167")
    # se 0.003803337 there by the expected information; by the observed one it is 0.7 % less
    assert got.mean_error == pytest.approx(0.003803337, rel=0.03)


def test_no_likeliest_threshold_where_one_level_alone_is_mixed() -> None:
    # the supremum 2 ln ⅓ + 4 ln ⅔ lies at no scatter at all; computed independently
    given = answers(EKAPUTRA_LEVELS, EKAPUTRA_FAILED)
    assert not has_likeliest(given)
    with pytest.raises(InputRefused) as refused:
        likeliest_threshold(given)
    assert refused.value.wanted == "want-overlap"


def test_where_no_likeliest_exists_posterior_and_bracket_are_given() -> None:
    deviations = [100 * (level / 280 - 1) for level in EKAPUTRA_LEVELS]
    got = estimate_threshold(answers(deviations, EKAPUTRA_FAILED))
    assert (got.bracket_low_percent, got.bracket_high_percent) == (0.0, 0.0)
    assert got.sides is Sides.MIXED
    # up-and-down says 282, which is 0.7 % above; the posterior is to agree inside its own ±
    assert got.low_percent < 100 * (282 / 280 - 1) < got.high_percent
    assert 0.3 < got.u_percent < 2


def test_the_separated_part_of_those_trials_has_a_bracket_with_room() -> None:
    got = estimate_threshold(answers([-7.1, -7.1, 7.1], [False, False, True]))
    assert got.sides is Sides.SEPARATED
    assert (got.bracket_low_percent, got.bracket_high_percent) == (-7.1, 7.1)
    assert not has_likeliest(answers([-7.1, -7.1, 7.1], [False, False, True]))
