"""Makes the pictures of the documents: `make pictures`.

Two workshops are served to a Chromium without a screen: the demo workshop, and an empty one in which the
check of docs/tutorial/first-check.md is done page by page. Both are thrown away. Their clock stands at a
fixed hour and their names are counted, so that the same program makes the same pictures.
"""

import io
import os
import shutil
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import uvicorn
from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from steelyard.bootstrap import Workshop, demo_workshop, fill_demo, workshop
from steelyard.web import make_app
from steelyard.web.serving import free_port

FOLDER = Path(__file__).parent.parent / "docs" / "pictures"
HOUR = datetime(2026, 11, 25, 10, 0, tzinfo=timezone(timedelta(hours=1)))
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = ["--disable-gpu", "--hide-scrollbars", "--force-color-profile=srgb"]
DESK, PHONE = (1280, 800), (390, 844)
COLOURS = 128
MADE = (
    "first-welcome.png",
    "first-today.png",
    "first-scale.png",
    "first-arm.png",
    "first-tool.png",
    "first-measured.png",
    "first-kit.png",
    "first-set-up.png",
    "first-pulls.png",
    "first-verdict.png",
    "first-record.png",
    "first-seal.png",
    "today.png",
    "pull.png",
    "pull-phone.png",
    "keys.png",
    "tool-out.png",
)
"""Every picture this command makes, in the order it makes them."""
STARTING_SECONDS = 20.0
PATIENCE_MS = 10_000

PULLS = (
    ("1.795 kg", "1.810 kg", "1.785 kg", "1.800 kg", "1.805 kg"),
    ("5.830 kg", "5.860 kg", "5.845 kg", "5.840 kg", "5.855 kg"),
    ("9.880 kg", "9.920 kg", "9.895 kg", "9.905 kg", "9.890 kg"),
)
"""What the weighed bucket showed at each click, point by point, as the tutorial tells it."""


@dataclass
class StandingClock:
    """A clock that goes on by twenty seconds at every look."""

    hour: datetime = HOUR

    def now(self) -> datetime:
        """The hour, a little later each time."""
        self.hour += timedelta(seconds=20)
        return self.hour


@dataclass
class CountingDice:
    """Names that count."""

    count: int = 0

    def name(self) -> str:
        """00000001, 00000002, …"""
        self.count += 1
        return f"{self.count:08x}"

    def salt(self) -> str:
        """The same each time: nobody real works here."""
        return "5a17" * 8


@dataclass
class Album:
    """A browser on one workshop, and where its pictures go."""

    browser: Browser
    home: str
    taken: list[str]

    def page(self, size: tuple[int, int], **words: Any) -> Page:
        """A page on a device of its own."""
        view = {"width": size[0], "height": size[1]}
        context = self.browser.new_context(
            base_url=self.home, viewport=view, locale="en-GB", reduced_motion="reduce", **words
        )
        context.set_default_timeout(PATIENCE_MS)
        return context.new_page()

    def take(self, page: Page, name: str, *, top: str = "") -> None:
        """One picture. top: what is to stand at the upper edge, else the page as it opens."""
        page.wait_for_load_state("networkidle")
        page.evaluate("document.fonts.ready")
        page.evaluate("document.activeElement?.blur()")
        if top:
            page.locator(top).first.evaluate("e => scrollTo(0, e.getBoundingClientRect().top + scrollY - 16)")
        else:
            page.evaluate("scrollTo(0, 0)")
        shot = page.screenshot(animations="disabled", caret="hide")
        with Image.open(io.BytesIO(shot)) as picture:
            few = picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
            few.save(FOLDER / name, optimize=True)
        self.taken.append(name)
        print(f"{name}: {(FOLDER / name).stat().st_size // 1000} kB", flush=True)


def fill(page: Page, **typed: str) -> None:
    """Type into fields by their names; two underscores stand for a dot."""
    for name, text in typed.items():
        page.locator(f'[name="{name.replace("__", ".")}"]').first.fill(text)


def choose(page: Page, **chosen: str) -> None:
    """Press the choice with that value, by key: a button at the lower edge may lie over it."""
    for name, value in chosen.items():
        page.locator(f'[name="{name.replace("__", ".")}"][value="{value}"]').focus()
        page.keyboard.press("Space")


def send(page: Page) -> None:
    """Press the main button of the page."""
    with page.expect_navigation():
        page.locator("main form button.deed-main:visible").last.click()


def tutorial(album: Album) -> None:
    """The first check, from the empty workshop to the sealed record."""
    page = album.page(DESK)
    page.goto("/")
    fill(page, name="Tern Point Boatyard", latitude="54.3 N", height="12", person="engine shop")
    album.take(page, "first-welcome.png")
    send(page)
    album.take(page, "first-today.png")
    add_scale(album, page)
    add_arm(album, page)
    add_tool(album, page)
    check(album, page)


def add_scale(album: Album, page: Page) -> None:
    """The scale that weighs the bucket."""
    page.goto("/rigs/new/scale")
    fill(page, name="S-2", step="5", within="10")
    choose(page, knows="mass")
    album.take(page, "first-scale.png")
    send(page)


