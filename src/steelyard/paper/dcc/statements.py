"""Statements of a certificate: what it does not claim, the rule, traceability, the seal, what followed it."""

from collections.abc import Iterable

from steelyard.desk import RecordView
from steelyard.paper.dcc.elements import put, say_in
from steelyard.paper.dcc.kept import judged_phases
from steelyard.paper.dcc.tree import Element
from steelyard.paper.dcc.units import defined
from steelyard.telling import record_words
from steelyard.words import say

RULE = "decision-rule"
"""The id of the rule: every verdict leads to it."""


def state(statements: Element, view: RecordView, *, is_demo: bool) -> None:
    """Everything the record says of itself in words."""
    body, closed = view.body, view.body["closed"]
    if is_demo:
        statement(statements, say("shell-demo"), say("shell-demo-why"))
    statement(statements, say("dcc-claims"), say("dcc-not-accredited"), say("check-claims"))
    if not view.is_intact:
        statement(statements, say("record-seal"), say("record-not-intact"))
    for phase in judged_phases(body)[-1:]:
        content = body["verdicts"][phase]["content"]
        rule = record_words.rule_said(content)
        statement(statements, say("dcc-rule"), rule, refType="basic_decisionRule", id=RULE)
        _traceability(statements, content["kit"]["certificate"])
    if closed["next_due"]:
        due = statement(
            statements,
            say("dcc-next-due"),
            say("record-next-due", day=closed["next_due"]),
            refType="basic_recalibration",
        )
        put(due, "date", closed["next_due"])
    if closed["note"]:
        statement(statements, say("record-note"), closed["note"])
    statement(
        statements,
        say("record-seal"),
        *(f"{name}: {text}" for name, text in _seal(view)),
        say("record-seal-why"),
    )
    for one in body["corrections"]:
        said = ((say("record-wrong"), one["wrong"]), (say("record-right"), one["right"]))
        when = record_words.at_by(one, view.people)
        statement(statements, say("record-corrections"), when, *(f"{name}: {text}" for name, text in said))


def _seal(view: RecordView) -> list[tuple[str, str]]:
    closed = view.body["closed"]
    return [
        (say("record-seal-record"), str(closed["record"])),
        (say("record-seal-digest"), closed["digest"]),
        (say("record-seal-entry"), str(view.entry)),
        (say("record-seal-entry-digest"), view.entry_digest),
        (say("record-sealed-at"), record_words.at_by(closed, view.people)),
    ]


def _traceability(statements: Element, certificate: str | None) -> None:
    """The number of the certificate, or that there is none; it is never claimed by a mere yes."""
    if certificate:
        statement(statements, say("dcc-traceability"), say("paper-traceable", certificate=certificate))
        return
    traceability = put(statements, "statement")
    say_in(traceability, "name", say("dcc-traceability"))
    put(traceability, "traceable", "false")
    say_in(traceability, "declaration", say("dcc-not-traceable"))


def statement(parent: Element, name: str, *texts: str, **attributes: str) -> Element:
    """One statement in words. attributes: refType, id."""
    element = put(parent, "statement", **attributes)
    say_in(element, "name", name)
    say_in(element, "declaration", *texts)
    return element


def define_units(statements: Element, units: Iterable[str]) -> None:
    """Declare every unit outside the SI among those that stand in the certificate, each once."""
    for spelling in sorted({unit for unit in units if unit.startswith("|")}):
        element = put(statements, "statement")
        say_in(element, "name", say("dcc-unit"))
        put(element, "nonSIDefinition", defined(spelling))
        put(element, "nonSIUnit", spelling.removeprefix("|"))


def remark(metadata: Element, name: str, *texts: str) -> Element:
    """One remark among the data about data."""
    element = put(metadata, "metaData")
    say_in(element, "name", name)
    say_in(element, "declaration", *texts)
    return element
