"""Every page of the demo workshop, found by its links; every form of them, fed with what nobody should type.

The demo is the program's own invented story; what is typed here is hostile or absurd on purpose.
"""

import html
from collections.abc import Iterator
from urllib.parse import urldefrag, urlsplit

import pytest

from steelyard.bootstrap import fill_demo
from web.forms_on_page import PageForm, Reader, read_page
from web.shop import Shop, make_workshop, shop

FILES = ("/static/", "/files/", "/api/")
NASTY = (
    "",
    "   ",
    "-1",
    "0",
    "nan",
    "1e999",
    "9" * 3000,
    "1,000",
    "<script>alert(1)</script>",
    "'; DROP TABLE entry; --",
    "../../etc/passwd",
    "\u202eabc\u0000\u0007",
    "٣٤٫٥",
    "20 N·m ± 5 %",
    "{{ 7*7 }}",
)
MOST_PAGES = 400


@pytest.fixture(scope="module")
def demo() -> Iterator[Shop]:
    """The demo workshop behind its pages."""
    workshop = make_workshop(is_demo=True)
    fill_demo(workshop)
    with shop(workshop) as opened:
        yield opened


def pages(demo: Shop) -> dict[str, Reader]:
    """Every page that can be reached from the first by links, and what stands on it."""
    return {path: page for path, page, _ in walk(demo)}


def walk(demo: Shop) -> Iterator[tuple[str, Reader, str]]:
    """The same page by page, with its text; of what is no page nothing stands on it."""
    found: set[str] = set()
    waiting = ["/"]
    while waiting:
        path = waiting.pop(0)
        if path in found:
            continue
        if len(found) > MOST_PAGES:
            raise AssertionError("the pages do not end")
        found.add(path)
        answer = demo.client.get(path)
        if answer.status_code != 200:
            raise AssertionError(f"{path}: {answer.status_code}")
        text = answer.text if answer.headers["content-type"].startswith("text/html") else ""
        page = read_page(text)
        yield path, page, text
        waiting += [where for link in page.links if (where := inside(path, link)) is not None]


def inside(path: str, link: str) -> str | None:
    """Where a link leads, None for files and places on the same page."""
    plain = urldefrag(link).url
    parts = urlsplit(plain)
    if parts.scheme or parts.netloc:
        raise AssertionError(f"{path} leads out of the house: {link}")
    if not plain or plain.startswith(FILES):
        return None
    if plain.startswith("?"):
        return urlsplit(path).path + plain
    return plain


def shape(form: PageForm) -> tuple[str, tuple[str, ...]]:
    """Forms alike are tried once: the names of their fields, and the place without the names in it."""
    place = "/".join("·" if any(c.isdigit() for c in part) else part for part in form.action.split("/"))
    return place, tuple(sorted({*form.texts, *form.choices}))


def test_every_link_leads_to_a_page_that_is_there(demo: Shop) -> None:
    assert len(pages(demo)) > 40


def test_no_form_answers_bad_input_with_our_fault_or_loses_what_was_typed(demo: Shop) -> None:
    tried: set[tuple[str, tuple[str, ...]]] = set()
    for path, page in pages(demo).items():
        for form in page.forms:
            form.action = form.action or path
            if form.has_file or shape(form) in tried:
                continue
            tried.add(shape(form))
            for name in form.texts:
                for text in NASTY:
                    try_text(demo, form, name, text)
            for name in form.choices:
                try_text(demo, form, name, "no such thing")
    assert len(tried) > 15


def try_text(demo: Shop, form: PageForm, name: str, text: str) -> None:
    """Send a form with one text in one field; raises where the answer is our fault or the text is lost."""
    values = {**form.values, name: text}
    if form.method == "get":
        answer = demo.client.get(form.action, params=values, follow_redirects=False)
    else:
        answer = demo.client.post(form.action, data=values, follow_redirects=False)
    where = f"{form.method} {form.action}, {name}={text[:40]!r}"
    if answer.status_code >= 500:
        raise AssertionError(f"{where}: {answer.status_code}")
    if "<script>alert" in answer.text:
        raise AssertionError(f"{where}: came back as markup")
    if answer.status_code == 422 and name in form.texts and text.strip() and "\u0000" not in text:
        again = [f.values.get(name, "") for f in read_page(answer.text).forms if name in f.texts]
        if again and text.strip() not in [html.unescape(value).strip() for value in again]:
            raise AssertionError(f"{where}: what was typed is lost")
        if 'class="trouble"' not in answer.text and "trouble-box" not in answer.text:
            raise AssertionError(f"{where}: no sentence says why")
