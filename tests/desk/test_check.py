"""Judging one check: the worked examples, the rules, what stays in the content, and what must not matter."""

import re
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from forms import ADAPTER, ALL, BEAM, DRIVER, HUNG, changed, without
from printed import agrees
from steelyard.desk import JudgedCheck, JudgedPoint, check_content, judge_check
from steelyard.evaluation import Evidence, Rule, Verdict, deviation, judge_point, judge_tool
from steelyard.quantities import UNITS, Dimension
from steelyard.tools import Measure

PULLS = 'pulls = "96.1 97.0 96.6 96.8 96.5 N·m"'
LIMIT = Decimal(4)


def judged(text: str) -> JudgedCheck:
    return judge_check(text.encode())


def only_point(text: str) -> JudgedPoint:
    """The single point of a check; raises where there are several."""
    (point,) = judged(text).points
    return point


def codes(text: str) -> list[str]:
    return [doubt.code for doubt in judged(text).doubts]


# The worked examples


def test_five_pulls_at_a_hundred() -> None:
    """Own worked example: set 100 N·m, mean 96.60, s 0.34, ISO +3.52 %, bolts get 3.4 % less."""
    result = only_point(ADAPTER).result
    agrees(result.readings.mean, "96.60")
    agrees(result.readings.s, "0.34")
    agrees(result.iso.percent, "3.52")
    agrees(result.bolts_get_percent, "-3.4")
    assert result.judged.verdict is Verdict.CANT_TELL


def test_the_first_pull_just_outside_is_named() -> None:
    """Own worked example: (100 − 96.1)/96.1 = +4.06 %, outside 4 % by less than U."""
    (doubt,) = (d for d in judged(ADAPTER).doubts if d.code == "pull-just-outside")
    assert doubt.facts["pull"] == 1
    agrees(float(doubt.facts["deviation_percent"]), "4.06")


HUNG_EXAMPLE = """\
steelyard_check = 1
date = 2026-11-20
draws = 10000

[place]
gravity = "9.80665 m/s²"
buoyancy = false

[tool]
number = "T-01"
kind = "click-preset"
lowest = "20 N·m"
highest = "100 N·m"
length_independent = true
mass = "1.300 kg"
balance_point = "220 mm"

[limit]
percent = 6
source = "our own list"

[kit]
kind = "hung-weight"
name = "arm W-1"
arm = "450 mm"
droop = "0°"
drop = "0 mm"

[[point]]
target = "50 N·m"
pulls = ["10.150 kg ± 0 g", "10.150 kg ± 0 g"]
"""


def test_a_hung_load_with_the_own_weight_of_the_tool() -> None:
    """Own worked example: 10.150 kg at 450 mm, tool 1.300 kg at 220 mm: 47.60 N·m, 2.80 of it own."""
    whole = only_point(HUNG_EXAMPLE).result.torques[0]
    agrees(whole, "47.60")
    text = changed(without(HUNG_EXAMPLE, "mass"), 'balance_point = "220 mm"', 'own_weight = "0 N·m"')
    agrees(whole - only_point(text).result.torques[0], "2.80")


def test_a_load_in_one_piece_or_with_what_always_hangs_is_the_same() -> None:
    text = changed(HUNG_EXAMPLE, "[kit]", '[kit]\nalways = "0.150 kg ± 0 g"').replace("10.150 kg", "10 kg")
    assert only_point(text).result.torques == pytest.approx(only_point(HUNG_EXAMPLE).result.torques)


@pytest.mark.parametrize(
    ("instead", "own"),
    [
        ('own_reading = "0.650 kg"\nown_reading_at = "440 mm"', "2.80"),
        ('own_weight = "2.8047 N·m"', "2.80"),
        ('balance_point = "220 mm"\nmass = "1300 g"', "2.80"),
    ],
)
def test_the_own_weight_is_the_same_in_each_way_of_giving_it(instead: str, own: str) -> None:
    text = changed(without(HUNG_EXAMPLE, "mass"), 'balance_point = "220 mm"', instead)
    agrees(only_point(text).result.torques[0] - 10.150 * 9.80665 * 0.450, own)


# Deviations


@pytest.mark.parametrize(
    ("shown", "true", "iso", "applied"),
    [  # own arithmetic from the definitions; applied: SAE AS28431A, from a secondary source
        ("100", "104", "-3.846154", "4.000000"),
        ("100", "96", "4.166667", "-4.000000"),
        ("100", "96.153846", "4.000000", "-3.846154"),
        ("50", "51.2", "-2.343750", "2.400000"),
    ],
)
def test_sign_and_denominator_of_both_conventions(shown: str, true: str, iso: str, applied: str) -> None:
    for measure, printed in ((Measure.ISO, iso), (Measure.APPLIED, applied)):
        agrees(100 * deviation(measure, float(shown), float(true), full_scale=200.0), printed)


