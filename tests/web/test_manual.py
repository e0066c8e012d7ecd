"""The documents are pages that lead only to one another, carry no HTML of their own, and can be searched."""

import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest

from steelyard.errors import NotFound
from steelyard.web.manual import ADDRESS, Manual, manual
from steelyard.web.markdown import sections_of

ROOT = Path(__file__).parent.parent.parent
PATHS = [listed.path for listed in manual().listing()]
PIXEL = b"\x89PNG\r\n\x1a\n"
BLOCKS = {"blockquote", "div", "h1", "h2", "h3", "h4", "li", "ol", "p", "pre", "ul"}
TABLES = {"table", "tbody", "td", "th", "thead", "tr"}
INSIDE = {"a", "br", "code", "em", "img", "strong"}
ATTRIBUTES = {"id", "href", "src", "alt", "class", "tabindex", "role", "aria-label", "start", "title"}


class Read(HTMLParser):
    """What a page holds: its links, ids, tags, attributes and words."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.tags: list[str] = []
        self.attributes: set[str] = set()
        self.words = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}
        self.links += [value or "" for name, value in attrs if name in ("href", "src")]
        self.ids += [value or "" for name, value in attrs if name == "id"]

    def handle_data(self, data: str) -> None:
        self.words += data


def shown(path: str) -> Read:
    """A page of the documents, read back."""
    return Read(manual().page(path).html)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A folder with one page, one below it, a picture and an example."""
    for folder in ("docs/how", "docs/pictures", "examples"):
        (tmp_path / folder).mkdir(parents=True)
    (tmp_path / "docs/README.md").write_text("# First\n\nSee [how](how/hang.md#droop).\n", "utf-8")
    (tmp_path / "docs/how/hang.md").write_text("# Hang\n\nThe load.\n\n## Droop\n\nLevel it.\n", "utf-8")
    (tmp_path / "docs/how/secret.txt").write_text("not a page", "utf-8")
    (tmp_path / "docs/pictures/arm.png").write_bytes(PIXEL)
    (tmp_path / "examples/arm.toml").write_text('title = "<b>"\n', "utf-8")
    (tmp_path / "outside.md").write_text("# Outside\n", "utf-8")
    return tmp_path


def written(root: Path, text: str) -> Read:
    """One page with this text below `docs/how`, read back."""
    (root / "docs/how/new.md").write_text(text, "utf-8")
    return Read(Manual(root).page("how/new.md").html)


def test_every_document_and_example_is_listed() -> None:
    docs = {p.relative_to(ROOT / "docs").as_posix() for p in (ROOT / "docs").rglob("*.md")}
    examples = {f"examples/{p.name}" for p in (ROOT / "examples").glob("*.toml")}
    assert set(PATHS) == docs | examples | {"examples"}
    assert PATHS[0] == "README.md"


@pytest.mark.parametrize("path", PATHS)
def test_every_page_is_shown_with_its_title_and_nothing_but_known_html(path: str) -> None:
    page = manual().page(path)
    read = Read(page.html)
    assert page.title != path or path.startswith("examples/")
    assert read.tags[0] == "h1" and read.tags.count("h1") == 1
    assert set(read.tags) <= BLOCKS | TABLES | INSIDE
    assert read.attributes <= ATTRIBUTES, "no style, no handler: the browser would refuse it"
    assert len(read.ids) == len(set(read.ids))


@pytest.mark.parametrize("path", PATHS)
def test_every_link_of_a_page_leads_to_a_page_an_anchor_or_a_picture(path: str) -> None:
    for link in shown(path).links:
        place, _, anchor = link.partition("#")
        if place.endswith(".png"):
            assert manual().picture(place.removeprefix(ADDRESS)).content
            continue
        assert place == "" or place.startswith(ADDRESS), link
        target = place.removeprefix(ADDRESS) or path
        assert target in PATHS, link
        assert not anchor or anchor in shown(target).ids, link


def test_links_between_the_documents_are_links() -> None:
    assert len(shown("README.md").links) > 10
    assert "/help/examples" in shown("reference/file-form.md").links
    assert len(shown("examples").links) == len(list((ROOT / "examples").glob("*.toml")))


