"""A real Chromium, pages that watch themselves, and workshops to open in them.

A test asks for `phone`, `desk`, or `page` (whose size and colours it may choose by parametrizing `size` and
`scheme`). Relative addresses lead to the shared demo workshop; in a test that asks for `workshop`, to that
new and empty one. Further devices: `new_page()`; a further window on the same: `page.context.new_page()`.
Nothing may depend on what another test did to the demo.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from browser.running import Workshop, running
from browser.watch import Watch

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
MISSING = (
    "no Chromium found; `make chromium` installs it or says how (on Debian: sudo apt-get install chromium), "
    "or set CHROMIUM=/path/to/it"
)
TIMEOUT_MS = 10_000

Size = Literal["phone", "desk"]
Scheme = Literal["light", "dark"]
NewPage = Callable[..., Page]
SIZES: dict[str, dict[str, Any]] = {
    "phone": {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True},
    "desk": {"viewport": {"width": 1280, "height": 800}},
}


def chromium() -> str | None:
    """Where the browser is: what CHROMIUM names, else the first one known by name."""
    named = os.environ.get("CHROMIUM")
    return next(filter(None, map(shutil.which, [named] if named else NAMES)), None)


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """One browser for this folder's tests. While it is open no other event loop runs in this thread."""
    path = chromium()
    if path is None and os.environ.get("STEELYARD_REQUIRE_BROWSER") == "1":
        pytest.fail(MISSING, pytrace=False)
    if path is None:
        pytest.skip(MISSING)
    expect.set_options(timeout=TIMEOUT_MS)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture
def workshop(browser: Browser, tmp_path: Path) -> Iterator[Workshop]:
    """A new, empty workshop of this test's own."""
    with running("serve", tmp_path / "workshop") as started:
        yield started


@pytest.fixture(scope="session")
def shared_demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    """The demo workshop behind `demo`; ask for that one, which starts nothing where there is no browser."""
    with running("demo", tmp_path_factory.mktemp("demo") / "workshop") as started:
        yield started


@pytest.fixture
def demo(browser: Browser, request: pytest.FixtureRequest) -> Workshop:
    """The demo workshop, shared by the tests of one process."""
    started: Workshop = request.getfixturevalue("shared_demo")
    return started


@pytest.fixture
def home(request: pytest.FixtureRequest) -> str:
    """Where relative addresses lead: the test's own workshop where it asks for one, else the demo."""
    name = "workshop" if "workshop" in request.fixturenames else "demo"
    started: Workshop = request.getfixturevalue(name)
    return started.url


@pytest.fixture
def size() -> Size:
    """Of `page`; parametrize to change."""
    return "desk"


@pytest.fixture
def scheme() -> Scheme:
    """Colours of the pages; parametrize to change."""
    return "light"


@pytest.fixture
def allowed_statuses() -> set[int]:
    """Refusals that are no fault: 409 and 422 from the start; a test adds what it provokes."""
    return {409, 422}


@pytest.fixture
def new_page(browser: Browser, home: str, scheme: Scheme, allowed_statuses: set[int]) -> Iterator[NewPage]:
    """Open a page on a device of its own: `new_page("phone", javascript=False)`, other words as Playwright's.

    Afterwards the test fails when any page had a script error, an error in its console (so any breach of the
    content policy), an answer 5xx, or asked another machine.
    """
    watch, opened = Watch(home, allowed_statuses), []

    def new(size: Size = "desk", *, javascript: bool = True, **words: Any) -> Page:
        told: dict[str, Any] = {"base_url": home, "color_scheme": scheme, **SIZES[size], **words}
        context = browser.new_context(java_script_enabled=javascript, **told)
        context.set_default_timeout(TIMEOUT_MS)
        watch.over(context)
        opened.append(context)
        return context.new_page()

    yield new
    for context in opened:
        context.close()
    assert not watch.seen, "\n".join(watch.seen)


@pytest.fixture
def page(new_page: NewPage, size: Size) -> Page:
    """A page of the parametrized size."""
    return new_page(size)


@pytest.fixture
def phone(new_page: NewPage) -> Page:
    """390 × 844, touch."""
    return new_page("phone")


@pytest.fixture
def desk(new_page: NewPage) -> Page:
    """1280 × 800, mouse and keyboard."""
    return new_page("desk")
