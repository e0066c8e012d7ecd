"""Whether there is a browser to open."""

import webbrowser

import pytest

from steelyard.web.browser import is_browser_here

SCREEN = {"DISPLAY": ":0"}


def found(name: str | None, monkeypatch: pytest.MonkeyPatch) -> None:
    """As if the system had this browser, or none."""

    def get() -> webbrowser.BaseBrowser:
        if name is None:
            raise webbrowser.Error
        return webbrowser.GenericBrowser(name)

    monkeypatch.setattr(webbrowser, "get", get)


@pytest.mark.parametrize(
    ("surround", "platform", "is_here"),
    [
        (SCREEN, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({}, "linux", False),
        ({"DISPLAY": ""}, "linux", False),
        ({}, "win32", True),
        ({}, "darwin", True),
        ({"CI": "true"}, "win32", False),
        (SCREEN | {"CI": "1"}, "linux", False),
        (SCREEN | {"CI": "false"}, "linux", True),
    ],
)
def test_a_screen_is_needed_and_no_build_machine(
    surround: dict[str, str], platform: str, is_here: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    found("/usr/bin/some-browser", monkeypatch)
    assert is_browser_here(surround, platform) is is_here


@pytest.mark.parametrize("name", ["/usr/bin/www-browser", "lynx", "w3m", None])
def test_one_for_the_terminal_does_not_count(name: str | None, monkeypatch: pytest.MonkeyPatch) -> None:
    found(name, monkeypatch)
    assert not is_browser_here(SCREEN, "linux")
