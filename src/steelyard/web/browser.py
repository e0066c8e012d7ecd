"""The browser of this computer: whether there is one to open, and opening it."""

import os
import sys
import threading
import webbrowser
from collections.abc import Mapping
from pathlib import PurePath

TEXT_BROWSERS = {"www-browser", "links", "links2", "elinks", "lynx", "w3m", "browsh"}
"""They would take the terminal that the program speaks in."""
SCREENS = ("DISPLAY", "WAYLAND_DISPLAY")
ALWAYS_A_SCREEN = ("win32", "darwin")


def is_browser_here(surround: Mapping[str, str] = os.environ, platform: str = sys.platform) -> bool:
    """Whether a person sits before a screen with a browser: no build machine, not a terminal alone.

    surround: variables of the environment. platform: as in `sys.platform`.
    """
    if surround.get("CI", "").casefold() not in ("", "0", "false"):
        return False
    if platform not in ALWAYS_A_SCREEN and not any(surround.get(screen) for screen in SCREENS):
        return False
    try:
        browser = webbrowser.get()
    except webbrowser.Error:
        return False
    name = getattr(browser, "name", "")
    return PurePath(str(name)).name not in TEXT_BROWSERS


def open_browser(address: str) -> threading.Thread:
    """Open a page without waiting for the browser, which some do until it is closed; returns who waits."""
    thread = threading.Thread(target=webbrowser.open, args=[address], name="browser", daemon=True)
    thread.start()
    return thread
