"""On a phone, by touch, with weights alone: a load is weighed, a wrench asked by yes or no, found out,
adjusted as advised, locked, and in as left."""

import random
import re
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Page, expect

from browser import job
from browser.hands import Fingers, fill
from browser.ready import PLACE
from browser.running import Workshop
from browser.seen import CONTRAST, axe, fits_across, targets_are_large
from desk.bench_shop import WRENCH, BenchShop
from steelyard.bootstrap import workshop as opened_workshop
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    add_rig,
    add_tool,
    here,
    set_workshop,
)
from steelyard.desk.turns import read_turns
from steelyard.words import say

MASSES = ("8 kg ± 4 g", "2 kg ± 2 g", "1 kg ± 1 g", "500 g ± 1 g", "200 g ± 1 g", "100 g ± 1 g", "50 g ± 1 g")
KILOGRAM = dict(zip(("M0", "M1", "M2", "M3", "M4", "M5", "M6"), (8, 2, 1, 0.5, 0.2, 0.1, 0.05), strict=True))
KILOGRAM["P-4"] = 4.0033
GRAVITY, ARM_METRE, OWN_KILOGRAM_METRE = 9.815, 0.450, 1.300 * 0.220
POINTS = (20.0, 40.0, 60.0)
MOST, MOST_BETWEEN, MOST_TURNS = 14, 5, 5


@dataclass
class Hidden:
    """The wrench as it really is: trips by so much against what is set, at every point alike. [N m]

    gain: of a turn "in". locks: that the lock nut adds, so little that a kit which knows 20 N·m to ± 2.7 %
    can still call in what was adjusted as well as it sees. It hangs level, its own weight pulling down.
    """

    off: float = -2.2
    gain: float = 1.6
    locks: float = -0.1
    dice: random.Random = field(default_factory=lambda: random.Random(3))

    def clicks(self, target: float, kilogram: float) -> bool:
        """One trial, under what hangs."""
        torque = GRAVITY * (kilogram * ARM_METRE + OWN_KILOGRAM_METRE)
        return target * (1 + self.dice.gauss(0, 0.004)) + self.off <= torque


@pytest.fixture
def hidden() -> Hidden:
    return Hidden()


def looks_well(page: Page) -> None:
    """Nothing that axe finds in either theme, nothing beside the screen, nothing too small for a thumb."""
    axe(page)
    fits_across(page)
    targets_are_large(page)
    page.emulate_media(color_scheme="dark")
    page.evaluate("() => Promise.all(document.getAnimations().map(each => each.finished))")
    axe(page, rules=CONTRAST)
    page.emulate_media(color_scheme="light")


def test_the_whole_job_with_weights_alone_by_touch(phone: Page, workshop: Workshop, hidden: Hidden) -> None:
    with opened_workshop(workshop.folder) as shop:
        acting = shop.acting()
        set_workshop(acting, PLACE)
        bench = BenchShop(shop, add_tool(acting, WRENCH | {"highest": "60"}), "")
        add_rig(acting, "scale", {"name": "S-2", "step": "5", "knows": "mass", "within": "10"})
        for i, value in enumerate(MASSES):
            add_rig(acting, "mass", {"name": f"M{i}", "value": value})
        hand = Fingers(phone)
        weigh(hand, bench)
        rig(hand)
        begin(hand, bench)
        ask_every_point(hand, AS_FOUND, hidden, most=MOST)
        judge(hand, "out")
        hand.follow(job.link(hand, "judge-to-adjust"))
        adjust(hand, hidden)
        lock(hand, hidden)
        ask_every_point(hand, AS_LEFT, hidden, most=MOST)
        judge(hand, "in")
        job.close(hand)
        expect(phone.locator(".record-verdict")).to_contain_text("IN")
        expect(phone.locator("main")).to_contain_text("Locked: nut tight.")


def weigh(hand: Fingers, bench: BenchShop) -> None:
    """A can of paint becomes a mass with its ±, by three placements."""
    hand.page.goto("/rigs/weigh/placements")
    fill(hand, shown1="4.005", shown2="4.000", shown3="4.005")
    hand.press(job.button(hand, "weigh-work"))
    expect(hand.page.locator(".answer-number")).to_contain_text("4.00")
    fill(hand, name="P-4")
    hand.follow(job.button(hand, "weigh-keep"))
    job.heading(hand, "P-4")
    assert "P-4" in [mass["table"]["name"] for mass in here(bench.workshop.ledger).masses]


