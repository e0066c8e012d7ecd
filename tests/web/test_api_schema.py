"""Whatever is sent to the interface for programs: an answer as it is described, and never our own fault."""

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis import Case
from schemathesis.specs.openapi.checks import allow_header_conformance, positive_data_acceptance
from starlette.testclient import TestClient

from desk.bench_shop import WRENCH, BenchShop, bench_shop
from desk.hung_shop import hung_shop
from forms import BEAM
from steelyard.bootstrap import Workshop
from steelyard.desk import AS_FOUND, add_person, add_rig, read_pull, record_file
from steelyard.web import make_app
from web.shop import HOME, make_workshop
from web.test_every_page import NASTY

OURS = {"Host": "127.0.0.1", "Origin": HOME}
APP = make_app(make_workshop())
schemathesis.serializer.alias("application/toml", "application/octet-stream")
schema = schemathesis.openapi.from_asgi("/api/openapi.json", APP, headers=OURS)
bounded = settings(
    max_examples=10, derandomize=True, database=None, deadline=None, suppress_health_check=list(HealthCheck)
)
NASTY_JSON: tuple[Any, ...] = (*NASTY, "\ud800", None, 5, -1, 2**70, True, ["a"], ["\ud800"], {"a": "\ud800"})
STANDS = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"}
TOOL, RIG, CHECK = "/api/tools/{tool}", "/api/rigs/{rig}", "/api/checks/{check}"
GOOD: Mapping[str, Mapping[str, Any]] = {
    "post /api/tools": {**WRENCH, "number": "T-05"},
    f"put {TOOL}": WRENCH,
    "post /api/records/{record}/signature": {},
    "post /api/key/copy": {"phrase": "seven herons on a slip", "again": "seven herons on a slip"},
    "post /api/key/back": {"lines": "0000 " * 20, "copy_of_key": "", "phrase": ""},
    "post /api/key/new": {"known": ""},
    "post /api/keys": {"public": "ab" * 32, "name": "the boatyard"},
    "post /api/keys/drop": {"public": "ab" * 32},
    f"post {TOOL}/event": {"what": "lent", "note": "rigger"},
    f"post {TOOL}/pivot": {
        "near_load": "25 ± 0.02",
        "near_arm": "300 ± 0.5",
        "far_load": "15.3846 ± 0.02",
        "far_arm": "470 ± 0.5",
    },
    f"post {TOOL}/quarantine": {"reason": "bent"},
    f"post {TOOL}/release": {"reason": "straight"},
    f"post {TOOL}/retire": {"why": "worn"},
    f"post {TOOL}/return": {"why": "found"},
    "post /api/rigs": {
        "sort": "scale",
        "name": "S-1",
        "step": "5",
        "knows": "mass",
        "within": "10",
        "notes": "",
    },
    f"put {RIG}": {
        "name": "A-1",
        "resolution": "0.1",
        "stated_of_reading": "0.5",
        "drift": "0.1",
        "notes": "",
    },
    f"post {RIG}/sold": {"note": "given away"},
    "post /api/rigs/weigh/{way}": {
        "with": "100.2",
        "without": "80.1",
        "name": "P-20",
        "scale": "",
        "mass": "",
    },
    "post /api/checks": {"tool": "00000001", "why": "due", "title": "spring", "note": "first"},
    f"post {CHECK}/look": {"damaged": "yes", "goes_on": "yes", "look_note": "scratched"},
    f"post {CHECK}/kit": {"rig": "00000002", "plan": "full", "targets": "", "pulls": ""},
    f"post {CHECK}/set-up": {**STANDS, "zero_reading": "0", "room_temperature": "20", "load_0": ""},
    f"post {CHECK}/exercise": {"exercise_pulls": "5"},
    f"post {CHECK}/verdict": {"phase": "as-found", "incomplete": "no"},
    f"post {CHECK}/adjust": {"turns": "1/4", "way": "in", "turn_note": ""},
    f"post {CHECK}/turns/{{turn}}/way": {"way": "out"},
    f"post {CHECK}/lock": {"lock_note": "nut tight"},
    f"post {CHECK}/waive": {"waive_reason": "sold on"},
    f"post {CHECK}/close": {"next_due": "2027-11-25", "close_note": "", "release": "", "quarantine": ""},
    f"post {CHECK}/{{phase}}/{{point}}": {"line": "19.6", "sure": "", "never_clicked": "", "sent_twice": ""},
    f"post {CHECK}/trials": {"load": "M-10 + M-2", "clicked": "yes", "set": "59", "at": "460", "sure": ""},
    f"post {CHECK}/runs": {"shows": "12.6", "scale": "S-2", "beside": "", "ended": "clicked", "sure": ""},
    f"post {CHECK}/water": {"dribble": "20"},
    f"post {CHECK}/pulls/{{pull}}/strike": {"reason": "the hand slipped"},
    f"post {CHECK}/pulls/{{pull}}/take-back": {},
    "post /api/records/{record}/correction": {"wrong": "the date", "right": "the day before"},
    "put /api/settings": {"name": "Tern Point", "latitude": "54.3", "height": "12", "decimal_mark": ","},
    "post /api/people": {"person": "rigger"},
    "post /api/reckon/{question}": {"typed": {"want": "50 N·m"}, "forms": []},
}
"""What may be sent to each operation that takes texts."""
HUNG = ("/trials", "/runs", "/water")
"""Ends of addresses that need a kit on which weights hang."""