@pytest.mark.parametrize(
    ("measure", "percent"), [(Measure.FULL_SCALE_ISO, "2.0"), (Measure.FULL_SCALE_APPLIED, "-2.0")]
)
def test_both_conventions_of_full_scale(measure: Measure, percent: str) -> None:
    agrees(100 * deviation(measure, 100.0, 96.0, full_scale=200.0), percent)


def test_exactly_on_the_limit_is_inside_and_the_convention_decides() -> None:
    pulls = changed(changed(ADAPTER, PULLS, 'pulls = "96 96 96 N·m"'), "draws", 'rule = "simple"\ndraws')
    applied = only_point(changed(pulls, "[limit]", '[limit]\nconvention = "applied"'))
    assert applied.result.counted.percent == pytest.approx(-4.0, rel=1e-12)
    assert applied.result.judged.verdict is Verdict.IN
    assert only_point(pulls).result.judged.verdict is Verdict.OUT


# The rules


def evidence(middle: float, *, pulls: tuple[float, ...] = (), inside: float = 0.5) -> Evidence:
    """A deviation with U = 0.9 %, all of it the kit's."""
    return Evidence(middle - 0.9, middle + 0.9, pulls or (middle,), 0.9, 0.9, inside)


WORKED = tuple(100 * (100 - t) / t for t in (96.1, 97.0, 96.6, 96.8, 96.5))


@pytest.mark.parametrize(
    ("rule", "given", "verdict"),
    [  # own worked examples, limit 4 %, U = 0.9 %
        (Rule.GUARDED, evidence(3.52, pulls=WORKED), Verdict.CANT_TELL),
        (Rule.GUARDED, evidence(2.1), Verdict.IN),
        (Rule.GUARDED, evidence(5.26), Verdict.OUT),
        (Rule.GUARDED, evidence(-5.26), Verdict.OUT),
        (Rule.GUARDED, evidence(3.1), Verdict.IN),
        (Rule.GUARDED, evidence(3.1, pulls=(2.0, 4.2)), Verdict.CANT_TELL),
        (Rule.GUARDED, evidence(3.1, pulls=(1.0, 4.91)), Verdict.OUT),
        (Rule.SIMPLE, evidence(3.52), Verdict.IN),
        (Rule.SIMPLE, evidence(3.52, pulls=WORKED), Verdict.OUT),
        (Rule.SIMPLE, evidence(4.0), Verdict.IN),
        (Rule.SIMPLE, evidence(5.26), Verdict.OUT),
        (Rule.EACH_PULL, evidence(3.52, pulls=WORKED), Verdict.CANT_TELL),
        (Rule.EACH_PULL, evidence(2.1), Verdict.IN),
        (Rule.EACH_PULL, evidence(3.1), Verdict.IN),
        (Rule.EACH_PULL, evidence(5.26), Verdict.OUT),
        (Rule.PROBABILITY, evidence(3.52, inside=0.86), Verdict.CANT_TELL),
        (Rule.PROBABILITY, evidence(2.1, inside=0.95), Verdict.IN),
        (Rule.PROBABILITY, evidence(5.26, inside=0.05), Verdict.OUT),
    ],
)
def test_each_rule(rule: Rule, given: Evidence, verdict: Verdict) -> None:
    assert judge_point(rule, given, limit_percent=LIMIT).verdict is verdict


@pytest.mark.parametrize("rule", Rule)
def test_no_rule_judges_where_no_limit_applies(rule: Rule) -> None:
    assert judge_point(rule, evidence(9.0), limit_percent=None).verdict is Verdict.NO_LIMIT


def test_simple_acceptance_needs_a_kit_four_times_better() -> None:
    coarse = Evidence(-1.01, 1.01, (0.0,), 1.01, 1.01, 1.0)
    assert judge_point(Rule.SIMPLE, coarse, limit_percent=LIMIT).verdict is Verdict.CANT_TELL


@pytest.mark.parametrize(
    ("rule", "verdict"),
    [("guarded", "cant-tell"), ("simple", "out"), ("each-pull", "cant-tell"), ("probability", "cant-tell")],
)
def test_the_rule_of_the_form_decides_and_is_told(rule: str, verdict: str) -> None:
    content = check_content(judged(changed(ADAPTER, "draws", f'rule = "{rule}"\ndraws')))
    assert (content["rule"], content["verdict"]) == (rule, verdict)


