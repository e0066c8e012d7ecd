"""What the documents promise: examples run, links lead somewhere, and nothing a person meets is left out."""

import re
import runpy
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.routing import iter_route_contexts
from PIL import Image

from steelyard import errors
from steelyard.cli.main import PARTS
from steelyard.procedures import Step
from steelyard.records import Kind, Subject
from steelyard.web import make_app
from steelyard.words import CATALOGUE, say
from web.shop import make_workshop

ROOT = Path(__file__).parent.parent
DOCS = ROOT / "docs"
PYTHON = (DOCS / "reference/python.md").read_text("utf-8")
EXAMPLES = re.findall(r"^## (.+?)$.*?```python\n(.*?)```", PYTHON, re.MULTILINE | re.DOTALL)
PAGES = sorted([*ROOT.glob("*.md"), *DOCS.rglob("*.md")])
LINK = re.compile(r"\]\((?!https?:|#)([^)#]+)")
PICTURE = re.compile(r"!\[([^\]]*)\]\(([^)]+)\)")
DEMANDED = {"README.md": 100, "docs/decisions": 60}
MOST_PICTURE_BYTES = 1_500_000
KEYS = [code.removesuffix("-does") for code in CATALOGUE if re.fullmatch(r"pull-keys-\w+-does", code)]


def text_of(path: str) -> str:
    """A document on one line, as its words follow each other."""
    return " ".join((DOCS / path).read_text("utf-8").split())


def tool(name: str) -> dict[str, Any]:
    """The names in one of our tools, loaded without running it."""
    return runpy.run_path(str(ROOT / "tools" / name))


def refusals(stem: type[Exception] = errors.SteelyardError) -> Iterator[type[errors.SteelyardError]]:
    """The tree of what the world refuses."""
    assert issubclass(stem, errors.SteelyardError)
    yield stem
    for one in stem.__subclasses__():
        yield from refusals(one)


def test_there_are_five_examples() -> None:
    assert len(EXAMPLES) == 5


@pytest.mark.parametrize("code", [code for _, code in EXAMPLES], ids=[name for name, _ in EXAMPLES])
def test_each_python_example_runs(code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    exec(compile(code, "docs/reference/python.md", "exec"), {"__name__": "example"})


@pytest.mark.parametrize("page", PAGES, ids=lambda p: str(p.relative_to(ROOT)))
def test_every_link_leads_somewhere(page: Path) -> None:
    for link in LINK.findall(page.read_text("utf-8")):
        assert (page.parent / link).exists(), f"{page.name}: {link}"


@pytest.mark.parametrize("page", PAGES, ids=lambda p: str(p.relative_to(ROOT)))
def test_it_is_no_longer_than_agreed(page: Path) -> None:
    place = str(page.relative_to(ROOT))
    most = next((lines for part, lines in DEMANDED.items() if place.startswith(part)), None)
    assert most is None or len(page.read_text("utf-8").splitlines()) <= most


def test_every_document_stands_in_the_list() -> None:
    listed = LINK.findall((DOCS / "README.md").read_text("utf-8"))
    found = {page.relative_to(DOCS).as_posix() for page in DOCS.rglob("*.md")}
    assert found - {"README.md"} - set(listed) == set()


def test_every_picture_is_made_by_the_command_and_shown_somewhere() -> None:
    shown = {
        (page.parent / address).resolve()
        for page in PAGES
        for _, address in PICTURE.findall(page.read_text("utf-8"))
    }
    there = {path.resolve() for path in (DOCS / "pictures").iterdir()}
    made = {(DOCS / "pictures" / name).resolve() for name in tool("pictures.py")["MADE"]}
    assert made == there == shown


def test_every_picture_has_a_description_and_a_size_that_was_agreed() -> None:
    pictures = sorted((DOCS / "pictures").iterdir())
    assert sum(path.stat().st_size for path in pictures) < MOST_PICTURE_BYTES
    for path in pictures:
        with Image.open(path) as picture:
            assert picture.size in ((1280, 800), (390, 844)), path.name
    assert all(words.strip() for page in PAGES for words, _ in PICTURE.findall(page.read_text("utf-8")))


def test_the_tutorial_tells_the_pulls_that_its_pictures_show() -> None:
    rows = [", ".join(one.removesuffix(" kg") for one in point) for point in tool("pictures.py")["PULLS"]]
    assert [row for row in rows if f"| {row} |" not in text_of("tutorial/first-check.md")] == []


def told_options(part: str) -> str:
    """What a command says of its options."""
    command = [sys.executable, "-m", "steelyard", *part.split(), "--help"]
    return subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT).stdout