def add_arm(album: Album, page: Page) -> None:
    """The place where the tool is clamped and loaded."""
    page.goto("/rigs/new/hung-weight")
    fill(page, name="W-1")
    page.locator('select[name="material"]').select_option("water")
    album.take(page, "first-arm.png")
    send(page)


def add_tool(album: Album, page: Page) -> None:
    """The wrench."""
    page.goto("/rack/new")
    page.locator('main a[href*="kind=click-adjustable"]').first.click()
    fill(page, number="T-09", lowest="5", highest="25", graduation="0.1", grip_mark="250 ± 1")
    choose(page, limit__published="own", own_way="balance")
    fill(page, limit__percent="4", limit__source="the sheet that came with it")
    fill(page, mass="0.600 ± 0.005", balance_point="110 ± 3")
    album.take(page, "first-tool.png")
    album.take(page, "first-measured.png", top=".form-measured")
    send(page)


def check(album: Album, page: Page) -> None:
    """Every step of the check up to the pulls."""
    page.goto("/bench/new")
    page.locator('main a[href^="/bench/new?tool="]').first.click()
    choose(page, why="new")
    send(page)
    choose(page, damaged="no")
    send(page)
    page.locator('[name="rig"]').first.focus()
    page.keyboard.press("Space")
    choose(page, plan="full")
    album.take(page, "first-kit.png")
    send(page)
    fill(page, arm="250 ± 1", droop="0 ± 1", drop="0 ± 5")
    choose(page, set_each_time="no", is_ready="yes")
    album.take(page, "first-set-up.png")
    send(page)
    fill(page, exercise_pulls="5")
    send(page)
    pull_and_close(album, page)


def pull_and_close(album: Album, page: Page) -> None:
    """Five pulls at each of three torques, the verdict, the seal."""
    for point in PULLS:
        for bucket in point:
            last = page.locator("#pulling").get_attribute("data-last")
            fill(page, bucket=bucket)
            page.locator("#pull-take").click()
            page.locator(f'#pulling:not([data-last="{last}"])').wait_for()
            if bucket == PULLS[1][2]:
                album.take(page, "first-pulls.png")
    page.locator('main a[href$="/verdict"]').first.click()
    send(page)
    album.take(page, "first-verdict.png")
    page.locator('main a[href$="/close"]').last.click()
    send(page)
    album.take(page, "first-record.png")
    album.take(page, "first-seal.png", top=".record-seal")


def demo(album: Album) -> None:
    """What the other documents show, from the demo workshop."""
    page = album.page(DESK)
    page.goto("/")
    album.take(page, "today.png")
    in_hand(page)
    album.take(page, "pull.png")
    phone = album.page(PHONE, has_touch=True, is_mobile=True)
    in_hand(phone)
    album.take(phone, "pull-phone.png")
    page.evaluate("document.activeElement?.blur()")
    page.keyboard.press("?")
    page.locator("dialog[open]").wait_for()
    album.take(page, "keys.png")
    page.goto("/rack?state=quarantined")
    page.locator('main a[href^="/rack/"]:not([href="/rack/new"])').first.click()
    album.take(page, "tool-out.png")


def in_hand(page: Page) -> None:
    """To the check that is in hand."""
    page.goto("/bench")
    page.locator('main a[href^="/bench/"]').first.click()
    page.locator("#pulling").wait_for()


@contextmanager
def served(opened: Workshop) -> Iterator[str]:
    """A workshop at some free port; its address."""
    port, listening = free_port(0)
    config = uvicorn.Config(make_app(opened), log_level="warning", access_log=False)
    server = uvicorn.Server(config)
    with listening:
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        until = time.monotonic() + STARTING_SECONDS
        while not server.started and time.monotonic() < until:
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}"
        server.should_exit = True
        thread.join(STARTING_SECONDS)


def standing(opened: Workshop) -> Workshop:
    """The same workshop by a clock that stands and dice that count."""
    return replace(opened, clock=StandingClock(), dice=CountingDice())


def chromium() -> str | None:
    """Where the browser is: what CHROMIUM names, else the first one known by name."""
    named = os.environ.get("CHROMIUM")
    return next(filter(None, map(shutil.which, [named] if named else NAMES)), None)


def main() -> int:
    """Make them all; 1 where there is no browser."""
    path = chromium()
    if path is None:
        print("No Chromium found; `make chromium` installs it or says how", file=sys.stderr)
        return 1
    FOLDER.mkdir(exist_ok=True)
    taken: list[str] = []
    with sync_playwright() as playwright, tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        with workshop(Path(scratch) / "empty") as opened, served(standing(opened)) as home:
            tutorial(Album(browser, home, taken))
        with demo_workshop(Path(scratch) / "demo") as opened:
            told = standing(opened)
            fill_demo(told)
            with served(told) as home:
                demo(Album(browser, home, taken))
        browser.close()
    if tuple(taken) != MADE:
        raise AssertionError(f"made {taken}, promised {MADE}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