@pytest.mark.parametrize(
    ("points", "verdict"),
    [
        ("in in", "in"),
        ("in cant-tell", "cant-tell"),
        ("cant-tell out in", "out"),
        ("no-limit in", "in"),
        ("no-limit cant-tell", "cant-tell"),
        ("no-limit", "no-limit"),
    ],
)
def test_the_tool_is_as_good_as_its_worst_point(points: str, verdict: str) -> None:
    assert judge_tool([Verdict(point) for point in points.split()]) is Verdict(verdict)


# Several points


def points(text: str, *added: str) -> str:
    """The form with further points, each `target: pulls`."""
    tables = []
    for each in added:
        target, _, pulls = each.partition(": ")
        tables.append(f'\n[[point]]\ntarget = "{target}"\npulls = "{pulls}"\n')
    return text + "".join(tables)


THREE = points(
    changed(ADAPTER, PULLS, 'pulls = "99.8 100.1 99.9 N·m"'),
    "20 N·m: 22.1 22.2 22.1 N·m",
    "60 N·m: 60.1 60.0 59.9 N·m",
)


def test_a_restricted_range_leaves_out_the_bad_end() -> None:
    content = check_content(judged(THREE))
    assert content["verdict"] == "out"
    assert content["restricted_range"] == ["60 N·m", "100 N·m"]
    assert content["worst_point"] == "20 N·m cw"


def test_the_restricted_range_is_the_longest_run_and_not_the_last() -> None:
    text = changed(THREE, 'pulls = "22.1 22.2 22.1 N·m"', 'pulls = "20.1 20.0 20.1 N·m"')
    content = check_content(judged(points(text, "80 N·m: 90 90.1 N·m")))
    assert content["restricted_range"] == ["20 N·m", "60 N·m"]


def test_a_target_that_is_bad_one_way_is_not_in_the_restricted_range() -> None:
    text = changed(
        THREE, 'kind = "click-adjustable"', 'kind = "click-adjustable"\ndirections = ["cw", "ccw"]'
    )
    text += '\n[[point]]\ntarget = "60 N·m"\ndirection = "ccw"\npulls = "70 70.1 N·m"\n'
    assert check_content(judged(text))["restricted_range"] is None  # 100 N·m alone makes no range


def test_no_range_is_restricted_where_all_is_good_or_nothing() -> None:
    for pulls in ("99.8 100.1 99.9 N·m", "110 110.1 N·m"):
        assert (
            check_content(judged(changed(ADAPTER, PULLS, f'pulls = "{pulls}"')))["restricted_range"] is None
        )


def test_a_point_below_the_reach_of_the_limit_has_none() -> None:
    text = changed(THREE, "percent = 4", "percent = 4\nfrom_percent_of_maximum = 30")
    content = check_content(judged(text))
    assert [point["verdict"] for point in content["points"]] == ["in", "no-limit", "in"]
    assert content["points"][1]["limit_percent"] is None
    assert content["verdict"] == "in"
    assert "no-limit-here" in codes(text)


def test_the_other_direction_has_its_own_limit() -> None:
    text = changed(DRIVER, 'published = "iso-6789-1-2017"', "")
    text = changed(text, "[limit]", '[limit]\npercent = 4\nsource = "x"\nother_direction_percent = 8')
    assert [point["limit_percent"] for point in check_content(judged(text))["points"]] == ["4", "8"]


# Pulls that do not count


def test_a_struck_out_pull_stays_with_its_reason_and_does_not_count() -> None:
    pulls = [f'"{t} N·m"' for t in ("96.1", "97.0", "96.6", "96.8", "96.5")]
    struck = '{ reading = "88.2 N·m", struck_out = "hand slipped" }'
    content = check_content(judged(changed(ADAPTER, PULLS, f"pulls = [{', '.join([*pulls, struck])}]")))
    (point,) = content["points"]
    assert len(point["pulls"]) == 6
    last = point["pulls"][5]
    assert (last["typed"], last["struck_out"], last["counted"]) == ("88.2 N·m", "hand slipped", False)
    assert last["torque_newton_metre"] == 88.2
    assert point["mean_newton_metre"] == check_content(judged(ADAPTER))["points"][0]["mean_newton_metre"]


def test_a_pull_that_never_clicked_counts_as_a_bound_with_a_warning() -> None:
    text = changed(HUNG, '{ bucket = "10.15 kg" }', '{ bucket = "12 kg", never_clicked = true }')
    (point,) = check_content(judged(text))["points"]
    assert [pull["counted"] for pull in point["pulls"]] == [True, True, True]
    assert point["pulls"][-1]["between_percent"][1] is None  # it trips above, nobody knows how far
    assert "never-clicked" in codes(text)


