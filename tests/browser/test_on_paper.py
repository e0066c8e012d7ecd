"""A record as it is printed."""

import re
import zlib
from collections.abc import Iterator
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from browser.conftest import Scheme

WHITE = (255, 255, 255)
PAGE_OBJECT = re.compile(rb"/Type /Page\b")
OBJECT = re.compile(rb"^(\d+) 0 obj\n(.*?)\nendobj", re.MULTILINE | re.DOTALL)
CONTENTS = re.compile(rb"/Contents (\d+) 0 R")
STREAM = re.compile(rb"stream\n(.*)\nendstream", re.DOTALL)
SHOWN_TEXT = re.compile(rb"T[jJ]\b")
FEWEST_TEXTS = 100  # far above a page number and the word across a page of the demo
PAPER_PIXELS = 680  # between the margins of A4, 180 mm at 96 to the inch
NINE_POINTS = 12.0  # CSS pixels
SIZES_OF_TEXT = """() => {
  const sizes = {};
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const around = node.parentElement, text = node.data.trim();
    const isSeen = around.checkVisibility({ contentVisibilityAuto: true }) && around.tagName !== "TITLE";
    if (!text || !isSeen) continue;
    const scale = around.ownerSVGElement ? around.getScreenCTM().a : 1;
    sizes[text] = Math.min(sizes[text] ?? 1e9, parseFloat(getComputedStyle(around).fontSize) * scale);
  }
  return sizes;
}"""
NOT_ON_PAPER = "nav, button, input, textarea, select, summary, .deed, .skip"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_record_on_paper_is_black_on_white_without_anything_to_press(page: Page, scheme: Scheme) -> None:
    page.goto("/book/1")
    page.emulate_media(media="print", color_scheme=scheme)
    expect(page.locator(NOT_ON_PAPER).locator("visible=true")).to_have_count(0)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.locator(".record-seal samp").first).to_be_visible()
    expect(page.locator(".demo")).to_contain_text("DEMO")
    expect(page.locator(".record-bolts").first).to_have_css("color", "rgb(0, 0, 0)")
    assert white_part(page) > 0.8


def test_a_record_on_the_screen_has_all_that(page: Page) -> None:
    page.goto("/book/1")
    expect(page.locator(NOT_ON_PAPER).locator("visible=true")).not_to_have_count(0)
    assert white_part(page) < 0.5


@pytest.mark.parametrize(("tool", "pulls", "most"), [("T-04", 16, 2), ("T-01", 10, 3), ("T-11", 60, 5)])
def test_a_record_fits_on_few_pages_of_a4(page: Page, tool: str, pulls: int, most: int) -> None:
    page.goto(f"/book?tool={tool}")
    page.locator(".book-record").first.click()
    expect(page.locator(".record-pulls tbody tr")).to_have_count(pulls)
    printed = page.pdf(prefer_css_page_size=True)
    assert 1 < len(PAGE_OBJECT.findall(printed)) <= most


def test_a_record_of_yes_no_answers_fits_on_four_pages_none_of_them_blank(page: Page) -> None:
    page.goto("/book?tool=T-13")
    page.locator(".book-record").first.click()
    expect(page.locator(".record-answers").first).to_be_visible()
    texts = list(texts_of_pages(page.pdf(prefer_css_page_size=True)))
    assert 1 < len(texts) <= 4
    assert min(texts) > FEWEST_TEXTS, texts


def test_yes_no_answers_are_on_paper_once_and_as_a_picture(page: Page) -> None:
    page.goto("/book?tool=T-13")
    page.locator(".book-record").first.click()
    page.emulate_media(media="print")
    points = page.locator(".record-by-answers")
    expect(points).to_have_count(4)
    for point in points.all():
        expect(point.locator(".record-answers table")).to_be_visible()
        expect(point.locator(".record-drawn svg")).to_be_visible()
        expect(point.locator(".record-drawn table").locator("visible=true")).to_have_count(0)
    expect(page.locator(".record-earlier").first).to_contain_text("After turn 1, struck out")


@pytest.mark.parametrize("tool", ["T-01", "T-04", "T-11", "T-13"])
def test_nothing_on_paper_is_smaller_than_nine_points(page: Page, tool: str) -> None:
    page.goto(f"/book?tool={tool}")
    page.locator(".book-record").first.click()
    expect(page.locator(".record-seal")).to_be_visible()
    page.set_viewport_size({"width": PAPER_PIXELS, "height": 900})
    page.emulate_media(media="print")
    sizes = page.evaluate(SIZES_OF_TEXT)
    assert sizes and min(sizes.values()) >= NINE_POINTS - 0.01, {
        text: size for text, size in sizes.items() if size < NINE_POINTS
    }


def test_every_struck_out_pull_stays_on_paper_with_its_reason(page: Page) -> None:
    page.goto("/book?tool=T-04")
    page.locator(".book-record").first.click()
    page.emulate_media(media="print")
    row = page.locator(".record-struck")
    expect(row).to_contain_text("the hand slipped")
    expect(row.locator(".number").first).to_have_css("text-decoration-line", "line-through")
    expect(page.get_by_role("columnheader", name="What makes the ±").locator("visible=true")).to_have_count(3)


def texts_of_pages(printed: bytes) -> Iterator[int]:
    """How many pieces of text every page of a PDF shows."""
    objects = dict(OBJECT.findall(printed))
    for content in objects.values():
        contents = CONTENTS.search(content) if PAGE_OBJECT.search(content) else None
        if contents is not None:
            stream = STREAM.search(objects[contents[1]])
            assert stream is not None
            yield len(SHOWN_TEXT.findall(zlib.decompress(stream[1])))


def white_part(page: Page) -> float:
    """How much of the page, seen as a picture, is quite white. [1]"""
    with Image.open(BytesIO(page.screenshot(full_page=True))) as picture:
        colours = picture.convert("RGB").getcolors(picture.width * picture.height) or []
        return sum(count for count, colour in colours if colour == WHITE) / (picture.width * picture.height)
