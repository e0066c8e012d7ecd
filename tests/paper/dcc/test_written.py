"""A record as a certificate: every digit and every word of it, valid after the published schema."""

import json
from collections.abc import Iterator
from copy import deepcopy
from decimal import Decimal
from typing import Any

import pytest
from lxml import etree

from paper.dcc.exports import NAMES, export, points
from paper.dcc.schema import faults, needs_schema
from steelyard.paper.dcc import dcc_of

NAMESPACES = {"dcc": "https://ptb.de/dcc", "si": "https://ptb.de/si"}
FREE_TEXTS = {
    *("title", "tool_number", "make", "name", "certificate", "source", "note", "struck_out", "reason"),
    *("laboratory", "wrong", "right", "notes", "rig"),
}
HOSTILE = {
    "markup": "<dcc:statement>&xxe; ]]> <!-- --> <?pi?> \"'%PDF",
    "no characters of XML": "a\x00b\x0bc\x1f\ufffe\ud800",
    "line ends": "one\r\ntwo\x85three\u2028four",
    "blanks alone": " \t\n ",
    "one long word": "x" * 10_000,
    "many words": "word " * 2_000,
}


def written(name: str) -> etree._Element:
    return etree.fromstring(dcc_of(export(name), workshop="Tern Point"))


def found(root: etree._Element, path: str) -> list[str]:
    """Texts at an XPath."""
    texts = root.xpath(path, namespaces=NAMESPACES)
    assert isinstance(texts, list)
    return [str(getattr(text, "text", text)) for text in texts]


def with_texts(value: Any, text: str, key: str = "") -> Any:
    """A copy of an export in which every text that a person may choose is another one."""
    if isinstance(value, dict):
        return {k: with_texts(v, text, "name" if key == "people" else k) for k, v in value.items()}
    if isinstance(value, list):
        return [with_texts(one, text, key) for one in value]
    return text if key in FREE_TEXTS and (value is None or isinstance(value, str)) else value


def kept_numbers(exported: dict[str, Any]) -> Iterator[float]:
    """What was measured and judged, as kept."""
    for point in points(exported):
        yield from (pull["torque_newton_metre"] for pull in point["pulls"])
        if point["threshold"] is None or point["threshold"]["sides"] in ("separated", "mixed"):
            for key in ("deviation_percent", "expanded_percent", "low_percent", "high_percent"):
                yield point["counted"][key]
            yield from (point["mean_newton_metre"], point["bolts_get_percent"])


@needs_schema
@pytest.mark.parametrize("name", NAMES)
def test_it_is_valid_after_the_published_schema(name: str) -> None:
    assert faults(dcc_of(export(name), workshop="Tern Point")) == []


@needs_schema
@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("name", ["adjusted", "yes or no", "stopped", "paper", "hung"])
def test_no_text_a_person_chose_breaks_it(name: str, text: str) -> None:
    assert faults(dcc_of(with_texts(export(name), text), workshop=text)) == []


@pytest.mark.parametrize("name", ["markup", "one long word", "many words"])
def test_a_text_stays_a_text_and_whole(name: str) -> None:
    content = dcc_of(with_texts(export("adjusted"), HOSTILE[name]), workshop="")
    contents = found(etree.fromstring(content), "//dcc:statement/dcc:declaration/dcc:content")
    assert HOSTILE[name] in contents  # the note of the seal
    assert b"<!DOCTYPE" not in content and b"<!ENTITY" not in content


def test_a_character_that_xml_cannot_hold_is_shown_by_its_number() -> None:
    content = dcc_of(with_texts(export("stopped"), HOSTILE["no characters of XML"]), workshop="")
    assert "damaged: a\\u0000b\\u000bc\\u001f\\ufffe\\ud800" in content.decode()


@needs_schema
@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("//dcc:status", "asFound"),
        ("//dcc:conformity", "ok"),
        ("//si:coverageFactor", "0.5"),
        ("//si:value", "1,5"),
        ("//dcc:mandatoryLangCodeISO639_1", "English"),
    ],
)
def test_the_schema_refuses_what_is_not_so(path: str, text: str) -> None:
    root = written("adjusted")
    root.findall(f".{path}", NAMESPACES)[0].text = text
    assert faults(etree.tostring(root)) != []


@pytest.mark.parametrize("name", NAMES)
def test_the_same_record_gives_the_same_bytes(name: str) -> None:
    first = dcc_of(export(name), workshop="Tern Point")
    assert dcc_of(deepcopy(export(name)), workshop="Tern Point") == first
    assert dcc_of(json.loads(json.dumps(export(name))), workshop="Tern Point") == first