# What stands in


@pytest.mark.parametrize(
    ("code", "old", "new"),
    [
        ("gravity-unknown", "[tool]", '[place]\ngravity = "9.81 m/s²"\n\n[tool]'),
        ("air-assumed", "[tool]", '[place]\nlatitude = "54°"\nheight = "12 m"\n\n[tool]'),
        ("material-assumed", "[kit]", '[kit]\nmaterial = "steel"'),
        ("drop-assumed", "[kit]", '[kit]\ndrop = "0 mm ± 15 mm"'),
        ("droop-by-eye", "[kit]", '[kit]\ndroop = "0° ± 1°"'),
        ("scale-assumed", 'step = "50 g"', 'step = "50 g"\nwithin = "100 g"'),
        ("exercise-short", "draws", "exercise_pulls = 1\ndraws"),
    ],
)
def test_each_assumption_shows_as_a_doubt_until_it_is_given(code: str, old: str, new: str) -> None:
    assert code in codes(BEAM)
    assert code not in codes(changed(BEAM, old, new))


def test_an_unknown_pivot_shows_as_a_doubt_until_it_is_given() -> None:
    assert "pivot-unknown" in codes(HUNG)
    assert "pivot-unknown" not in codes(changed(HUNG, "graduation", 'pivot = "15 mm ± 5 mm"\ngraduation'))
    assert "pivot-unknown" not in codes(changed(HUNG, "graduation", "length_independent = true\ngraduation"))


def test_air_left_out_is_no_assumption() -> None:
    found = codes(changed(BEAM, "[tool]", "[place]\nbuoyancy = false\n\n[tool]"))
    assert "buoyancy-off" in found
    assert not {"air-assumed", "material-assumed"} & set(found)


def test_a_half_width_of_the_place_widens_gravity() -> None:
    exact = judged(HUNG).form.place.gravity
    wide = judged(changed(HUNG, '"54.3°"', '"54.3° ± 5°"')).form.place.gravity
    assert wide.value == exact.value
    assert wide.u > 5 * exact.u


def test_the_mass_of_the_whole_tool_is_not_the_reading_under_its_handle() -> None:
    reading = 'own_reading = "0.650 kg"\nown_reading_at = "440 mm"'
    text = changed(without(HUNG, "mass"), 'balance_point = "220 mm ± 3 mm"', reading)
    assert judged(text).form.tool.mass is None
    mass = judged(HUNG).form.tool.mass
    assert mass is not None
    assert mass.value == 1.3


# What must not matter


def in_unit(text: str, symbol: str) -> str:
    """The form with every torque typed in another unit, to 18 digits; but the worked row as it is."""
    factor = UNITS[Dimension.TORQUE][symbol].factor

    def convert(match: re.Match[str]) -> str:
        numbers = (Fraction(number) / factor for number in match[1].split())
        return '"' + " ".join(f"{Decimal(n.numerator) / n.denominator:.18g}" for n in numbers) + f' {symbol}"'

    return re.sub(r'(?<!worked_shows = )(?<!worked_true = )"((?:-?[0-9.]+ )+)N·m"', convert, text)


@pytest.mark.parametrize("symbol", ["lbf·ft", "lbf·in", "kgf·cm", "cN·m"])
@pytest.mark.parametrize("name", ["adapter", "driver", "beam"])
def test_the_unit_that_is_typed_does_not_matter(name: str, symbol: str) -> None:
    plain, other = check_content(judged(ALL[name])), check_content(judged(in_unit(ALL[name], symbol)))
    assert symbol in other["points"][0]["target"]
    assert other["verdict"] == plain["verdict"]
    for a, b in zip(plain["points"], other["points"], strict=True):
        for key in ("deviation_percent", "low_percent", "high_percent", "expanded_percent"):
            assert b["iso"][key] == pytest.approx(a["iso"][key], rel=1e-9)


def test_the_direction_does_not_matter() -> None:
    def one_way(direction: str, sign: str) -> dict[str, Any]:
        head = DRIVER.partition("[[point]]")[0].replace('["cw", "ccw"]', f'["{direction}"]')
        pulls = f"{sign}4.96 {sign}4.97 {sign}4.95 N·m"
        content: dict[str, Any] = check_content(judged(points(head, f"5 N·m: {pulls}")))["points"][0]
        return {key: value for key, value in content.items() if key not in ("direction", "pulls")}

    assert one_way("ccw", "-") == one_way("ccw", "") == one_way("cw", "")


