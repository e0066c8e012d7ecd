"""Who checked what, when: the administrative data of a certificate, said of a workshop as it is."""

from collections.abc import Mapping
from functools import cache
from importlib.metadata import version
from typing import Any

from steelyard.desk import Body, RecordView
from steelyard.paper.dcc.amounts import amount, typed_torque
from steelyard.paper.dcc.elements import LANGUAGE, OWN, identify, one_line, put, say_in
from steelyard.paper.dcc.kept import first_and_last_day
from steelyard.paper.dcc.tree import Element
from steelyard.telling import record_words
from steelyard.words import say

NO_COUNTRY = "ZZ"
"""Of the codes ISO 3166-1 leaves to its users: the workshop's country is asked nowhere."""
MAIN_ITEM = "item"
TORQUES_OF_TOOL = {"lowest": "dcc-lowest", "highest": "dcc-highest", "graduation": "dcc-graduation"}
TAKING_PART = ("opened", "look", "setup", "locked", "waived")
ROWS = ("exercise", "pulls", "turns")


def administer(data: Element, view: RecordView, *, workshop: str) -> None:
    """Fill in everything but the statements. workshop: its name, empty where it has none."""
    software = put(put(data, "dccSoftware"), "software")
    say_in(software, "name", say("dcc-software"))
    put(software, "release", _release())
    put(software, "type", "application")
    _core(put(data, "coreData"), view)
    _item(put(put(data, "items"), "item", id=MAIN_ITEM), view.body)
    laboratory = say("dcc-workshop-named", workshop=workshop) if workshop else say("dcc-workshop")
    _contact(put(put(data, "calibrationLaboratory"), "contact"), laboratory)
    _people(put(data, "respPersons"), view)
    _contact(put(data, "customer"), workshop or say("dcc-owner"))


@cache
def _release() -> str:
    """The version that runs here, as it is written."""
    return f"v{version('steelyard')}"


def _core(core: Element, view: RecordView) -> None:
    closed = view.body["closed"]
    first, last = first_and_last_day(view.body)
    put(core, "countryCodeISO3166_1", NO_COUNTRY)
    put(core, "usedLangCodeISO639_1", LANGUAGE)
    put(core, "mandatoryLangCodeISO639_1", LANGUAGE)
    put(core, "uniqueIdentifier", f"{OWN}{closed['record']}-{closed['digest']}")
    identifications = put(core, "identifications")
    for value, name in (
        (closed["record"], say("dcc-record-number")),
        (closed["digest"], say("dcc-digest")),
        (view.entry, say("dcc-entry-number")),
        (view.entry_digest, say("dcc-entry-digest")),
    ):
        identify(identifications, "calibrationLaboratory", str(value), name)
    put(core, "beginPerformanceDate", first)
    put(core, "endPerformanceDate", last)
    put(core, "performanceLocation", "laboratory")
    put(core, "issueDate", last)


def _item(item: Element, body: Body) -> None:
    tool: Mapping[str, Any] = body["setup"]["form"]["tool"] if body["setup"] is not None else {}
    say_in(item, "name", say(f"kind-{tool['kind']}") if tool else say("dcc-tool"))
    if tool.get("make"):
        say_in(put(item, "manufacturer"), "name", tool["make"])
    identify(put(item, "identifications"), "owner", body["tool_number"], say("dcc-tool-number"))
    if tool:
        quantities = put(item, "itemQuantities")
        for field, code in TORQUES_OF_TOOL.items():
            if tool.get(field):
                quantity = amount(quantities, say(code), tag="itemQuantity")
                typed_torque(quantity, tool[field], field)


def _contact(contact: Element, name: str) -> None:
    say_in(contact, "name", name)
    say_in(put(contact, "location"), "further", say("dcc-place-not-said"))


def _people(persons: Element, view: RecordView) -> None:
    """Whoever sealed it, and everybody else who took part and was named."""
    body = view.body
    sealer = body["closed"]["who"]
    _person(persons, record_words.who(sealer, view.people), say("dcc-role-sealed"), is_main=True)
    steps = [body[name] for name in TAKING_PART if body.get(name)]
    steps += [row for name in ROWS for row in body[name]]
    for key in dict.fromkeys(str(step["who"]) for step in steps):
        if key != sealer and key in view.people:
            _person(persons, view.people[key], say("dcc-role-took-part"), is_main=False)


def _person(persons: Element, name: str, role: str, *, is_main: bool) -> None:
    person = put(persons, "respPerson")
    say_in(put(person, "person"), "name", name)
    put(person, "role", one_line(role))
    put(person, "mainSigner", "true" if is_main else "false")
