"""The whole job with the keyboard alone."""

import pytest
from playwright.sync_api import Page, expect

from browser import job
from browser.hands import Keys
from browser.running import Workshop


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_from_nothing_to_a_sealed_record_by_keyboard_alone(page: Page, workshop: Workshop) -> None:
    hand = Keys(page)
    job.prepare(hand)
    job.check_until_pulls(hand)
    job.pulls(hand, "as-found", job.HIGH_READINGS)
    job.judge(hand, "out")
    job.adjust(hand)
    job.pulls(hand, "as-left", job.GOOD_READINGS)
    job.judge(hand, "in")
    job.close(hand)
    expect(page.locator(".record-verdict")).to_contain_text("IN")
