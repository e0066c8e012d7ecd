"""A record as it is printed."""

from collections import Counter
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from browser.conftest import Scheme
from browser.seen import contrast

NOT_ON_PAPER = "nav, button, input, textarea, select, summary, .deed, .skip"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_record_on_paper_is_black_on_white_without_anything_to_press(page: Page, scheme: Scheme) -> None:
    page.goto("/book/1")
    page.emulate_media(media="print", color_scheme=scheme)
    expect(page.locator(NOT_ON_PAPER).locator("visible=true")).to_have_count(0)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.locator(".record-seal samp").first).to_be_visible()
    expect(page.locator(".demo")).to_contain_text("DEMO")
    assert contrast(page.locator(".record-bolts").first) > 20
    with Image.open(BytesIO(page.screenshot(full_page=True))) as picture:
        colours = Counter(picture.convert("RGB").getdata())
    white = colours[(255, 255, 255)] / colours.total()
    assert colours.most_common(1)[0][0] == (255, 255, 255)
    assert white > 0.8, f"{white:.0%} of the page is white"


def test_a_record_on_the_screen_has_all_that(page: Page) -> None:
    page.goto("/book/1")
    expect(page.locator(NOT_ON_PAPER).locator("visible=true")).not_to_have_count(0)
    with Image.open(BytesIO(page.screenshot())) as picture:
        assert Counter(picture.convert("RGB").getdata()).most_common(1)[0][0] != (255, 255, 255)
