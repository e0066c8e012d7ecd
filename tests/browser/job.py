"""The whole job of the program, step by step, for any hand: from an empty workshop to a sealed record.

The workshop is the invented Tern Point Boatyard. Each step begins on the page the one before has led to.
"""

import re

from playwright.sync_api import Locator, expect

from browser.hands import Hand, fill
from steelyard.words import say

HIGH_READINGS = (("57.1", "57.0", "57.2"), ("95.2", "95.0", "95.1"))
GOOD_READINGS = (("60.1", "59.9", "60.2"), ("100.2", "99.8", "100.1"))


def button(hand: Hand, code: str) -> Locator:
    """A button of the page, by its sentence."""
    return hand.page.get_by_role("button", name=say(code), exact=True)


def link(hand: Hand, code: str) -> Locator:
    """A link within the page, by its sentence."""
    return hand.page.locator("main").get_by_role("link", name=say(code), exact=True)


def place(hand: Hand, code: str) -> Locator:
    """One of the places that stand around every page."""
    return hand.page.get_by_role("navigation").get_by_role("link", name=say(code), exact=True)


def folded(hand: Hand, code: str) -> Locator:
    """A part that is folded away."""
    return hand.page.locator("summary").filter(has_text=re.compile(f"^{re.escape(say(code))}$"))


def heading(hand: Hand, text: str | re.Pattern[str]) -> None:
    """Wait until the page of this heading stands there; raises when it does not come."""
    expect(hand.page.get_by_role("heading", level=1)).to_have_text(text)


def is_at(hand: Hand, step: str) -> None:
    """Wait for the page of a step of the check."""
    expect(hand.page).to_have_url(re.compile(rf"/bench/[^/]+/{step}(\?.*)?$"))


def save_on(hand: Hand) -> None:
    """Keep this step and go on."""
    hand.follow(button(hand, "bench-save-on"))


def welcome(hand: Hand) -> None:
    """The first start."""
    hand.page.goto("/")
    heading(hand, say("welcome-title"))
    fill(
        hand,
        name="Tern Point Boatyard",
        latitude="54.3",
        height="12",
        unit="N·m",
        person="Engine shop",
    )
    hand.follow(button(hand, "welcome-go"))
    heading(hand, say("shell-today"))


def add_scale(hand: Hand) -> None:
    """The first of the first steps."""
    hand.follow(link(hand, "first-scale-button"))
    fill(hand, name="S-1", step="10", knows="mass", within="20")
    hand.follow(button(hand, "rig-save"))
    heading(hand, "S-1")


def add_tool(hand: Hand) -> None:
    """A click wrench in a minute."""
    hand.follow(place(hand, "shell-today"))
    hand.follow(link(hand, "first-tool-button"))
    hand.follow(hand.page.locator('main a[href$="kind=click-adjustable"]'))
    expect(hand.page.locator("#f-number")).to_be_focused()
    hand.page.keyboard.type("T-04")
    fill(hand, lowest="20", highest="100", graduation="1", limit__published="own")
    fill(hand, limit__percent="4", limit__source="our own list")
    hand.follow(button(hand, "rack-save-new"))
    heading(hand, re.compile("^T-04"))


def add_transducer(hand: Hand) -> None:
    """Something to check it with."""
    hand.follow(place(hand, "shell-rigs"))
    hand.follow(link(hand, "rig-add"))
    hand.follow(hand.page.locator('main a[href$="/transducer"]'))
    fill(hand, name="R-1", resolution="0.1", stated_of_reading="0.5")
    hand.follow(button(hand, "rig-save"))
    heading(hand, "R-1")


def begin(hand: Hand) -> None:
    """Why the tool is checked today."""
    hand.follow(place(hand, "shell-today"))
    hand.follow(link(hand, "first-check-button"))
    hand.follow(hand.page.locator("main .which-tool"))
    heading(hand, say("bench-why-title", number="T-04"))
    fill(hand, why="due")
    hand.follow(button(hand, "bench-begin"))


def look(hand: Hand) -> None:
    is_at(hand, "look")
    fill(hand, damaged="no")
    save_on(hand)


def kit(hand: Hand) -> None:
    """The only rig is chosen already; own points keep it short."""
    is_at(hand, "kit")
    fill(hand, plan="own")
    hand.press(folded(hand, "kit-own-points"))
    fill(hand, targets="60 100", pulls="3")
    save_on(hand)


def set_up(hand: Hand) -> None:
    is_at(hand, "set-up")
    fill(hand, axis="vertical", zeroed="with-tool", mode="first-peak", is_ready="yes")
    save_on(hand)


def exercise(hand: Hand) -> None:
    is_at(hand, "exercise")
    fill(hand, exercise_pulls="5")
    save_on(hand)


def pulls(hand: Hand, phase: str, rows: tuple[tuple[str, ...], ...]) -> None:
    """All pulls of a phase; each is seen on the page before the next is made."""
    is_at(hand, phase)
    for target, row in zip(("60", "100"), rows, strict=True):
        for count, reading in enumerate(row, 1):
            heading(hand, re.compile(rf": {target} N·m "))
            hand.pull(reading)
            point = hand.page.locator(f'[data-name^="{target} "] .points-count')
            expect(point).to_contain_text(say("pulls-count", counted=count, planned=len(row)))
    hand.follow(link(hand, "pulls-to-verdict"))


def judge(hand: Hand, verdict: str) -> None:
    """Ask for the verdict of the pulls just made."""
    is_at(hand, "verdict")
    hand.follow(button(hand, "judge-ask"))
    said = say(f"bench-verdict-{verdict}")
    expect(hand.page.locator(".verdict-large").first).to_have_text(said)


def adjust(hand: Hand) -> None:
    """One turn as advised, logged."""
    hand.follow(link(hand, "judge-to-adjust"))
    is_at(hand, "adjust")
    hand.follow(button(hand, "adjust-log-so"))
    is_at(hand, "as-left")


def close(hand: Hand) -> None:
    """Seal it, and look at the record."""
    hand.follow(link(hand, "judge-to-close"))
    is_at(hand, "close")
    hand.follow(button(hand, "close-seal"))
    expect(hand.page).to_have_url(re.compile(r"/book/1$"))
    heading(hand, re.compile("T-04"))


def prepare(hand: Hand) -> None:
    """From nothing to a workshop with a tool and something to check it with."""
    welcome(hand)
    add_scale(hand)
    add_tool(hand)
    add_transducer(hand)


def check_until_pulls(hand: Hand) -> None:
    """From the tool to the pull page."""
    begin(hand)
    look(hand)
    kit(hand)
    set_up(hand)
    exercise(hand)
