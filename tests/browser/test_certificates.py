"""The paper of an adapter from a file, in a real browser: filled in, looked over, kept with Enter."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from browser.running import Workshop
from paper.dcc.foreign import GOOD
from steelyard.words import say


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_a_paper_is_filled_in_from_a_file_and_kept(workshop: Workshop, page: Page, tmp_path: Path) -> None:
    file = tmp_path / "paper.xml"
    file.write_bytes(GOOD)
    page.goto("/rigs/new/transducer")
    page.get_by_label(say("rig-name"), exact=True).fill("R-1")
    page.locator("#f-resolution").fill("0.05")
    page.get_by_text(say("dcc-read-title")).click()
    page.locator("#f-dcc").set_input_files(file)
    page.get_by_role("button", name=say("dcc-read-fill")).click()
    expect(page.get_by_text(say("dcc-read-filled"))).to_be_visible()
    assert page.locator("#f-name").input_value() == "R-1"
    assert page.locator("[id='f-paper.certificate']").input_value() == "TPB-0042"
    page.locator("[id='f-paper.worked_shows']").fill("10.15")
    page.locator("[id='f-paper.worked_true']").fill("10.12")
    page.locator("[id='f-paper.worked_true']").press("Enter")
    expect(page.get_by_text("TPB-0042").first).to_be_visible()
    assert "/rigs/new" not in page.url
