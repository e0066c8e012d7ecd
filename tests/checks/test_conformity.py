"""Decision rules against JCGM 106, ILAC-G8, and the sign table of two conventions."""

import math
from decimal import Decimal

import pytest
from scipy.stats import norm

from printed import agrees
from steelyard.evaluation import Cause, Evidence, Rule, Verdict, deviation, judge_point, monte_carlo
from steelyard.quantities import Line, Shape
from steelyard.tools import Measure

DRAWS = 400_000


@pytest.mark.parametrize(
    ("value", "u", "low", "high", "inside"),
    [
        (-5.47, 0.05, -math.inf, -5.40, "0.92"),  # JCGM 106:2012, Zener diode example; from memory
        (509.0, 8.6, 490.0, math.inf, "0.986"),  # JCGM 106:2012, burst strength; from memory, inputs unsure
        (13.6, 1.8, 12.5, 16.3, "0.66"),  # JCGM 106:2012, oil viscosity; from memory
    ],
)
def test_probability_of_conformity(value: float, u: float, low: float, high: float, inside: str) -> None:
    from steelyard.evaluation.monte_carlo import sample

    drawn = sample(lambda _maths, x: x, [Line("x", value, u, Shape.NORMAL)], seed=1, draws=DRAWS)
    share = float(((drawn >= low) & (drawn <= high)).mean())
    agrees(norm.cdf((high - value) / u) - norm.cdf((low - value) / u), inside)
    assert share == pytest.approx(norm.cdf((high - value) / u) - norm.cdf((low - value) / u), abs=3e-3)


def test_a_tool_on_the_guarded_limit_is_falsely_passed_in_under_two_and_a_half_percent() -> None:
    # ILAC-G8:09/2019 table 1, w = U: specific risk < 2.5 %; seen in a secondary source
    drawn = monte_carlo(lambda _maths, x: x, [Line("x", 0.0, 1.0, Shape.NORMAL)], seed=1, draws=DRAWS)
    risk = 1 - norm.cdf(drawn.high)  # of a truth on the limit, measured exactly U inside it
    assert risk == pytest.approx(0.025, abs=1e-3)


@pytest.mark.parametrize(
    ("shown", "true", "iso", "applied"),
    [
        (100.0, 104.0, "-3.846154", "4.000000"),
        (100.0, 96.0, "4.166667", "-4.000000"),
        (100.0, 96.153846, "4.000000", "-3.846154"),
        (50.0, 51.2, "-2.343750", "2.400000"),
    ],
)
def test_the_two_conventions(shown: float, true: float, iso: str, applied: str) -> None:
    # ISO 6789-2:2017 5.1 (from memory) and SAE AS28431A (seen in a secondary source); [calc]
    agrees(100 * float(deviation(Measure.ISO, shown, true, full_scale=100.0)), iso)
    agrees(100 * float(deviation(Measure.APPLIED, shown, true, full_scale=100.0)), applied)


def evidence(
    d: float, expanded: float, pulls: tuple[float, ...] | None = None, kit: float | None = None
) -> Evidence:
    return Evidence(d - expanded, d + expanded, pulls or (d, d), expanded, kit or expanded, 0.5)


FOUR = Decimal(4)


@pytest.mark.parametrize(
    ("d", "verdict"),
    [(3.52, Verdict.CANT_TELL), (2.1, Verdict.IN), (5.26, Verdict.OUT), (-5.26, Verdict.OUT)],
)
def test_the_guarded_rule(d: float, verdict: Verdict) -> None:
    # own worked example: U 0.9 %, limit 4 %
    assert judge_point(Rule.GUARDED, evidence(d, 0.9), limit_percent=FOUR).verdict is verdict


def test_exactly_on_the_limit_is_inside() -> None:
    on = float(deviation(Measure.APPLIED, 100.0, 96.0, full_scale=100.0)) * 100
    assert judge_point(Rule.SIMPLE, evidence(on, 0.5), limit_percent=FOUR).verdict is Verdict.IN
    iso = float(deviation(Measure.ISO, 100.0, 96.0, full_scale=100.0)) * 100
    assert judge_point(Rule.SIMPLE, evidence(iso, 0.5), limit_percent=FOUR).verdict is Verdict.OUT


def test_one_pull_far_outside_is_out_though_the_mean_is_not() -> None:
    pulls = (2.0, 2.0, 5.0)
    far = judge_point(Rule.GUARDED, evidence(3.0, 0.9, pulls, 0.5), limit_percent=FOUR)
    assert far == type(far)(Verdict.OUT, Cause.PULL_OUTSIDE)
    near = judge_point(Rule.GUARDED, evidence(3.0, 0.9, (2.6, 2.6, 4.2), 0.5), limit_percent=FOUR)
    assert near.verdict is Verdict.CANT_TELL


def test_the_other_rules() -> None:
    coarse = evidence(1.0, 1.5)
    assert judge_point(Rule.SIMPLE, coarse, limit_percent=FOUR).verdict is Verdict.CANT_TELL
    assert judge_point(Rule.EACH_PULL, coarse, limit_percent=FOUR).verdict is Verdict.IN
    assert judge_point(Rule.EACH_PULL, evidence(3.0, 1.5), limit_percent=FOUR).verdict is Verdict.CANT_TELL
    assert judge_point(Rule.EACH_PULL, evidence(6.0, 1.5), limit_percent=FOUR).verdict is Verdict.OUT
    for share, verdict in ((0.95, Verdict.IN), (0.5, Verdict.CANT_TELL), (0.05, Verdict.OUT)):
        seen = Evidence(0.0, 1.0, (0.5, 0.5), 0.5, 0.5, share)
        assert judge_point(Rule.PROBABILITY, seen, limit_percent=FOUR).verdict is verdict


def test_without_a_limit_nothing_is_said() -> None:
    assert judge_point(Rule.GUARDED, evidence(1.0, 0.5), limit_percent=None).verdict is Verdict.NO_LIMIT