@pytest.mark.parametrize("part", PARTS)
def test_every_command_is_documented(part: str) -> None:
    assert re.search(rf"`{part}\b", text_of("reference/commands.md"))


@pytest.mark.parametrize(
    "part",
    [
        "serve",
        "demo",
        "check",
        "export",
        "paper",
        "label",
        "verify",
        "sign",
        *(f"key {task}" for task in ("show", "sheet", "copy", "back", "new", "accept", "drop")),
        "backup",
        "restore",
        "store verify",
    ],
)
def test_every_option_of_the_workshops_commands_is_documented(part: str) -> None:
    told = set(re.findall(r"--[a-z-]+", told_options(part))) - {"--help"}
    assert {option for option in told if option not in text_of("reference/commands.md")} == set()


def test_every_page_is_documented() -> None:
    documented = set(re.findall(r"`(/[^`]*)`", text_of("reference/pages.md")))
    routes = iter_route_contexts(make_app(make_workshop()).routes)
    paths = {re.sub(r":\w+}", "}", str(route.path)) for route in routes}
    pages = {path for path in paths if path and not path.startswith(("/api/", "/static", "/live/"))}
    assert pages == documented


@pytest.mark.parametrize("step", Step)
def test_every_step_of_a_check_is_documented(step: Step) -> None:
    assert step in re.findall(r"[a-z-]+", text_of("reference/pages.md"))


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_of_entry_is_documented(kind: Kind) -> None:
    assert f"`{kind}`" in text_of("reference/ledger.md")


@pytest.mark.parametrize("sort", Subject)
def test_every_sort_of_subject_is_documented(sort: Subject) -> None:
    assert f"`{sort}:" in text_of("reference/ledger.md")


@pytest.mark.parametrize("key", KEYS)
def test_every_key_is_documented_in_the_words_of_the_page(key: str) -> None:
    does = say(f"{key}-does").split(";")[0]
    row = re.compile(rf"\| ([^|]+, )?{re.escape(say(key))} \| {re.escape(does)}")
    assert row.search(text_of("reference/keys.md").replace("`", ""))


@pytest.mark.parametrize("refusal", list(refusals()), ids=lambda refusal: refusal.__name__)
def test_every_refusal_is_documented_with_its_numbers(refusal: type[errors.SteelyardError]) -> None:
    again = "yes" if refusal.try_again else ""
    row = re.compile(
        rf"\| `{refusal.__name__}` \|[^|]+\| {refusal.exit_code} \| {refusal.http_status} \| ?{again} ?\|"
    )
    assert row.search(text_of("reference/errors.md"))


def test_the_list_of_addresses_is_the_programs_own() -> None:
    lists: Callable[[], str] = tool("http_api.py")["lists"]
    assert (DOCS / "reference/http-api.md").read_text("utf-8").endswith(lists()), (
        "renew it: python tools/http_api.py"
    )


def test_every_setting_of_the_page_is_documented() -> None:
    page = (ROOT / "src/steelyard/web/templates/settings.html").read_text("utf-8")
    asked = re.findall(r"\((?:form|device), '(\w+)'", page)
    documented = re.findall(r"`(\w+)`", text_of("reference/settings.md"))
    assert asked
    assert set(asked) - set(documented) == set()