def rig(hand: Fingers) -> None:
    """An arm to hang from, and what it can decide."""
    hand.page.goto("/rigs/new/hung-weight")
    fill(hand, name="W-1", arm="450 ± 1")
    hand.follow(job.button(hand, "rig-save"))
    job.heading(hand, "W-1")
    expect(hand.page.locator("main")).to_contain_text(say("rig-ability"))


def begin(hand: Fingers, bench: BenchShop) -> None:
    """From the tool to the first trial."""
    hand.page.goto(f"/bench/new?tool={bench.tool}")
    fill(hand, why="due")
    hand.follow(job.button(hand, "bench-begin"))
    job.look(hand)
    expect(hand.page.locator(".kits")).to_contain_text("W-1")
    fill(hand, plan="own")
    hand.press(job.folded(hand, "kit-own-points"))
    fill(hand, targets="20 40 60", pulls="2")
    job.save_on(hand)
    job.is_at(hand, "set-up")
    fill(hand, droop="0 ± 1", drop="0 ± 5", is_ready="yes")
    job.save_on(hand)
    job.exercise(hand)
    job.is_at(hand, "as-found")
    bench.check = hand.page.url.split("/")[-2]
    hand.follow(hand.page.get_by_role("link", name=say("trials-instead"), exact=True))


def ask_every_point(hand: Fingers, phase: str, hidden: Hidden, *, most: int) -> None:
    """Hang what is said and answer truly, point by point, until it is enough."""
    for point, target in enumerate(POINTS):
        expect(hand.page).to_have_url(re.compile(rf"/{phase}/trials\?point={point}"))
        for _ in range(most):
            if hand.page.locator(".trial-enough").count():
                break
            pieces = hand.page.locator("#f-load").input_value().split(" + ")
            clicks = hidden.clicks(target, sum(KILOGRAM[piece] for piece in pieces))
            hand.follow(hand.page.locator("#trial-click" if clicks else "#trial-no-click"))
        onward = hand.page.locator(".trial-enough a, .trial-instead a").first
        hand.follow(onward)


def judge(hand: Fingers, verdict: str) -> None:
    job.is_at(hand, "verdict")
    hand.follow(job.button(hand, "judge-ask"))
    said = say(f"bench-verdict-{verdict}")
    expect(hand.page.locator(".verdict-large").first).to_have_text(said)


def adjust(hand: Fingers, hidden: Hidden) -> None:
    """Turn as advised, ask again, until it says that it is good."""
    for done in range(MOST_TURNS):
        job.is_at(hand, "adjust")
        if not hand.page.locator(".adjust-now-turn").count():
            break
        turns = read_turns(hand.page.locator("#f-turns").input_value(), field="turns")
        way = hand.page.locator('[name="way"]:checked').input_value()
        if not done:
            looks_well(hand.page)
        expect(hand.page.locator(".adjust-dial")).to_be_visible()
        hand.follow(job.button(hand, "adjust-log-so"))
        hidden.off += turns * hidden.gain * (1 if way == "in" else -1)
        ask_every_point(hand, AS_LEFT, hidden, most=MOST_BETWEEN)
    expect(hand.page.locator(".adjust-line")).to_have_text(say("adjust-now-stay"))
    looks_well(hand.page)


def lock(hand: Fingers, hidden: Hidden) -> None:
    """The nut is tight; three pulls, and on."""
    fill(hand, lock_note="nut tight")
    hand.follow(job.button(hand, "adjust-lock"))
    hidden.off += hidden.locks
    job.is_at(hand, "exercise")
    for count in range(1, 4):
        hand.press(job.button(hand, "exercise-one-more"))
        expect(hand.page.locator("#f-exercise_pulls")).to_have_value(str(count))
    job.save_on(hand)
    expect(hand.page.locator(".left-note")).to_contain_text(say("left-after-lock"))
