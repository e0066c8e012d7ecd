"""Setting a template: whatever the typesetter complains of is our own fault, and nothing else is read."""

from pathlib import Path

import pytest

from paper.pdfs import whole
from steelyard.paper import typesetting
from steelyard.paper.typesetting import as_numbers, typeset
from web.shop import HOUR

HEAD = """\
#set document(title: "t", date: datetime(year: 2026, month: 11, day: 25))
#set text(font: "Atkinson Hyperlegible Next", lang: "en")
"""


@pytest.fixture
def templates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(typesetting, "TEMPLATES", tmp_path)
    return tmp_path


def write(folder: Path, source: str) -> None:
    """A template of that name with the usual head."""
    (folder / "one.typ").write_text(HEAD + source, "utf-8")


@pytest.mark.parametrize(
    "source",
    [
        '#set text(font: "No Such Font")\nwords',
        "\U0001f527",
        '#image("a.svg")',
        "#unknown",
        '#read("/etc/hostname")',
        '#import "@preview/nothing:1.0.0"',
    ],
)
def test_every_complaint_of_the_typesetter_is_an_error(templates: Path, source: str) -> None:
    write(templates, source)
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'
    with pytest.raises(RuntimeError):
        typeset("one.typ", {}, made=HOUR, files={"a.svg": drawing})


def test_data_files_and_other_templates_are_read(templates: Path) -> None:
    (templates / "two.typ").write_text('#let two = "from beside"', "utf-8")
    write(
        templates,
        '#import "two.typ": two\n#two #json(bytes(sys.inputs.data)).name #read("a.txt") #json("b").at(1)',
    )
    files = {"a.txt": b"of a file", "b": as_numbers(b"\x00\xff")}
    assert whole(typeset("one.typ", {"name": "*x*"}, made=HOUR, files=files)).startswith(
        "from beside *x* of a file 255"
    )


def test_a_file_never_takes_the_place_of_a_template(templates: Path) -> None:
    write(templates, "words")
    with pytest.raises(ValueError, match=r"one\.typ"):
        typeset("one.typ", {}, made=HOUR, files={"one.typ": b"other"})
    with pytest.raises(KeyError):
        typeset("three.typ", {}, made=HOUR)
