"""Certificates in the browser: a record as one, and the paper of a rig filled in from one."""

import re
from collections.abc import Iterator
from html import unescape

import pytest

import sealed
from paper.dcc.foreign import GOOD
from steelyard.desk import here as rigs_here
from steelyard.desk import record_export, set_workshop
from steelyard.paper.dcc import dcc_of, paper_of_dcc
from steelyard.words import say
from web.forms_on_page import read_page
from web.shop import Shop, make_workshop, shop

FILL = "/rigs/new/transducer/paper"
TYPED = {"name": "R-1", "resolution": "0.05", "notes": "bench", "row9_at": "7", "paper.certificate": "old"}


@pytest.fixture
def here() -> Iterator[Shop]:
    with shop() as opened:
        yield opened


def fill(here: Shop, content: bytes | None, status: int = 200, path: str = FILL) -> str:
    """Send the form as typed so far with a file; returns the page."""
    files = {"dcc": ("paper.xml", content)} if content is not None else {"dcc": ("", b"")}
    answer = here.client.post(path, data={"submission": "s1", **TYPED}, files=files)
    assert answer.status_code == status
    return answer.text


def as_typed(text: str) -> dict[str, str]:
    """What stands in the form, as a browser would send it; empty fields left out."""
    (form,) = [form for form in read_page(text).forms if "name" in form.values]
    return {
        name: value for name, value in form.values.items() if value and name not in ("submission", "seen")
    }


def test_a_record_is_there_as_a_certificate(here: Shop) -> None:
    acting = here.workshop.acting()
    set_workshop(acting, {"name": "Tern Point", "unit": "N·m"})
    sealed.adjusted(acting, sealed.tool(acting), sealed.transducer(acting))
    assert 'href="/book/1/dcc.xml"' in here.page("/book/1")
    answer = here.client.get("/book/1/dcc.xml")
    assert answer.headers["content-type"].startswith("application/xml")
    assert answer.headers["content-disposition"] == 'attachment; filename="record-1.xml"'
    assert answer.content == dcc_of(record_export(here.workshop.ledger, 1), workshop="Tern Point")
    assert here.client.get("/book/2/dcc.xml").status_code == 404


def test_the_paper_is_filled_in_and_the_rest_stays_as_typed(here: Shop) -> None:
    text = fill(here, GOOD)
    assert say("dcc-read-filled") in unescape(text)
    there = as_typed(text)
    assert there == {
        "name": "R-1",
        "resolution": "0.05",
        "notes": "bench",
        "paper.states": "torque",
        "paper.certificate": "TPB-0042",
        "paper.laboratory": "North test bench",
        "paper.issued": "2026-03-02",
        "paper.due": "2027-03-02",
        **{"row1_at": "10.15", "row1_stated": "010.120 N·m", "row1_U": "0.1976", "row1_k": "2"},
        **{"row2_at": "50.40", "row2_stated": "50.30 N·m", "row2_U": "0.09940", "row2_k": "2"},
        **{"row3_at": "100.0", "row3_stated": "99.8 N·m", "row3_U": "0.1002", "row3_k": "2"},
    }


def test_nothing_is_kept_before_the_person_says_so(here: Shop) -> None:
    before = here.workshop.ledger.head()
    text = fill(here, GOOD)
    assert here.workshop.ledger.head() == before
    typed = {**as_typed(text), "paper.worked_shows": "10.15", "paper.worked_true": "10.12"}
    answer = here.client.post("/rigs/new/transducer", data=typed, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    (rig,) = rigs_here(here.workshop.ledger).transducers
    assert [row["torque"] for row in rig["table"]["paper"]["row"]] == ["010.120 N·m", "50.30 N·m", "99.8 N·m"]


@pytest.mark.parametrize(("mark", "shown"), [(",", "10,120 N·m"), (".", "10.120 N·m")])
def test_its_numbers_have_the_mark_of_the_workshop(here: Shop, mark: str, shown: str) -> None:
    set_workshop(here.workshop.acting(), {"name": "", "unit": "N·m", "decimal_mark": mark})
    there = as_typed(fill(here, GOOD))
    assert there["row1_stated"] == shown
    worked = {"paper.worked_shows": f"10{mark}15", "paper.worked_true": f"10{mark}12"}
    here.send(
        "/rigs/new/transducer", **{name.replace(".", "__"): t for name, t in {**there, **worked}.items()}
    )
    (rig,) = rigs_here(here.workshop.ledger).transducers
    assert rig["table"]["paper"]["row"][0]["torque"] == f"0{shown}"


def test_the_paper_of_a_rig_that_is_here_is_renewed_likewise(here: Shop) -> None:
    acting = here.workshop.acting()
    rig = sealed.transducer(acting)
    text = fill(here, GOOD, path=f"/rigs/{rig}/change/paper")
    assert f'action="/rigs/{rig}/change"' in text
    assert as_typed(text)["paper.certificate"] == "TPB-0042"
    scale = {"name": "S-1", "step": "5", "knows": "mass", "within": "10"}
    other = here.send("/rigs/new/scale", **scale).split("?")[0]
    fill(here, GOOD, 404, f"{other}/change/paper")


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (None, "the file of a certificate"),
        (b"<html/>", "digitalCalibrationCertificate"),
        (GOOD.replace(b"measuredValue", b"temperature"), "a certificate of what shows a torque"),
        (GOOD.replace(rb"\newton\metre", rb"\volt"), r"“\volt” cannot be used"),
        (b"<!DOCTYPE x>" + GOOD[38:], "without a document type"),
        (b"<a>" * 200, "nested no deeper"),
        (b" " * 1_000_001, "at most 1 MB"),
    ],
)
def test_what_cannot_be_read_is_said_beside_the_field_and_nothing_typed_is_lost(
    here: Shop, content: bytes | None, part: str
) -> None:
    text = fill(here, content, 422)
    (beside,) = re.findall(r'id="f-dcc-trouble"[^>]*>(.*?)</p>', text, re.DOTALL) or [""]
    assert part in unescape(beside)
    assert {name: as_typed(text)[name] for name in ("name", "notes", "paper.certificate", "row9_at")} == {
        "name": "R-1",
        "notes": "bench",
        "paper.certificate": "old",
        "row9_at": "7",
    }


def test_enter_in_a_field_adds_the_rig_and_does_not_ask_for_a_file(here: Shop) -> None:
    form = re.findall(r'<form class="rig-form".*?</form>', here.page("/rigs/new/transducer"), re.DOTALL)[0]
    first = re.findall(r"<button[^>]*>", form)[0]
    assert 'type="submit"' in first and "formaction" not in first


def test_a_record_of_the_demo_is_marked() -> None:
    with shop(make_workshop(is_demo=True)) as opened:
        acting = opened.workshop.acting()
        sealed.stopped(acting, sealed.tool(acting))
        assert "DEMO" in opened.client.get("/book/1/dcc.xml").text


def test_a_program_reads_and_writes_the_same(here: Shop) -> None:
    acting = here.workshop.acting()
    sealed.adjusted(acting, sealed.tool(acting), sealed.transducer(acting))
    answer = here.client.get("/api/records/1/dcc")
    assert answer.content == here.client.get("/book/1/dcc.xml").content
    read = here.client.post("/api/rigs/paper", content=GOOD).json()
    assert read["paper"] == paper_of_dcc(GOOD, field="content", name="XML").table
    refused = here.client.post("/api/rigs/paper", content=b"<x/>")
    assert (refused.status_code, refused.json()["field"]) == (422, "content")
