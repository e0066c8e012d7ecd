"""Whatever a person typed stands on paper as text: names of any script, markup, what no font has."""

import json
import unicodedata
from dataclasses import replace
from typing import Any

import pytest

from paper.pdfs import opened, pages, place_of, rightmost, squeezed, whole
from paper.sealed_forms import form, on_paper, sealed
from steelyard.desk import correct_record, set_workshop
from steelyard.desk.on_paper import record_to_print
from steelyard.paper import record_paper
from steelyard.paper.coverage import covered, held_together, shown
from steelyard.paper.typesetting import typeset
from steelyard.words import CATALOGUE
from web.shop import HOUR, make_workshop

MARKUP = "#panic() *x* $y$ @ref <b>&amp; =1+1 _u_ `r` // /* ~ -- #let x"


def quoted(text: str) -> str:
    """A text inside a TOML string."""
    return json.dumps(text, ensure_ascii=False)[1:-1]


@pytest.mark.parametrize("field", ["title", "number", "make", "source", "kit"])
def test_markup_of_the_typesetter_is_text_in_every_field(field: str) -> None:
    typed = f"= {MARKUP}"
    text: dict[str, Any] = {field: quoted(typed)}
    found = on_paper(form(1, **text))
    assert squeezed(typed) in squeezed(whole(found.content))
    assert found.findings == ()


def test_markup_is_text_in_reasons_corrections_and_the_name_of_the_workshop() -> None:
    workshop = make_workshop()
    set_workshop(workshop.acting(), {"name": f"{MARKUP} works"})
    sealed(form(1, struck=1, reason=quoted(MARKUP)), workshop)
    correct_record(workshop.acting(), 1, {"wrong": f"{MARKUP} wrong", "right": f"{MARKUP} right"})
    said = squeezed(whole(record_paper(record_to_print(workshop.ledger, 1)).content))
    for typed in (f"{MARKUP} works", f"struck out: {MARKUP}", f"{MARKUP} wrong", f"{MARKUP} right"):
        assert squeezed(typed) in said, typed


def test_ten_thousand_letters_without_a_gap_stay_on_the_paper() -> None:
    printed = sealed(form(1))
    view = replace(printed.view, body={**printed.view.body, "title": "x" * 10_000})
    found = record_paper(replace(printed, view=view))
    assert whole(found.content).count("x") > 10_000
    assert len(pages(found.content)) > 2
    assert rightmost(found.content, "x") < 595 - 40


@pytest.mark.parametrize(
    "name",
    [
        "Werft Öland-Süd, Drehmomentprüfstand für Schlüssel und Schraubendreher, Halle 2",
        "Судоремонт Ново-Ладожский",
        "Ναυπηγείο Αίγινας",
        "Đóng tàu Hải Phòng",
    ],
)
def test_names_of_other_alphabets_stand_as_they_are_written(name: str) -> None:
    found = on_paper(form(1, title=name))
    assert squeezed(unicodedata.normalize("NFC", name)) in squeezed(whole(found.content))
    assert found.findings == ()


@pytest.mark.parametrize(("name", "font"), [("מספנת הצפון", "Hebrew"), ("ورشة السفن", "Arabic")])
def test_names_from_the_right_are_set_in_their_own_letters(name: str, font: str) -> None:
    found = on_paper(form(1, make=name))
    assert found.findings == ()
    with opened(found.content) as pdf:
        used = {str(one.get("/BaseFont")) for one in pdf.objects if hasattr(one, "get")}
    assert any(font in each for each in used)
    first, last = (place_of(found.content, letter) for letter in (name[0], name[-1]))
    assert place_of(found.content, "20 N·m to") > first > last > place_of(found.content, "adjustable,")


def test_what_follows_a_name_from_the_right_keeps_its_place() -> None:
    assert held_together("adjustable, ורשה 2 (א), 20 N·m") == "adjustable, \u2068ורשה 2 (א)\u2069, 20 N·m"
    assert held_together("kit (ורשה) 20") == "kit (\u2068ורשה\u2069) 20"
    assert held_together("ורשה and ورشة") == "\u2068ורשה\u2069 and \u2068ورشة\u2069"
    assert held_together("nothing 20 N·m") == "nothing 20 N·m"


def test_what_no_font_has_stands_as_its_number_and_is_said() -> None:
    found = on_paper(form(1, title="yard \U0001f527 工具"))
    said = whole(found.content)
    assert "yard U+1F527 U+5DE5U+5177" in said
    (finding,) = found.findings
    assert (finding.code, finding.facts["codes"]) == ("paper-unshown", "U+1F527, U+5DE5, U+5177")
    assert "their numbers stand in their place: U+1F527, U+5DE5, U+5177." in said


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("a\x00b\x07", "aU+0000bU+0007"),
        ("a\u202egnp", "aU+202Egnp"),
        ("\u2067a\u2069", "U+2067aU+2069"),
        ("\ud800", "U+D800"),
        ("\ue000\uffff", "U+E000U+FFFF"),
        ("line\tone\nline two", "line\tone\nline two"),
        ("e\u0301 ש̃ 👩\u200d🔧\ufe0f", "e\u0301 ש̃ U+1F469\u200dU+1F527\ufe0f"),
    ],
)
def test_what_would_be_obeyed_is_shown_instead(typed: str, wanted: str) -> None:
    assert shown(typed)[0] == wanted


def test_the_typesetter_has_a_picture_of_all_that_is_said_to_be_covered() -> None:
    every = [chr(one) for one in sorted(covered()) if shown(chr(one))[1] == ()]
    assert len(every) > 4000
    head = {"title": "all", "workshop": "all", "in": "all", "day": [2026, 11, 25, 9, 0, 0]}
    blank = record_paper(sealed(form(1)))
    assert blank.findings == ()
    data = {**_matter(), **head, "subtitle": " ".join(every)}
    assert typeset("record.typ", data, made=HOUR, files=_signs()).startswith(b"%PDF")


def _signs() -> dict[str, bytes]:
    from steelyard.charts import mark

    return {f"sign-{sign}.svg": mark(sign).encode() for sign in ("in", "out", "cant-tell", "no-limit")}


def _matter() -> dict[str, object]:
    section = {"head": "head", "rows": []}
    names = ("corrections", "what", "turns", "stood", "photographs", "cautions", "claims", "files", "seal")
    texts = (
        *("record", "heading", "foot", "page", "demo", "demo_mark", "logo", "logo_alt", "next", "warning"),
        *("turns_before", "photographs_why", "files_why", "seal_why"),
    )
    return {
        **dict.fromkeys(names, section),
        **dict.fromkeys(texts, ""),
        "heading": "all",
        "paper": "a4",
        "verdict": {"sign": "in", "word": "in", "phase": ""},
        "picture": None,
        "phases": [],
        "budget": {"head": "", "why": "", "tables": []},
        "starts_second_page": False,
        **dict.fromkeys(("method", "unshown", "attached"), []),
    }


def test_every_sentence_of_the_catalogue_that_a_record_can_say_can_be_shown() -> None:
    unshown = {code for code, text in CATALOGUE.items() if shown(text)[1]}
    assert {code.partition("-")[0] for code in unshown} <= {"able"}  # what a kit can decide is never printed
