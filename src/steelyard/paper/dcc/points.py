"""A judged point as a list of quantities: what was wanted, what the kit said, how far off, the verdict."""

import math
from collections.abc import Mapping
from typing import Any

from steelyard.desk import PointFigures, is_estimated, point_figures
from steelyard.desk.typed_table import as_shown
from steelyard.paper.dcc.amounts import Expanded, amount, real, torque, torques, typed_torque
from steelyard.paper.dcc.elements import put, say_in
from steelyard.paper.dcc.statements import RULE, remark
from steelyard.paper.dcc.tree import Element
from steelyard.paper.dcc.units import PERCENT
from steelyard.telling import record_points
from steelyard.words import say

Point = Mapping[str, Any]
CONFORMITY = {"in": "pass", "out": "fail"}
UNDECIDED = ("conditionalPass", "conditionalFail")
"""Of a verdict that is neither: by the deviation alone inside the limit, or outside of it."""


def point_list(data: Element, point: Point, content: Point, words: record_points.PointWords) -> None:
    """One point. content: of its phase. words: the same point as a page tells it."""
    table = put(data, "list")
    say_in(table, "name", words.name)
    say_in(table, "description", words.bolts, *filter(None, [words.verdict_line]), *words.lines)
    figures = point_figures(point, content)
    symbol = typed_torque(amount(table, say("dcc-nominal"), "basic_nominalValue"), point["target"], "target")
    if point["threshold"] is not None:
        _trials(table, point, symbol)
    else:
        _pulls(table, point, figures)
    if is_estimated(point):
        _deviations(table, point)
    elif point["limit_percent"] is not None:
        _verdict(table, point)


def _pulls(table: Element, point: Point, figures: PointFigures) -> None:
    counted = [pull for pull in point["pulls"] if pull["counted"]]
    known = figures.is_load_known
    name = say("dcc-reference-known" if known else "dcc-reference")
    reference = amount(table, name, "basic_referenceValue")
    torques(reference, [pull["torque_newton_metre"] for pull in counted], figures.unit)
    _not_counted(reference, point, figures.unit)
    if known:
        shown = amount(table, say("dcc-shown"), "basic_measuredValue")
        torques(shown, [pull["shown_newton_metre"] for pull in counted], figures.unit)
    torque(amount(table, say("dcc-mean")), point["mean_newton_metre"], figures.unit)
    torque(amount(table, say("dcc-spread")), point["spread_newton_metre"], figures.unit)


def _trials(table: Element, point: Point, symbol: str) -> None:
    """Yes/no answers; the torque that trips it only where there are answers of both kinds."""
    counted = [pull for pull in point["pulls"] if pull["counted"]]
    tried = amount(table, say("dcc-tried"), "basic_referenceValue")
    torques(tried, [pull["torque_newton_metre"] for pull in counted], symbol)
    _not_counted(tried, point, symbol)
    torques(amount(table, say("dcc-set")), [pull["shown_newton_metre"] for pull in counted], symbol)
    answers = ["no-click" if _is_silent(pull) else "click" for pull in counted]
    put(amount(table, say("dcc-answer")), "charsXMLList", " ".join(answers))
    if is_estimated(point):
        torque(amount(table, say("dcc-threshold")), point["mean_newton_metre"], symbol)


def _is_silent(pull: Point) -> bool:
    return pull["never_clicked"] or pull.get("clicked") is False


def _not_counted(quantity: Element, point: Point, symbol: str) -> None:
    """Every pull that was struck out or does not count, with its reason and what it was."""
    left_out = [(i, pull) for i, pull in enumerate(point["pulls"], 1) if not pull["counted"]]
    if not left_out:
        return
    metadata = put(quantity, "measurementMetaData")
    for number, pull in left_out:
        why = say("dcc-not-counted-why", typed=as_shown(pull["typed"]), why=record_points.pull_remark(pull))
        one = remark(metadata, say("dcc-not-counted", number=number), why)
        name = say("dcc-not-counted", number=number)
        torque(amount(put(one, "data"), name), pull["torque_newton_metre"], symbol)


def _deviations(table: Element, point: Point) -> None:
    """The deviation the limit counts, with the verdict; the ISO deviation where that is another."""
    counted, iso = point["counted"], point["iso"]
    deviation = _deviation(table, counted, _root_of_budget(point))
    if point["limit_percent"] is not None:
        _verdict(deviation, point)
    _interval(table, counted)
    if iso["measure"] != counted["measure"]:
        _deviation(table, iso, None)
        _interval(table, iso)
    real(amount(table, say("dcc-bolts-get")), point["bolts_get_percent"], PERCENT)


def _deviation(table: Element, estimate: Point, u_percent: float | None) -> Element:
    quantity = amount(table, say(f"measure-{estimate['measure']}"), "basic_measurementError")
    real(quantity, estimate["deviation_percent"], PERCENT, _expanded(estimate, u_percent))
    return quantity


def _expanded(estimate: Point, u_percent: float | None) -> Expanded | None:
    """U with its k = U/u; None where no u is known or k would be below 1: then the interval says it alone.

    u_percent: stands in where the draws have no standard deviation, as of three pulls or fewer.
    """
    u = estimate["standard_uncertainty_percent"] or u_percent
    if not u or estimate["expanded_percent"] < u:
        return None
    factor = f"{estimate['expanded_percent'] / u:.3f}"
    return Expanded(estimate["expanded_percent"], factor, estimate["method"]["probability"])


def _root_of_budget(point: Point) -> float:
    """The combined standard uncertainty of first order. [%] Source: JCGM 100:2008, 5.1.2."""
    return math.hypot(*(row["standard_uncertainty_percent"] for row in point["budget"]))


def _interval(table: Element, estimate: Point) -> None:
    real(amount(table, say("dcc-low")), estimate["low_percent"], PERCENT)
    real(amount(table, say("dcc-high")), estimate["high_percent"], PERCENT)


def _verdict(judged: Element, point: Point) -> None:
    """The verdict with its limits, at the deviation it is about, or at a point with a bound alone."""
    limit = point["limit_percent"]
    metadata = put(judged, "measurementMetaData")
    one = put(metadata, "metaData", refType="basic_conformity", refId=RULE)
    say_in(one, "name", say("dcc-conformity"))
    say_in(one, "declaration", say(f"verdict-{point['verdict']}"))
    conformity = _conformity(point)
    if conformity is not None:
        put(one, "conformity", conformity)
    data = put(one, "data")
    real(amount(data, say("dcc-limit-low"), "basic_toleranceLimitLower"), f"-{limit}", PERCENT)
    real(amount(data, say("dcc-limit-high"), "basic_toleranceLimitUpper"), limit, PERCENT)


def _conformity(point: Point) -> str | None:
    """The word of the schema; None where there is a bound alone, which is on neither side."""
    decided = CONFORMITY.get(point["verdict"])
    if decided is not None or not is_estimated(point):
        return decided
    return UNDECIDED[abs(point["counted"]["deviation_percent"]) > float(point["limit_percent"])]
