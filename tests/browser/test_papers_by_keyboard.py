"""Papers with the keyboard alone: a record as a PDF, and labels for two tools on a sheet that has begun."""

from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Locator, Page, expect

from browser.hands import MOST_TABS, Keys
from browser.seen import tab_to
from steelyard.words import say


def downloaded(page: Page, target: Locator) -> tuple[str, list[str]]:
    """The name of the file that comes at Enter, and the words on its pages."""
    tab_to(target, MOST_TABS)
    with page.expect_download() as coming:
        page.keyboard.press("Enter")
    document = pypdfium2.PdfDocument(Path(coming.value.path()))
    said = [page.get_textpage().get_text_bounded() for page in document]
    document.close()
    return coming.value.suggested_filename, said


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_a_record_is_kept_as_a_paper_by_keyboard_alone(page: Page) -> None:
    page.goto("/book/1")
    heading = page.get_by_role("heading", level=1).inner_text()
    name, said = downloaded(page, page.get_by_role("link", name=say("record-as-paper")))
    assert name == "record-1.pdf"
    assert heading in said[0]
    assert all(say("shell-demo") in words for words in said)
    expect(page).to_have_url("/book/1")


def test_labels_are_printed_by_keyboard_alone(page: Page) -> None:
    hand = Keys(page)
    page.goto("/rack/labels")
    boxes = page.locator('input[name="tool"]')
    numbers = [boxes.nth(i).locator("xpath=..").locator("b").inner_text() for i in (0, 2)]
    for i in (0, 2):
        tab_to(boxes.nth(i), MOST_TABS)
        page.keyboard.press("Space")
        expect(boxes.nth(i)).to_be_checked()
    hand.follow(page.get_by_role("button", name=say("label-go-on")))
    hand.write(page.locator('[name="skip"]'), "3")
    expect(page.locator("#sheet td").nth(3)).not_to_have_class(
        page.locator("#sheet td").nth(2).get_attribute("class") or ""
    )
    name, said = downloaded(page, page.get_by_role("button", name=say("label-make")))
    assert name == "labels.pdf"
    assert [number for number in numbers if number not in said[0]] == []
