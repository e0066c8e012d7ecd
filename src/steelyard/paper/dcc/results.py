"""The measurement result of a certificate: the phase that stands, and what was found before as history."""

from collections.abc import Mapping, Sequence
from typing import Any

from steelyard.desk import AS_FOUND, Body, RecordView
from steelyard.paper.dcc.administrative import MAIN_ITEM
from steelyard.paper.dcc.amounts import amount, real
from steelyard.paper.dcc.elements import identify, put, say_in
from steelyard.paper.dcc.kept import MARK, judged_phases
from steelyard.paper.dcc.points import point_list
from steelyard.paper.dcc.statements import remark
from steelyard.paper.dcc.tree import Element
from steelyard.paper.dcc.units import (
    CELSIUS,
    KILOGRAM_PER_CUBIC_METRE,
    METRE_PER_SECOND_SQUARED,
    ONE,
    SECOND,
)
from steelyard.telling import record_points, record_words
from steelyard.words import say

CONDITIONS = {
    "room_celsius": ("dcc-room", "basic_temperature", CELSIUS),
    "room_change_celsius": ("dcc-room-change", None, CELSIUS),
    "gravity_m_s2": ("dcc-gravity", None, METRE_PER_SECOND_SQUARED),
    "air_kg_m3": ("dcc-air", None, KILOGRAM_PER_CUBIC_METRE),
    "load_seconds": ("dcc-load-time", None, SECOND),
    "exercise_pulls": ("dcc-exercise", None, ONE),
}
"""Condition: its name, the refType that stands for it where there is one, its unit."""


def add_result(results: Element, view: RecordView, words: Sequence[record_points.PhaseWords]) -> None:
    """One measurement result; of a check that was stopped one that says so. words: every judged phase."""
    result = put(results, "measurementResult", refId=MAIN_ITEM)
    told = {phase.phase: phase for phase in words}
    phases = judged_phases(view.body)
    if not phases:
        _nothing_judged(result, view)
        return
    standing, content = told[phases[-1]], _content(view.body, phases[-1])
    name = _phase_name(standing)
    say_in(result, "name", name)
    described = [*standing.decided, *standing.left_out, *standing.pattern]
    if described:
        say_in(result, "description", *described)
    _methods(put(result, "usedMethods"), view, standing)
    _equipment(put(result, "measuringEquipments"), view, content["kit"])
    conditions = put(result, "influenceConditions")
    _conditions(conditions, content["conditions"])
    for phase in phases[:-1]:
        _history(conditions, told[phase], _content(view.body, phase))
    one = put(put(result, "results"), "result")
    say_in(one, "name", name)
    _points(put(one, "data"), standing, content)
    _remarks(result, view, standing)


def _content(body: Body, phase: str) -> Mapping[str, Any]:
    content: Mapping[str, Any] = body["verdicts"][phase]["content"]
    return content


def _phase_name(words: record_points.PhaseWords) -> str:
    return say(
        "record-phase-verdict", phase=say(f"phase-{words.phase}"), verdict=say(f"verdict-{words.verdict}")
    )


def _points(data: Element, words: record_points.PhaseWords, content: Mapping[str, Any]) -> None:
    for point, told in zip(content["points"], words.points, strict=True):
        point_list(data, point, content, told)


def _methods(methods: Element, view: RecordView, words: record_points.PhaseWords) -> None:
    checked = put(methods, "usedMethod")
    say_in(checked, "name", say("dcc-method"))
    said = record_words.what(view, MARK)
    say_in(checked, "description", *(f"{name}: {text}" for name, text in said))
    drawn = put(methods, "usedMethod")
    say_in(drawn, "name", say("dcc-interval-method"))
    say_in(drawn, "description", words.method)


def _equipment(equipments: Element, view: RecordView, kit: Mapping[str, Any]) -> None:
    equipment = put(equipments, "measuringEquipment", refType="basic_normalUsed")
    say_in(equipment, "name", kit["name"])
    paper = record_words.paper_said(kit) if kit["certificate"] else say("dcc-not-traceable")
    stood = [f"{name}: {text}" for name, text in record_words.kit_stood(view, MARK)]
    papers = record_words.papers_said(kit)
    say_in(equipment, "description", paper, *([papers] if papers else []), *stood)
    if kit["certificate"]:
        identifications = put(equipment, "identifications")
        identify(identifications, "other", kit["certificate"], say("dcc-certificate-number"))


def _conditions(conditions: Element, said: Mapping[str, Any]) -> None:
    for field, (code, kind, unit) in CONDITIONS.items():
        if said[field] is None:
            continue
        attributes = {"refType": kind} if kind else {}
        condition = put(conditions, "influenceCondition", **attributes)
        say_in(condition, "name", say(code))
        real(amount(put(condition, "data"), say(code)), said[field], unit)
    if not len(conditions):
        condition = put(conditions, "influenceCondition")
        say_in(condition, "name", say("dcc-conditions-unknown"))
        say_in(put(condition, "data"), "text", say("dcc-conditions-none"))


def _history(conditions: Element, words: record_points.PhaseWords, content: Mapping[str, Any]) -> None:
    """What was found before the adjuster was turned: kept, and marked as no longer current."""
    condition = put(conditions, "influenceCondition")
    say_in(condition, "name", say("dcc-before", phase=_phase_name(words)))
    doubts = [sentence for _, sentence in words.doubts]
    described = [*words.decided, *words.left_out, *words.pattern, *doubts]
    if described:
        say_in(condition, "description", *described)
    put(condition, "status", "beforeAdjustment")
    _points(put(condition, "data"), words, content)


def _remarks(result: Element, view: RecordView, words: record_points.PhaseWords) -> None:
    """Doubts, and what was done to the adjuster."""
    doubts = [sentence for _, sentence in words.doubts]
    turns = record_words.turns(view.body, MARK)
    if view.body["turns"] and words.phase == AS_FOUND:
        turns.append(say("dcc-adjuster-note"))
    if not doubts and not turns:
        return
    metadata = put(result, "measurementMetaData")
    for name, texts in ((say("section-doubts"), doubts), (say("record-turns"), turns)):
        if texts:
            remark(metadata, name, *texts)


def _nothing_judged(result: Element, view: RecordView) -> None:
    verdict = say(f"bench-verdict-{view.body['closed']['verdict']}")
    say_in(result, "name", verdict)
    one = put(put(result, "results"), "result")
    say_in(one, "name", verdict)
    said = [f"{name}: {text}" for name, text in record_words.what(view, MARK)]
    say_in(put(one, "data"), "text", say("dcc-nothing-judged"), *said)
