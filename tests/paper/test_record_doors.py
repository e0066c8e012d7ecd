"""A record on paper from the browser, from a program and from the command line; the logo at its head."""

import io
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from paper.pdfs import elements, kinds, opened, pages, sizes, squeezed, whole
from paper.sealed_forms import form
from sealed import adjusted, stopped, tool, transducer
from steelyard.bootstrap import LEDGER_FILE, fill_demo, workshop
from steelyard.cli.main import run
from steelyard.desk import record_export, record_file, set_workshop, settings
from steelyard.desk.on_paper import drop_logo, keep_logo, record_to_print
from steelyard.paper import record_paper
from steelyard.words import say
from web.shop import Shop, make_workshop, shop

A4, LETTER = (595, 842), (612, 792)
YES_NO = 18
"""The record of the made-up workshop whose pulls are yes/no answers, with turns and a lock."""


@pytest.fixture
def bare() -> Iterator[Shop]:
    with shop() as opened_shop:
        yield opened_shop


def picture(kind: str = "PNG", size: tuple[int, int] = (600, 200)) -> bytes:
    """A picture of one colour."""
    file = io.BytesIO()
    Image.new("RGB", size, "navy").save(file, kind)
    return file.getvalue()


def test_the_page_of_a_record_leads_to_its_paper(bare: Shop) -> None:
    acting = bare.workshop.acting()
    record = adjusted(acting, tool(acting), transducer(acting))
    assert f'href="/book/{record}/record.pdf"' in bare.page(f"/book/{record}")
    answer = bare.client.get(f"/book/{record}/record.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == f'attachment; filename="record-{record}.pdf"'
    assert sizes(answer.content) == {A4}
    assert answer.content == bare.client.get(f"/api/records/{record}/paper").content
    assert sizes(bare.client.get(f"/book/{record}/record.pdf?page=letter").content) == {LETTER}
    with opened(answer.content) as pdf:
        inside = pdf.attachments["record.json"].get_file().read_bytes()
    assert inside == bare.client.get(f"/book/{record}/content.json").content


def test_a_size_or_a_record_that_is_not_there_is_refused(bare: Shop) -> None:
    record_file(bare.workshop.acting(), form(1).encode())
    assert bare.client.get("/book/1/record.pdf?page=a0").status_code == 422
    assert bare.client.get("/book/2/record.pdf").status_code == 404


def test_the_whole_of_an_adjusted_record_stands_there(bare: Shop) -> None:
    acting = bare.workshop.acting()
    record = adjusted(acting, tool(acting), transducer(acting))
    said = whole(record_paper(record_to_print(bare.workshop.ledger, record)).content)
    for sentence in (
        "As found: OUT",
        "struck out: slipped",
        "The adjuster",
        "1/4 turn, in",
        "stiff",
        "As left: IN",
        "spring is old",
        "Next check by 2027-11-25",
        "launching day",
    ):
        assert sentence in said, sentence
    with opened(record_paper(record_to_print(bare.workshop.ledger, record)).content) as pdf:
        assert set(pdf.attachments) == {"record.json", "check-as-found.toml", "check-as-left.toml", "dcc.xml"}


def test_a_check_that_was_stopped_has_a_paper_too(bare: Shop) -> None:
    acting = bare.workshop.acting()
    record = stopped(acting, tool(acting))
    content = record_paper(record_to_print(bare.workshop.ledger, record)).content
    said = whole(content)
    assert "damaged: ratchet cracked" in said
    assert "What makes the ±" not in said
    with opened(content) as pdf:
        assert set(pdf.attachments) == {"record.json", "dcc.xml"}


@pytest.fixture(scope="module")
def made_up() -> bytes:
    demo = make_workshop(is_demo=True)
    fill_demo(demo)
    printed = record_to_print(demo.ledger, YES_NO)
    return record_paper(printed, is_demo=demo.is_demo).content


def test_yes_no_answers_stand_grouped_as_on_the_page(made_up: bytes) -> None:
    said = whole(made_up)
    for sentence in (
        "What hung Tried, N·m Against set Answers (which)",
        "click ×3 (3, 5, 6)",
        say("chart-trials-title"),
        "After turn 1, struck out: the adjuster was turned again.",
        "Locked: nut tight",
        "Use a hook that cannot slip off",
    ):
        assert sentence in said, sentence
    with opened(made_up) as pdf:
        assert kinds(pdf)["Figure"] == 5  # all deviations, and the answers of two points twice
        assert all(str(one.Alt).strip() for one in elements(pdf) if one.S == "/Figure")
        assert pdf.check_pdf_syntax() == []


def test_each_page_of_a_made_up_workshop_is_marked_so(made_up: bytes) -> None:
    found = pages(made_up)
    assert all("DEMO: made-up workshop, nothing is real" in page for page in found)
    assert all("DEMO" in page.replace("DEMO: made-up", "") for page in found)


def test_a_real_one_is_not(bare: Shop) -> None:
    record_file(bare.workshop.acting(), form(1).encode())
    assert b"DEMO" not in whole(bare.client.get("/book/1/record.pdf").content).encode()


def test_the_paper_follows_the_settings(bare: Shop) -> None:
    record_file(bare.workshop.acting(), form(1).encode())
    set_workshop(bare.workshop.acting(), {"unit": "lbf·ft"})
    assert sizes(bare.client.get("/book/1/record.pdf").content) == {LETTER}
    bare.send("/settings", unit="lbf·ft", paper="a4", name="Tern Point", decimal_mark=",")
    content = bare.client.get("/book/1/record.pdf").content
    assert sizes(content) == {A4}
    assert "Tern Point Record 1" in whole(content)
    assert "19,80" in whole(content)
    assert '<option value="a4" selected>' in bare.page("/settings")
    assert 'id="f-paper-trouble"' in bare.send("/settings", 422, paper="a0")


@pytest.mark.parametrize(("kind", "size"), [("PNG", (600, 200)), ("JPEG", (900, 60))])
def test_a_logo_is_shown_and_printed_until_it_is_taken_away(
    bare: Shop, kind: str, size: tuple[int, int]
) -> None:
    record_file(bare.workshop.acting(), form(1).encode())
    plain = bare.client.get("/book/1/record.pdf").content
    bare.client.post("/settings/logo", files={"logo": ("l.png", picture(kind, size), "image/png")})
    digest = settings(bare.workshop.ledger).logo
    assert f'src="/files/{digest}"' in bare.page("/settings")
    with opened(bare.client.get("/book/1/record.pdf").content) as pdf:
        (logo,) = [one for one in elements(pdf) if one.S == "/Figure" and "Logo of" in str(one.Alt)]
        assert str(logo.Alt) == "Logo of Workshop"
    bare.send("/settings/logo/drop")
    assert settings(bare.workshop.ledger).logo is None
    assert bare.client.get("/book/1/record.pdf").content == plain
    assert "/files/" not in bare.page("/settings")


def test_a_logo_that_is_no_picture_is_refused_beside_its_field(bare: Shop) -> None:
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    answer = bare.client.post("/settings/logo", files={"logo": ("l.svg", drawing, "image/svg+xml")})
    assert answer.status_code == 422
    assert 'id="f-logo-trouble"' in answer.text
    assert settings(bare.workshop.ledger).logo is None


def test_a_logo_stays_where_the_settings_are_kept_again(bare: Shop) -> None:
    bare.client.post("/settings/logo", files={"logo": ("l.png", picture(), "image/png")})
    bare.send("/settings", name="Tern Point")
    assert settings(bare.workshop.ledger).logo
    assert bare.client.get("/api/settings").json()["logo"] == settings(bare.workshop.ledger).logo
    bare.client.delete("/api/settings/logo")
    assert settings(bare.workshop.ledger).logo is None


def test_a_logo_first_leaves_the_first_questions_to_be_asked(bare: Shop) -> None:
    sent = bare.client.put("/api/settings/logo", content=picture(), headers={"Content-Type": "image/png"})
    assert sent.status_code == 200
    assert not settings(bare.workshop.ledger).is_set


def test_verifying_misses_a_logo_that_is_gone(tmp_path: Path) -> None:
    with workshop(tmp_path) as own:
        keep_logo(own.acting(), *own.darkroom.develop(picture()))
        drop_logo(own.acting())
        assert own.verify().is_whole
    with closing(sqlite3.connect(tmp_path / LEDGER_FILE)) as connection, connection:
        connection.execute("DELETE FROM file")
    with workshop(tmp_path) as own:
        assert [finding.code for finding in own.verify().findings] == ["file-missing"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with workshop(tmp_path / "shop") as own:
        record_file(own.acting(), form(1, title="yard \U0001f527").encode())
    return tmp_path / "shop"


def test_the_command_writes_a_new_file_and_says_what_it_could_not_show(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "r.pdf"
    asked = ["paper", "1", "--data", str(folder), "--out", str(out)]
    assert run([*asked, "--page", "letter"]) == 0
    told = capsys.readouterr()
    assert told.out == f"Record 1 is written to {out}\n"
    assert "U+1F527" in told.err
    assert sizes(out.read_bytes()) == {LETTER}
    assert run(asked) == 3
    assert "a file that is not there yet" in capsys.readouterr().err


def test_the_command_hands_it_on_and_does_not_fill_a_screen(
    folder: Path, capsysbinary: pytest.CaptureFixture[bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run(["paper", "1", "--data", str(folder)]) == 0
    assert capsysbinary.readouterr().out.startswith(b"%PDF-1.7")
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    assert run(["paper", "1", "--data", str(folder)]) == 3
    assert run(["paper", "9", "--data", str(folder)]) == 3
    monkeypatch.setattr("sys.stdout.isatty", lambda: False)
    assert run(["paper", "9", "--data", str(folder)]) == 4


def test_the_number_of_a_certificate_alone_makes_it_traceable(bare: Shop) -> None:
    record_file(bare.workshop.acting(), form(1).encode())
    said = whole(bare.client.get("/book/1/record.pdf").content).lower()
    assert "no certificate: not traceable" in said
    assert re.findall(r"certified|accredited|calibrat\w+", said) == []


def test_what_was_changed_after_sealing_is_said(bare: Shop) -> None:
    record_file(bare.workshop.acting(), form(1).encode())
    printed = record_to_print(bare.workshop.ledger, 1)
    changed = replace(printed, view=replace(printed.view, is_intact=False))
    assert "changedaftersealing" in squeezed(whole(record_paper(changed).content))
    assert record_export(bare.workshop.ledger, 1)["is_intact"]
