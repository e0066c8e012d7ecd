"""Help: every document is a page, found by its words, without a network."""

from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest

from steelyard.web.manual import Manual, manual
from web.shop import Shop, shop


class Links(HTMLParser):
    """Every address a page leads to or loads."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep href and src."""
        self.found += [value for name, value in attrs if name in ("href", "src") and value]


@pytest.fixture(scope="module")
def opened() -> Iterator[Shop]:
    with shop() as made:
        yield made


@pytest.mark.parametrize("path", [each.path for each in manual().listing()])
def test_every_document_is_a_page_whose_links_within_help_lead_somewhere(opened: Shop, path: str) -> None:
    text = opened.page(f"/help/{path}")
    links = Links()
    links.feed(text)
    assert text.count("<h1") == 1
    for address in links.found:
        assert not address.startswith(("http:", "//")) or "127.0.0.1" in address
        if address.startswith("/help/"):
            opened.page(address.partition("#")[0])


def test_the_list_names_every_document_but_the_map_itself(opened: Shop) -> None:
    text = opened.page("/help")
    for each in manual().listing():
        assert (f'href="/help/{each.path}"' in text) is (each.path != "README.md")


def test_a_search_leads_to_the_places(opened: Shop) -> None:
    text = opened.page("/help?q=hung+weight")
    assert 'href="/help/explanation/hung-weight.md' in text
    assert 'value="hung weight"' in text


@pytest.mark.parametrize("words", ["zzyzx", "<script>", "%", "\x00", "x" * 5000])
def test_a_search_that_finds_nothing_says_so(opened: Shop, words: str) -> None:
    text = opened.client.get("/help", params={"q": words})
    assert text.status_code == 200
    assert "Nothing has “" in text.text or "places with" in text.text
    assert "<script>" not in text.text


@pytest.mark.parametrize("path", ["none.md", "../pyproject.toml", "%2e%2e/README.md", "decisions", ""])
def test_a_page_that_is_not_there_is_said_to_be_missing(opened: Shop, path: str) -> None:
    assert opened.client.get(f"/help/{path}", follow_redirects=False).status_code in (404, 307)


def test_a_picture_of_a_document_is_shown(
    opened: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "arm.png").write_bytes(b"a picture")
    monkeypatch.setattr("steelyard.web.manual_pages.manual", lambda: Manual(tmp_path))
    answer = opened.client.get("/help/arm.png")
    assert (answer.content, answer.headers["content-type"]) == (b"a picture", "image/png")


def test_every_place_leads_to_help(opened: Shop) -> None:
    assert 'href="/help"' in opened.page("/reckon")
