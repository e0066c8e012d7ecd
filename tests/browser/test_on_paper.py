"""A record as it is printed."""

from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from browser.conftest import Scheme

WHITE = (255, 255, 255)
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


def white_part(page: Page) -> float:
    """How much of the page, seen as a picture, is quite white. [1]"""
    with Image.open(BytesIO(page.screenshot(full_page=True))) as picture:
        colours = picture.convert("RGB").getcolors(picture.width * picture.height) or []
        return sum(count for count, colour in colours if colour == WHITE) / (picture.width * picture.height)