@pytest.mark.parametrize("name", NAMES)
def test_every_digit_is_there(name: str) -> None:
    root = written(name)
    values = found(root, "//si:value | //si:valueXMLList | //si:valueExpandedMU")
    there = {number for text in values for number in text.split()}
    assert {repr(number) for number in kept_numbers(export(name))} - there == set()


def test_what_was_typed_keeps_its_zeros() -> None:
    exported = deepcopy(export("one point"))
    (said,) = exported["content"]["verdicts"].values()
    said["content"]["points"][0]["target"] = "100.00 N·m"
    root = etree.fromstring(dcc_of(exported, workshop=""))
    assert found(root, "//dcc:quantity[@refType='basic_nominalValue']/si:real/si:value") == ["100.00"]


def test_the_phase_that_stands_is_the_result_and_the_one_before_is_history() -> None:
    root = written("adjusted")
    results = "//dcc:measurementResult/dcc:results//dcc:quantity[@refType='basic_referenceValue']"
    assert found(root, f"{results}//si:valueXMLList")[0] == "19.95 20 20.05"
    history = "//dcc:influenceCondition[dcc:status='beforeAdjustment']"
    assert found(root, f"{history}//si:valueXMLList")[0] == "18.9 19 18.95"
    assert len(found(root, "//dcc:measurementResult")) == 1


def test_a_pull_that_was_struck_out_stands_there_with_its_reason() -> None:
    root = written("adjusted")
    remarks = "//dcc:metaData[dcc:name/dcc:content='Pull 1, not counted']"
    assert found(root, f"{remarks}/dcc:declaration/dcc:content") == ["22.2 N·m: struck out: slipped"]
    assert found(root, f"{remarks}//si:value") == ["22.2"]


def test_the_verdict_of_a_point_leads_to_the_rule_and_has_its_limits() -> None:
    root = written("adjusted")
    verdicts = "//dcc:results//dcc:metaData[@refType='basic_conformity']"
    assert found(root, f"{verdicts}/dcc:conformity") == ["pass"] * 3
    assert set(found(root, f"{verdicts}/@refId")) == {"decision-rule"}
    assert found(root, "//dcc:statement[@id='decision-rule']/@refType") == ["basic_decisionRule"]
    assert found(root, f"{verdicts}//si:value")[:2] == ["-4", "4"]


@pytest.mark.parametrize(
    ("verdict", "deviation", "word"),
    [
        ("in", 1.0, "pass"),
        ("out", 6.0, "fail"),
        ("cant-tell", -3.5, "conditionalPass"),
        ("cant-tell", 4.5, "conditionalFail"),
    ],
)
def test_a_verdict_in_the_words_of_the_schema(verdict: str, deviation: float, word: str) -> None:
    exported = deepcopy(export("one point"))
    point = next(points(exported))
    point["verdict"], point["counted"]["deviation_percent"] = verdict, deviation
    root = etree.fromstring(dcc_of(exported, workshop=""))
    assert found(root, "//dcc:conformity") == [word]


def test_answers_of_one_side_alone_have_no_deviation_and_no_word_of_conformity() -> None:
    root = written("all clicks")
    assert found(root, "//dcc:quantity[@refType='basic_measurementError']") == []
    assert found(root, "//dcc:conformity") == []
    assert found(root, "//dcc:metaData[@refType='basic_conformity']//si:value") == ["-4", "4"]
    assert found(root, "//dcc:charsXMLList") == ["click click click"]


def test_yes_and_no_stand_beside_the_torque_of_each_trial() -> None:
    root = written("yes or no")
    assert found(root, "//dcc:charsXMLList") == ["click no-click click click no-click"]
    assert [len(text.split()) for text in found(root, "//si:valueXMLList")] == [5, 5]


def test_a_unit_outside_the_si_stands_behind_the_si_and_is_declared() -> None:
    root = written("pounds")
    nominal = "//dcc:quantity[@refType='basic_nominalValue']/si:hybrid/si:real"
    assert found(root, f"{nominal}/si:unit") == [r"\newton\metre", "|lbf.ft"]
    assert found(root, f"{nominal}/si:value") == ["94.90725638319803", "70"]
    assert found(root, "//dcc:nonSIUnit") == ["lbf.ft"]
    assert found(root, "//dcc:nonSIDefinition") == ["1 lbf.ft = 1.3558179483314004 N.m"]
    assert found(written("adjusted"), "//dcc:nonSIUnit") == []