def names_in(desk: BenchShop) -> dict[str, Any]:
    """What is there, by the names of the parameters."""
    pull = read_pull(desk.acting, desk.check, AS_FOUND, 0, {"line": "19.6"}).number
    person = add_person(desk.acting, {"person": "engine shop"}).key
    digest = desk.workshop.ledger.keep_file(b"picture", "image/jpeg")
    add_rig(desk.acting, "scale", {"name": "S-2", "step": "100", "knows": "mass", "class": "III"})
    names = {"tool": desk.tool, "rig": desk.rig, "check": desk.check, "pull": pull, "digest": digest}
    names["turn"] = 1
    names |= {"key": person, "phase": "as-found", "point": 0, "record": 1}
    return {**names, "question": "torque", "way": "difference"}


def fresh() -> BenchShop:
    """A workshop with a check in hand."""
    desk = bench_shop()
    desk.stand()
    return desk


@cache
def with_record() -> Workshop:
    """A workshop with a sealed record."""
    workshop = make_workshop()
    record_file(workshop.acting(), BEAM.encode())
    return workshop


@pytest.fixture
def desk() -> BenchShop:
    """A workshop with a check in hand, made anew for each operation."""
    return fresh()


@pytest.fixture
def names(desk: BenchShop) -> dict[str, Any]:
    """What is there."""
    return names_in(desk)


def put_behind(desk: BenchShop, path: str) -> dict[str, Any]:
    """Put the workshop behind the interface, another with a record where that is wanted; what is there."""
    if path.endswith(HUNG):
        hung = hung_shop()
        hung.hang(targets="60")
        APP.state.workshop = hung.workshop
        return {"check": hung.check}
    names = names_in(desk)
    APP.state.workshop = with_record() if "{record}" in path else desk.workshop
    return names


def hold(case: Case[Any]) -> None:
    """Send it; raises where the answer is our fault or not as described.

    Left out: that a text is a text does not make it a torque, so it may be refused; and of two operations at
    one address the framework names the first alone in `Allow`.
    """
    case.call_and_validate(headers=OURS, excluded_checks=[allow_header_conformance, positive_data_acceptance])


@schema.parametrize()
@bounded
def test_whatever_is_asked_is_answered_as_described(case: Case[Any], desk: BenchShop) -> None:
    APP.state.workshop = desk.workshop
    hold(case)


@schema.parametrize()
@bounded
def test_whatever_is_asked_of_what_is_there_is_answered_as_described(
    case: Case[Any], desk: BenchShop, names: dict[str, Any]
) -> None:
    APP.state.workshop = with_record() if "{record}" in case.path else desk.workshop
    there = {**names, "point": case.path_parameters.get("point")}
    case.path_parameters = {name: there.get(name, value) for name, value in case.path_parameters.items()}
    case.headers.pop("Steelyard-Person", None)
    hold(case)


def test_every_operation_that_takes_texts_is_tried() -> None:
    taking = {
        f"{method} {path}"
        for path, methods in APP.openapi()["paths"].items()
        for method, operation in methods.items()
        if "application/json" in operation.get("requestBody", {}).get("content", {})
    }
    assert taking == set(GOOD)


@pytest.mark.parametrize("operation", GOOD)
def test_no_text_in_any_field_is_our_fault(operation: str) -> None:
    method, _, path = operation.partition(" ")
    good = GOOD[operation]
    with TestClient(APP, base_url=HOME, headers=OURS) as client:
        for field in (*good, "submission", "seen", "x", "\ud800"):
            place = path.format(**put_behind(fresh(), path))
            for value in NASTY_JSON:
                answer = client.request(
                    method,
                    place,
                    content=json.dumps({**good, field: value}),
                    headers={"Content-Type": "application/json"},
                )
                told = answer.json()
                assert answer.status_code in (200, 201, 404, 409, 422), (field, value, answer.text)
                if answer.status_code >= 400:
                    assert set(told) == {"error", "field", "sentence", "try_again"}


def test_the_good_texts_are_taken() -> None:
    with TestClient(APP, base_url=HOME, headers=OURS) as client:
        for operation, good in GOOD.items():
            method, _, path = operation.partition(" ")
            answer = client.request(method, path.format(**put_behind(fresh(), path)), json=good)
            refusing = ("verdict", "adjust", "turns", "lock", "close", "question", "/key/", "signature")
            if answer.status_code >= 400 and not any(word in path for word in refusing):
                raise AssertionError(f"{operation}: {answer.status_code}\n{answer.text}")
