"""Makes the pictures of the documents: `make pictures`.

Two workshops are served to a Chromium without a screen: the demo workshop, and an empty one in which the check
of docs/tutorial/first-check.md is done page by page. Both are thrown away. Their clock stands at a fixed hour
and their names are counted, so that the same program makes the same pictures.
"""

import io
import os
import shutil
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Sequence
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

FOLDER = Path("/tmp/docs/pics")
HOUR = datetime(2026, 11, 25, 10, 0, tzinfo=timezone(timedelta(hours=1)))
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = ["--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--force-color-profile=srgb"]
DESK, PHONE = (1280, 800), (390, 844)
COLOURS = 128
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
    folder: Path

    def page(self, size: tuple[int, int], **words: Any) -> Page:
        """A page on a device of its own."""
        view = {"width": size[0], "height": size[1]}
        context = self.browser.new_context(
            base_url=self.home, viewport=view, color_scheme="light", reduced_motion="reduce", **words
        )
        context.set_default_timeout(PATIENCE_MS)
        return context.new_page()

    def take(self, page: Page, name: str, *, top: str = "") -> None:
        """One picture. top: what is to stand at the upper edge, else the page as it opens."""
        page.wait_for_load_state("networkidle")
        page.evaluate("document.fonts.ready")
        page.evaluate("document.activeElement?.blur()")
        if top:
            page.locator(top).first.evaluate("e => window.scrollTo(0, e.getBoundingClientRect().top + scrollY - 16)")
        else:
            page.evaluate("window.scrollTo(0, 0)")
        shot = page.screenshot(animations="disabled", caret="hide")
        with Image.open(io.BytesIO(shot)) as picture:
            few = picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
            few.save(self.folder / name, optimize=True)
        print(f"{name}: {(self.folder / name).stat().st_size // 1000} kB")


def fill(page: Page, **typed: str) -> None:
    """Type into fields by their names; two underscores stand for a dot."""
    for name, text in typed.items():
        page.locator(f'[name="{name.replace("__", ".")}"]').first.fill(text)


def choose(page: Page, **chosen: str) -> None:
    """Press the choice with that value."""
    for name, value in chosen.items():
        page.locator(f'[name="{name.replace("__", ".")}"][value="{value}"]').check(force=True)


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
    send(page)
    album.take(page, "first-tool-added.png")


def check(album: Album, page: Page) -> None:
    """Every step of the check."""
    page.goto("/bench/new")
    page.locator('main a[href^="/bench/new?tool="]').first.click()
    choose(page, why="new")
    send(page)
    choose(page, damaged="no")
    album.take(page, "first-look.png")
    send(page)
    page.locator('[name="rig"]').first.check(force=True)
    choose(page, plan="full")
    album.take(page, "first-kit.png")
    send(page)
    fill(page, arm="250 ± 1", droop="0 ± 1", drop="0 ± 5")
    choose(page, set_each_time="no", is_ready="yes")
    album.take(page, "first-set-up.png")
    send(page)
    fill(page, exercise_pulls="5")
    send(page)
    pulls(album, page)


def pulls(album: Album, page: Page) -> None:
    """Five pulls at each of three torques, the verdict, the seal."""
    taken = 0
    for point in PULLS:
        for bucket in point:
            fill(page, bucket=bucket)
            page.locator("#pull-take").click()
            taken += 1
            page.wait_for_function(f"document.querySelector('[data-part=points]').dataset.sum = [...document.querySelectorAll('[data-counted]')].reduce((n, e) => n + Number(e.dataset.counted), 0), document.querySelector('[data-part=points]').dataset.sum == {taken}")
            if taken == 3:
                album.take(page, "first-pulls.png")
    page.goto(page.url.split("/as-found")[0] + "/verdict")
    send(page)
    album.take(page, "first-verdict.png")
    page.goto(page.url.replace("/verdict", "/close"))
    album.take(page, "first-close.png")
    send(page)
    album.take(page, "first-record.png")
    album.take(page, "first-seal.png", top=".record-seal")


def demo(album: Album) -> None:
    """What the other documents show, from the demo workshop."""
    for size, suffix in ((DESK, ""), (PHONE, "-phone")):
        page = album.page(size, has_touch=size is PHONE, is_mobile=size is PHONE)
        page.goto("/")
        album.take(page, f"today{suffix}.png")
        page.goto("/bench")
        page.goto(page.locator('main a[href^="/bench/"]').first.get_attribute("href") or "")
        album.take(page, f"pull{suffix}.png")
        page.goto("/rack")
        album.take(page, f"rack{suffix}.png")


def picture_names() -> Sequence[str]:
    """The pictures this command makes."""
    return MADE


MADE = (
    "today.png",
)


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
    with sync_playwright() as playwright, tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        with workshop(Path(scratch) / "empty") as opened, served(standing(opened)) as home:
            tutorial(Album(browser, home, FOLDER))
        with demo_workshop(Path(scratch) / "demo") as opened:
            told = standing(opened)
            fill_demo(told)
            with served(told) as home:
                demo(Album(browser, home, FOLDER))
        browser.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