def test_a_link_keeps_its_anchor(small: Path) -> None:
    assert Read(Manual(small).page().html).links == ["/help/how/hang.md#droop"]


@pytest.mark.parametrize(
    ("link", "target"),
    [
        ("hang.md", "/help/how/hang.md"),
        ("./hang.md#droop", "/help/how/hang.md#droop"),
        ("../README.md", "/help/README.md"),
        ("#here", "#here"),
        ("../../examples", "/help/examples"),
        ("../../examples/arm.toml", "/help/examples/arm.toml"),
        ("../pictures/arm.png", "/help/pictures/arm.png"),
        ("secret.txt", None),
        ("../../outside.md", None),
        ("../../src/steelyard/errors.py", None),
        ("../../examples/../outside.md", None),
        ("../../../../etc/passwd", None),
        ("/etc/passwd", None),
        ("missing.md", None),
        ("%2e%2e/%2e%2e/outside.md", None),
    ],
)
def test_a_link_goes_to_what_is_shown_here_and_is_text_else(
    small: Path, link: str, target: str | None
) -> None:
    read = written(small, f"# New\n\nLook at [that **page**]({link}) now.\n")
    assert read.links == ([target] if target else [])
    assert "Look at that page now." in read.words


@pytest.mark.parametrize("address", ["https://example.org/a", "http://example.org", "//example.org/x"])
def test_another_site_is_named_not_linked(small: Path, address: str) -> None:
    read = written(small, f"# New\n\nBy [the office]({address}), too.\n")
    assert read.links == []
    assert f"By the office ({address}), too." in read.words


def test_an_address_that_is_its_own_text_stands_there_once(small: Path) -> None:
    read = written(small, "# New\n\n<https://example.org/a>\n")
    assert read.links == []
    assert read.words.count("https://example.org/a") == 1


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "a <b onclick='x'>b</b>",
        "<div style='color:red'>\n\n<!-- hidden -->",
        "[x](javascript:alert(1))",
        "![x](javascript:alert(1))",
        "![x](https://example.org/x.png)",
        '![<b>x" onerror="y](../pictures/missing.png)',
        "<img src=x onerror=alert(1)>",
        "| <i>a</i> |\n|--:|\n| <u>b</u> |",
        "~~~html\n<script>x</script>\n~~~",
    ],
)
def test_no_html_of_a_document_passes(small: Path, text: str) -> None:
    read = written(small, f"# New <em>a</em>\n\n{text}\n")
    assert set(read.tags) <= {"h1", "p", "div", "pre", "code"} | TABLES
    assert read.attributes <= {"id", "class", "tabindex", "role", "aria-label"}


def test_a_heading_or_example_with_marks_of_html_is_escaped(small: Path) -> None:
    html = Manual(small).page("examples/arm.toml").html
    assert "<b>" not in html and "&lt;b&gt;" in html
    assert 'aria-label="a&quot;&lt;b&gt;"' in written_html(small, '# a"<b>\n\n    code\n')


def written_html(root: Path, text: str) -> str:
    """The HTML of one page with this text."""
    (root / "docs/new.md").write_text(text, "utf-8")
    return Manual(root).page("new.md").html


def test_a_picture_is_shown_and_a_missing_one_is_its_description(small: Path) -> None:
    read = written(small, "# New\n\n![the arm](../pictures/arm.png) ![the drum](../pictures/drum.png)\n")
    assert read.links == ["/help/pictures/arm.png"]
    assert "the drum" in read.words
    picture = Manual(small).picture("pictures/arm.png")
    assert (picture.content, picture.media_type) == (PIXEL, "image/png")


@pytest.mark.parametrize(
    "path",
    ["../outside.md", "how/../../outside.md", "..", "", "how", "how/secret.txt", "/etc/passwd", "HOW/hang.md"]
    + [
        "how/hang.md/",
        "./README.md",
        "docs/README.md",
        "pictures/arm.png",
        "..\\outside.md",
        "README.md\x00",
    ],
)
def test_only_listed_pages_are_given_out(small: Path, path: str) -> None:
    with pytest.raises(NotFound):
        Manual(small).page(path)


