"""A record on paper as programs and readers that speak see it: marks, tags, fonts, attachments, order."""

import json
import re
from collections.abc import Iterator

import pikepdf
import pytest

from paper.pdfs import PARTS, elements, fonts, kinds, opened, pages, sizes, squeezed, whole
from paper.sealed_forms import form, on_paper, sealed
from steelyard.desk import record_export, record_form
from steelyard.desk.on_paper import record_to_print
from steelyard.paper import Paper, record_paper
from steelyard.paper.dcc import dcc_of
from web.shop import make_workshop

A4, LETTER = (595, 842), (612, 792)


@pytest.fixture(scope="module")
def paper() -> Paper:
    return on_paper(form())


@pytest.fixture(scope="module")
def pdf(paper: Paper) -> Iterator[pikepdf.Pdf]:
    with opened(paper.content) as one:
        yield one


def test_it_says_that_it_is_pdf_a_3a_and_pdf_ua_1(pdf: pikepdf.Pdf) -> None:
    # ISO 19005-3:2012, 6.6.4; ISO 14289-1:2014, 5: names and values from memory.
    with pdf.open_metadata() as said:
        archive, access = PARTS
        assert (said[f"{archive}part"], said[f"{archive}conformance"], said[f"{access}part"]) == (
            "3",
            "A",
            "1",
        )


def test_its_syntax_is_clean(pdf: pikepdf.Pdf) -> None:
    assert pdf.check_pdf_syntax() == []


def test_it_is_tagged_and_has_title_and_language(pdf: pikepdf.Pdf) -> None:
    assert pdf.Root.MarkInfo.Marked
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    assert str(pdf.Root.Lang) == "en"
    assert str(pdf.docinfo.Title) == "Record 1: in-house check of torque tool T-04"


def test_its_headings_and_tables_are_tagged_as_such(pdf: pikepdf.Pdf) -> None:
    found = kinds(pdf)
    assert (found["H1"], found["Table"]) == (1, 4)  # three points, one budget
    assert found["H2"] >= 6
    assert found["TH"] == 3 * 4 + 4
    assert found["TD"] >= 3 * 5 * 4


def test_each_figure_has_words_that_say_the_same(pdf: pikepdf.Pdf) -> None:
    figures = [one for one in elements(pdf) if one.S == "/Figure"]
    assert figures
    assert all("20 N·m" in str(one.Alt) for one in figures)


def test_every_font_is_inside_and_can_be_read_back(pdf: pikepdf.Pdf) -> None:
    whole_fonts = [font for font in fonts(pdf) if "/DescendantFonts" in font]
    assert whole_fonts
    for font in whole_fonts:
        assert "/ToUnicode" in font
        descriptor = font.DescendantFonts[0].FontDescriptor
        assert {"/FontFile2", "/FontFile3"} & set(descriptor.keys())


def test_record_and_forms_lie_inside_as_they_are_exported() -> None:
    workshop = make_workshop()
    sealed(form(), workshop)
    printed = record_to_print(workshop.ledger, 1)
    export = record_export(workshop.ledger, 1)
    with opened(record_paper(printed).content) as pdf:
        inside = {name: each.get_file() for name, each in pdf.attachments.items()}
        kept = {name: file.read_bytes() for name, file in inside.items()}
        kinds_of = {name: file.mime_type for name, file in inside.items()}
        assert len(pdf.Root.AF) == 3
    assert kept == {
        "record.json": printed.files["record.json"],
        "check-as-found.toml": record_form(workshop.ledger, 1, "as-found"),
        "dcc.xml": dcc_of(export, workshop=printed.workshop.name),
    }
    assert kinds_of["record.json"] == "application/json"
    assert json.loads(kept["record.json"]) == export


def test_it_is_read_in_the_order_of_the_page(paper: Paper) -> None:
    said = whole(paper.content)
    wanted = [
        "Workshop Record 1",
        "In-house check of torque tool T-04",
        "IN, as found",
        "What was checked",
        "no certificate: not traceable",
        "Deviation of each point",
        "As found: IN",
        "20 N·m clockwise bolts get 1.0 % LESS than set limit ±4 %: IN ISO deviation",
        "Pull Torque in N·m ISO deviation As typed 1 19.80 +1.01 % 19.8 N·m 2",
        "80 N·m clockwise bolts get",
        "Pattern",
        "Doubts Note: The kit has no certificate",
        "What it does not claim An in-house check.",
        "What makes the ±",
        "together, ± at 95 %",
        "How the kit stood",
        "Seal Record 1 Entry",
        "For machines",
    ]
    places = [said.find(sentence) for sentence in wanted]
    assert -1 not in places, wanted[places.index(-1)]
    assert places == sorted(places)


def test_it_bears_the_digests_of_the_record() -> None:
    printed = sealed(form())
    said = squeezed(whole(record_paper(printed).content))
    assert printed.view.entry_digest in said
    assert printed.view.body["closed"]["digest"] in said


def test_the_same_record_gives_the_same_bytes() -> None:
    printed = sealed(form())
    assert record_paper(printed).content == record_paper(printed).content


def test_its_only_time_is_that_of_the_seal(pdf: pikepdf.Pdf) -> None:
    assert {str(pdf.docinfo[name])[:14] for name in ("/CreationDate", "/ModDate")} == {"D:202611250900"}
    with pdf.open_metadata() as said:
        assert said["xmp:CreateDate"][:16] == said["xmp:ModifyDate"][:16] == "2026-11-25T09:00"


def test_three_points_of_five_pulls_take_a_page_and_one_for_their_budget(paper: Paper) -> None:
    first, second = pages(paper.content)
    assert "80 N·m clockwise" in first
    assert "What it does not claim" in first
    assert second.startswith("What makes the ±")
    assert ("Page 1 of 2" in first, "Page 2 of 2" in second) == (True, True)
    assert all("Record 1, entry " in page for page in (first, second))


def test_three_points_fit_on_letter_too() -> None:
    content = record_paper(sealed(form()), page="letter").content
    assert sizes(content) == {LETTER}
    assert len(pages(content)) == 2


def test_the_paper_is_the_workshops_or_as_asked(paper: Paper) -> None:
    assert sizes(paper.content) == {A4}


def test_twelve_points_go_on_under_heads_that_are_there_again() -> None:
    found = pages(on_paper(form(12)).content)
    assert len(found) > 2
    with_pulls = [page for page in found if re.search(r"\d\.\d\d \+\d\.\d\d %", page)]
    assert len(with_pulls) > 1
    assert all("Pull Torque in N·m ISO deviation As typed" in page for page in with_pulls)
    assert f"Page {len(found)} of {len(found)}" in found[-1]


def test_sixty_struck_out_pulls_stand_with_their_reasons_under_repeated_heads() -> None:
    found = pages(on_paper(form(3, struck=60, reason="hand slipped")).content)
    assert " ".join(found).count("struck out: hand slipped") == 60
    torn = [page for page in found if "struck out" in page]
    assert len(torn) > 1
    assert all("Pull Torque in N·m" in page for page in torn)
