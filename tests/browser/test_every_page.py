"""Every page of the demo workshop, found by its links; and the places of an empty one.

One page of each shape: the place without the names in it, what the address asks for, the fields of its forms,
the state it speaks of first.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from urllib.parse import parse_qsl, urldefrag, urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from browser import job
from browser.conftest import Size
from browser.hands import UNFOLD, PlainForms
from browser.running import Workshop
from browser.seen import CONTRAST, axe, fits_across, targets_are_large
from steelyard.words import say
from web.forms_on_page import Reader, read_page

FILES = ("/static/", "/files/", "/api/")
MOST_PAGES = 400
PLACES = ("today", "rack", "rigs", "bench", "book", "reckon", "help", "settings")
EMPTY = (
    *("/", "/rack", "/rigs", "/bench", "/bench/new", "/book", "/book/chain", "/verify", "/who", "/settings"),
    *("/settings/key", "/exchange", "/exchange/in"),
)
NARROWEST = 320
SETTLED = "() => Promise.all(document.getAnimations().map(each => each.finished))"

Shape = tuple[str, tuple[str, ...], tuple[str, ...], str]


@pytest.fixture(scope="module")
def shapes(browser: Browser, shared_demo: Workshop) -> Mapping[Shape, str]:
    """Of each shape the first page that links lead to."""
    found: dict[Shape, str] = {}
    seen, waiting = {"/"}, ["/"]
    context = browser.new_context(base_url=shared_demo.url)
    while waiting:
        path = waiting.pop(0)
        answer = context.request.get(path)
        assert answer.ok, f"{path}: {answer.status}"
        if not answer.headers["content-type"].startswith("text/html"):
            continue
        page = read_page(text := answer.text())
        found.setdefault(shape(answer.url, page, text), path)
        fresh = dict.fromkeys(where for where in inside(path, page) if where not in seen)
        seen.update(fresh)
        waiting += fresh
        assert len(seen) < MOST_PAGES, "the pages do not end"
    context.close()
    return found


def inside(path: str, page: Reader) -> Iterator[str]:
    """Where the links of a page lead, but for files and places on the same page."""
    for link in page.links:
        plain = urldefrag(link).url
        assert not urlsplit(plain).netloc, f"{path} leads out of the house: {link}"
        if plain and not plain.startswith(FILES):
            yield urlsplit(path).path + plain if plain.startswith("?") else plain


def shape(address: str, page: Reader, text: str) -> Shape:
    """What makes a page one of its kind."""
    asked = urlsplit(address)
    parts = ("·" if re.search(r"\d", part) else part for part in asked.path.split("/"))
    fields = {re.sub(r"\d+", "·", name) for form in page.forms for name in {*form.texts, *form.choices}}
    state = re.search(r'class="state (state-[a-z-]+)"', text)
    of_one = state[1] if state and asked.path.startswith(("/rack/", "/book/")) else ""
    return "/".join(parts), tuple(name for name, _ in parse_qsl(asked.query)), tuple(sorted(fields)), of_one


def place_of(path: str) -> str:
    """The place a page belongs to."""
    first = urlsplit(path).path.split("/")[1]
    elsewhere = {"": "today", "who": "settings", "welcome": "today", "verify": "book", "exchange": "settings"}
    return elsewhere.get(first, first)


def look_at(page: Page, path: str, *checks: Callable[[Page], None]) -> list[str]:
    """All that is wrong with a page, with everything unfolded."""
    troubles = []
    page.goto(path)
    page.evaluate(UNFOLD)
    for check in checks or CHECKS:
        try:
            check(page)
        except AssertionError as trouble:
            troubles.append(f"{path}: {check.__name__}: {trouble}")
    return troubles


def well_made(page: Page) -> None:
    expect(page.locator("html")).to_have_attribute("lang", "en")
    expect(page.locator("h1")).to_have_count(1)
    title = page.title()
    assert title.endswith(f" – {page.locator('.foot strong').inner_text()}"), title
    assert page.locator('[aria-current="page"]').count() >= 1, "it does not say where one is"


def large_aims(page: Page) -> None:
    targets_are_large(page, 56 if page.locator("body.place-bench").count() else 48)


def readable_in_the_dark(page: Page) -> None:
    page.emulate_media(color_scheme="dark")
    page.evaluate(SETTLED)
    axe(page, CONTRAST)
    page.emulate_media(color_scheme="light")


def fits_the_narrowest(page: Page) -> None:
    size = page.viewport_size
    assert size is not None
    page.set_viewport_size({"width": NARROWEST, "height": size["height"]})
    try:
        fits_across(page)
    finally:
        page.set_viewport_size(size)


PLAIN = (well_made, fits_across, large_aims, fits_the_narrowest)
CHECKS = (*PLAIN, axe, readable_in_the_dark)
PROSE: dict[Size, Callable[[Page], None]] = {"phone": axe, "desk": readable_in_the_dark}
"""The help is made of the same few parts on every page; each is looked at by one size."""


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_every_page_of_the_demo_is_fit_to_be_used(
    page: Page, shapes: Mapping[Shape, str], size: Size, place: str
) -> None:
    here = [path for path in shapes.values() if place_of(path) == place]
    assert here, "no page leads here"
    checks = (*PLAIN, PROSE[size]) if place == "help" else CHECKS
    troubles = [trouble for path in here for trouble in look_at(page, path, *checks)]
    assert not troubles, "\n".join(troubles)


def test_every_place_has_been_found(demo: Workshop, shapes: Mapping[Shape, str]) -> None:
    assert {place_of(path) for path in shapes.values()} == set(PLACES)
    assert len(shapes) > 40


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_every_place_of_an_empty_workshop_is_fit_to_be_used(
    page: Page, workshop: Workshop, size: Size
) -> None:
    troubles = [*look_at(page, "/welcome"), *look_at(page, "/exchange/whole")]
    page.goto("/welcome")
    page.get_by_role("button", name=say("welcome-skip")).click()
    job.heading(PlainForms(page), say("shell-today"))
    troubles += [trouble for path in EMPTY for trouble in look_at(page, path)]
    assert not troubles, "\n".join(troubles)