@pytest.mark.parametrize(
    "path",
    ["README.md", "../outside.png", "pictures/../pictures/arm.png", "pictures", "", "/pictures/arm.png"],
)
def test_only_pictures_of_the_documents_are_given_out(small: Path, path: str) -> None:
    (small / "outside.png").write_bytes(PIXEL)
    with pytest.raises(NotFound):
        Manual(small).picture(path)


def test_headings_get_the_anchors_that_repositories_give_them() -> None:
    text = "# How sure: the ± and the verdict\n## A `b` (c)\n## A b c\n## A b c\n## [kit] with *weights*\n"
    assert [s.anchor for s in sections_of(text)] == [
        "how-sure-the--and-the-verdict",
        "a-b-c",
        "a-b-c-1",
        "a-b-c-2",
        "kit-with-weights",
    ]


def test_cells_are_aligned_by_class_and_an_empty_head_is_no_head(small: Path) -> None:
    html = written_html(small, "# T\n\n| | a |\n|---|--:|\n| b | 1 |\n")
    assert '<td></td>\n<th class="right">a</th>' in html
    assert '<td class="right">1</td>' in html
    assert '<div class="wide" tabindex="0" role="group" aria-label="T">' in html


def test_a_search_finds_droop_under_its_heading_first() -> None:
    found = manual().search("droop")
    assert found[0].path.startswith("explanation/hung-weight.md#how-far-out-it-pulls")
    assert found[0].title.endswith("How far out it pulls: droop and suspension drop")
    assert all("droop" in (f.title + f.excerpt).lower() for f in found)
    for one in found:
        path, _, anchor = one.path.partition("#")
        assert not anchor or anchor in shown(path).ids


def test_a_search_takes_all_the_words_in_any_order_and_case(small: Path) -> None:
    searched = Manual(small).search
    assert [f.path for f in searched("LEVEL droop")] == ["how/hang.md#droop"]
    assert [f.path for f in searched("hang load")] == ["how/hang.md#hang"]
    assert searched("level nowhere") == ()
    assert searched("first")[0].title == "First"


@pytest.mark.parametrize("words", ["", "   ", "\n"])
def test_a_search_for_nothing_finds_nothing(words: str) -> None:
    assert manual().search(words) == ()


def test_a_search_takes_signs_as_they_are(small: Path) -> None:
    assert Manual(small).search("(.*") == ()
    assert Manual(small).search("it.")
    assert Manual(small).search("x" * 100_000) == ()
    assert Manual(small).search("droop " * 40 + "nowhere"), "the first 200 characters count"


def test_an_excerpt_is_short_cut_between_words_and_holds_the_word() -> None:
    for found in manual().search("torque"):
        assert len(found.excerpt) <= 190
        assert not re.search(r"\s\s", found.excerpt)
    page = " ".join(
        s.text for s in sections_of((ROOT / "docs/explanation/hung-weight.md").read_text("utf-8"))
    )
    assert manual().search("droop")[0].excerpt.strip("… ") in page


def test_a_built_package_carries_every_page_and_picture(tmp_path: Path) -> None:
    command = [sys.executable, "setup.py", "-q", "egg_info", "--egg-base", str(tmp_path), "build_py"]
    subprocess.run(
        [*command, "--build-lib", str(tmp_path / "lib")],
        cwd=ROOT,
        check=True,
        capture_output=True,
        timeout=120,
    )
    carried = Manual(tmp_path / "lib/steelyard/web")
    assert carried.listing() == manual().listing()
    pictures = {p.relative_to(ROOT / "docs").as_posix() for p in (ROOT / "docs").rglob("*.png")}
    assert all(carried.picture(path) == manual().picture(path) for path in pictures)


@pytest.mark.parametrize("word", ["unit", "check", "load", "limit", "record"])
def test_for_an_everyday_word_what_guides_comes_before_what_was_decided(word: str) -> None:
    folders = [found.path.partition("/")[0] for found in manual().search(word)]
    assert folders[0] in ("tutorial", "how-to", "explanation", "reference")
    is_decision = [folder == "decisions" for folder in folders]
    assert is_decision == sorted(is_decision)