def test_the_uncertainty_is_that_of_the_record_with_the_factor_it_has() -> None:
    root = written("one point")
    counted = next(points(export("one point")))["counted"]
    (factor,) = found(root, "//si:coverageFactor")
    expected = counted["expanded_percent"] / counted["standard_uncertainty_percent"]
    assert abs(Decimal(factor) - Decimal(expected)) <= Decimal("0.0005")
    assert found(root, "//si:coverageProbability") == ["0.95"]


def test_without_a_certificate_it_says_so_and_claims_nothing() -> None:
    root = written("one point")
    assert found(root, "//dcc:traceable") == ["false"]
    assert "none: not traceable" in found(root, "//dcc:measuringEquipment/dcc:description/dcc:content")
    assert found(root, "//dcc:measuringEquipment/dcc:identifications") == []
    assert "ISO/IEC 17025" not in etree.tostring(root, encoding="unicode")


def test_with_a_certificate_its_number_is_there() -> None:
    root = written("paper")
    assert found(root, "//dcc:measuringEquipment//dcc:identification/dcc:value") == ["TPB-0042"]
    assert found(root, "//dcc:traceable") == []


def test_number_and_digests_identify_it() -> None:
    exported = export("adjusted")
    values = found(written("adjusted"), "//dcc:coreData/dcc:identifications/dcc:identification/dcc:value")
    entry = exported["entry"]
    assert values == ["1", exported["digest"], str(entry["number"]), entry["digest"]]


def test_who_sealed_it_is_the_responsible_person_and_a_forgotten_one_is_nobody() -> None:
    assert found(written("adjusted"), "//dcc:respPerson//dcc:content") == ["Quill"]
    assert found(written("adjusted"), "//dcc:mainSigner") == ["true"]
    forgotten = {**export("adjusted"), "people": {}}
    root = etree.fromstring(dcc_of(forgotten, workshop=""))
    assert found(root, "//dcc:respPerson//dcc:content") == ["nobody named"]


def test_a_stopped_check_says_why_and_has_no_quantity() -> None:
    root = written("stopped")
    texts = found(root, "//dcc:results//dcc:text/dcc:content")
    assert texts[0] == "Nothing was judged." and "Looked over: damaged: ratchet cracked" in texts
    assert found(root, "//dcc:quantity") == []


def test_a_correction_stands_with_the_record() -> None:
    texts = found(written("adjusted"), "//dcc:statement/dcc:declaration/dcc:content")
    assert "Wrong: the title" in texts and "Right: mid-season" in texts


def test_a_record_that_was_changed_after_sealing_says_so() -> None:
    changed = {**export("one point"), "is_intact": False}
    assert "no longer has the digest" in dcc_of(changed, workshop="").decode()


def test_where_u_is_smaller_than_its_standard_uncertainty_the_interval_says_it_alone() -> None:
    exported = deepcopy(export("one point"))
    counted = next(points(exported))["counted"]
    counted["expanded_percent"] = counted["standard_uncertainty_percent"] * 0.9
    root = etree.fromstring(dcc_of(exported, workshop=""))
    assert found(root, "//si:coverageFactor") == []
    assert repr(counted["low_percent"]) in found(root, "//si:value")


def test_a_check_begun_on_an_earlier_day_names_both_and_one_from_a_file_its_own() -> None:
    path = "//dcc:beginPerformanceDate | //dcc:endPerformanceDate"
    earlier = deepcopy(export("adjusted"))
    earlier["content"]["opened"]["at"] = "2026-11-20T09:00:00.000Z"
    assert found(etree.fromstring(dcc_of(earlier, workshop="")), path) == ["2026-11-20", "2026-11-25"]
    kept_late = deepcopy(export("one point"))
    kept_late["content"]["opened"]["at"] = "2026-11-01T09:00:00.000Z"
    assert found(etree.fromstring(dcc_of(kept_late, workshop="")), path) == ["2026-11-20"] * 2


def test_a_made_up_workshop_is_marked() -> None:
    names = "//dcc:statement/dcc:name/dcc:content"
    marked = etree.fromstring(dcc_of(export("one point"), workshop="Tern Point", is_demo=True))
    assert found(marked, names)[0] == "DEMO" and "DEMO" not in found(written("one point"), names)


@pytest.mark.parametrize("room", [None, 21.5])
def test_only_conditions_that_were_said_stand_there(room: float | None) -> None:
    exported = deepcopy(export("one point"))
    (said,) = exported["content"]["verdicts"].values()
    said["content"]["conditions"] = dict.fromkeys(said["content"]["conditions"]) | {"room_celsius": room}
    root = etree.fromstring(dcc_of(exported, workshop=""))
    assert found(root, "//dcc:influenceCondition//si:value") == ([] if room is None else ["21.5"])
    assert len(found(root, "//dcc:influenceCondition")) == 1