def test_the_order_of_the_points_does_not_matter_to_a_deviation() -> None:
    forward = check_content(judged(THREE))["points"]
    head, *tables = THREE.split("[[point]]")
    backward = check_content(judged("[[point]]".join([head, *reversed(tables)])))["points"]
    for a, b in zip(forward, reversed(backward), strict=True):
        assert a["iso"]["deviation_percent"] == b["iso"]["deviation_percent"]
        assert a["verdict"] == b["verdict"]


# A whole budget

SYNTHETIC = """\
steelyard_check = 1
date = 2026-11-20
draws = 200000

[tool]
number = "T-20"
kind = "click-adjustable"
lowest = "20 N·m"
highest = "100 N·m"
graduation = "0.5 N·m"

[limit]
percent = 4
source = "our own list"

[kit]
kind = "transducer"
name = "bench"
resolution = "0.000001 N·m"
axis = "vertical"
zeroed = "before-tool"

[kit.paper]
states = "error"
worked_shows = "100.0 N·m"
worked_true = "100.0 N·m"

[[kit.paper.row]]
at = "50 N·m"
error = "0 %"
U = "0.5 %"

[[kit.paper.row]]
at = "150 N·m"
error = "0 %"
U = "0.5 %"

[[variation]]
name = "reproducibility"
combine = "iso-sum"
means = "100.9 101.2 100.7 101.0 N·m"

[[variation]]
name = "drive"
combine = "iso-sum"
means = "20.10 20.16 20.05 20.12 N·m"

[[variation]]
name = "interface"
combine = "iso-sum"
means = "20.11 20.15 20.08 20.10 N·m"

[[variation]]
name = "loading-point"
combine = "iso-sum"
means = "20.22 20.04 N·m"

[[point]]
target = "100 N·m"
pulls = "100.8 101.1 100.6 101.0 100.9 N·m"
"""
# Synthetic case, own data; structure of ISO 6789-2:2017 (from memory), sums checked with GTC and metrolopy.
SYNTHETIC_LINES = {
    "paper": "0.25",
    "reproducibility": "0.142979264",
    "drive": "0.157922491",
    "interface": "0.100483637",
    "loading-point": "0.258129778",
}


@pytest.mark.parametrize("name", SYNTHETIC_LINES)
def test_each_line_of_the_synthetic_budget(name: str) -> None:
    (line,) = (row.line for row in only_point(SYNTHETIC).budget if row.line.name == name)
    agrees(100 * line.u, SYNTHETIC_LINES[name])


def test_the_synthetic_budget_as_a_whole() -> None:
    """Its w are ratios of X_r; ours act on X_a/X_r, 0.87 % smaller here: the room of the comparison."""
    point = only_point(SYNTHETIC)
    iso = point.result.iso
    agrees(iso.percent, "-0.8720350352613677"[:14])
    (setting,) = (row for row in point.budget if row.line.name == "setting")
    assert setting.u_percent == pytest.approx(0.143078477, rel=1e-4)  # w_r, already of X_r
    (spread,) = (row for row in point.budget if row.line.name == "spread")
    assert spread.u_percent == pytest.approx(0.085272852, rel=0.01)  # w_re
    assert iso.u_percent == pytest.approx(0.46081822465815, rel=0.0087)
    assert iso.expanded_percent == pytest.approx(
        0.8954, rel=0.015
    )  # 95 % half-width by Monte Carlo, 2e6 draws


def test_an_excess_variation_takes_the_spread_of_the_pulls_off() -> None:
    """Own arithmetic: s² of the means over their mean² less s²/n of the pulls."""
    text = changed(
        SYNTHETIC, 'name = "loading-point"\ncombine = "iso-sum"', 'name = "loading-point"\npulls_each = 10'
    )
    (line,) = (row.line for row in only_point(text).budget if row.line.name == "loading-point")
    means, pulls = (20.22, 20.04), (100.8, 101.1, 100.6, 101.0, 100.9)
    between = (means[0] - means[1]) ** 2 / 2 / (sum(means) / 2) ** 2
    mean = sum(pulls) / 5
    within = sum((p - mean) ** 2 for p in pulls) / 4 / mean**2
    assert line.u == pytest.approx((between - within / 10) ** 0.5, rel=1e-12)
    assert line.dof == 1


def test_a_line_of_ones_own_enters_the_budget() -> None:
    text = ADAPTER + '\n[[extra]]\nname = "tool temperature"\nwithin = "0.3 %"\n'
    rows = check_content(judged(text))["points"][0]["budget"]
    (row,) = (row for row in rows if row["line"] == "extra")
    assert row["detail"] == "tool temperature"
    agrees(row["standard_uncertainty_percent"], "0.179")  # 0.3 %/√3 · X/T
