"""The commands that serve: what they say, that they answer, that they end, that two do not fight."""

import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from cli.served import serving
from steelyard.cli import run
from steelyard.web.serving import USUAL_PORT, free_port

ENDING = [signal.SIGINT, signal.SIGTERM, *([signal.SIGHUP] if sys.platform != "win32" else [])]


def status_of(address: str) -> int:
    with urllib.request.urlopen(address, timeout=30) as answer:
        return int(answer.status)


def text_of(address: str) -> str:
    with urllib.request.urlopen(address, timeout=30) as answer:
        return str(answer.read().decode())


@pytest.mark.skipif(sys.platform == "win32", reason="this system sends no such signals")
@pytest.mark.parametrize("number", ENDING)
def test_the_persons_own_workshop_answers_and_ends_when_asked(tmp_path: Path, number: int) -> None:
    with serving(tmp_path, "--port", "0") as served:
        assert str(tmp_path / "steelyard") in served.hear("lies in")
        assert status_of(served.address()) == 200
        assert served.end(number) == 0
    assert served.said[-1] == "Ended. Nothing was left half written.\n"
    assert "Traceback" not in "".join(served.said)
    assert (tmp_path / "steelyard" / "ledger.sqlite3").is_file()


def test_a_second_start_says_where_the_first_is(tmp_path: Path) -> None:
    words = ("serve", "--data", str(tmp_path / "shop"), "--port", "0")
    with serving(tmp_path, *words) as first:
        address = first.address()
        with serving(tmp_path, *words) as second:
            assert address in second.hear("is open already")
            assert second.process.wait(60) == 0
        assert status_of(address) == 200


def test_an_address_left_by_one_that_was_killed_is_not_believed(tmp_path: Path) -> None:
    words = ("serve", "--data", str(tmp_path / "shop"), "--port", "0")
    with serving(tmp_path, *words) as first:
        address = first.address()
        first.process.kill()
        first.process.wait()
    assert (tmp_path / "shop" / "server.txt").read_text("utf-8").strip() == address
    with serving(tmp_path, *words) as second:
        assert status_of(second.address()) == 200


def test_a_port_that_is_asked_for_is_taken_or_refused(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = str(other.getsockname()[1])
        with serving(tmp_path, "serve", "--port", port) as served:
            served.hear(f"port: “{port}” cannot be used; wanted is a port that is free")
            assert served.process.wait(60) == 3


def test_a_port_next_to_a_taken_one_is_found() -> None:
    first, one = free_port(USUAL_PORT)
    with one:
        second, other = free_port(first)
        other.close()
    assert second > first


@pytest.mark.parametrize("typed", ["65536", "-1", "http", "²"])
def test_what_is_no_port_is_a_bad_command(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        run([f"--port={typed}"])
    assert left.value.code == 2
    assert "is no port" in capsys.readouterr().err


@pytest.fixture
def browser(tmp_path: Path) -> tuple[str, Path]:
    """A command that stands for a browser, and the file in which it notes what it was to open."""
    note, script = tmp_path / "opened.txt", tmp_path / "browser.py"
    script.write_text(f"import sys, pathlib\npathlib.Path({str(note)!r}).write_text(sys.argv[1])\n")
    return f"{sys.executable} {script} %s", note


def test_a_browser_is_opened_where_there_is_a_screen(tmp_path: Path, browser: tuple[str, Path]) -> None:
    command, note = browser
    with serving(tmp_path, "--port", "0", DISPLAY=":7", BROWSER=command) as served:
        address = served.address()
        served.hear("Ctrl-C")
        with serving(tmp_path, DISPLAY=":7", BROWSER=command) as second:
            second.hear("is open already")
            assert second.process.wait(60) == 0
    assert note.read_text() == address


@pytest.mark.parametrize(
    ("words", "surround"),
    [((), {}), ((), {"DISPLAY": ":7", "CI": "true"}), (("--no-browser",), {"DISPLAY": ":7"})],
)
def test_no_browser_is_opened_elsewhere(
    tmp_path: Path, words: tuple[str, ...], surround: dict[str, str], browser: tuple[str, Path]
) -> None:
    command, note = browser
    with serving(tmp_path, "--port", "0", *words, BROWSER=command, **surround) as served:
        served.address()
        served.hear("Ctrl-C")
        with serving(tmp_path, *words, BROWSER=command, **surround) as second:
            second.hear("is open already")
            assert second.process.wait(60) == 0
    assert not note.exists()


class TestDemo:
    def test_it_is_filled_marked_and_thrown_away(self, tmp_path: Path) -> None:
        with serving(tmp_path, "demo", "--port", "0") as served:
            served.hear("DEMO")
            address = served.address()
            page = text_of(f"{address}rack")
            assert "T-01" in page and "DEMO" in page
            assert list(tmp_path.glob("steelyard-demo-*"))
            assert served.end() == 0
        assert not list(tmp_path.glob("steelyard-demo-*"))

    def test_a_kept_one_stays_marked_whoever_opens_it(self, tmp_path: Path) -> None:
        folder = tmp_path / "kept"
        folder.mkdir()
        (folder / "demo.txt").touch()
        with serving(tmp_path, "serve", "--data", str(folder), "--port", "0") as served:
            assert "DEMO" in text_of(served.address())

    def test_it_never_enters_a_real_workshop(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        (tmp_path / "ledger.sqlite3").touch()
        assert run(["demo", "--data", str(tmp_path)]) == 3
        assert "made-up tools never enter a real workshop" in capsys.readouterr().err


def test_the_help_names_every_command_and_loads_none() -> None:
    script = (
        "import sys\nfrom steelyard.cli import run\n"
        "try:\n    run(['--help'])\n"
        "finally:\n    print(sorted({'fastapi', 'sqlalchemy', 'numpy', 'steelyard.desk'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, encoding="utf-8", check=True
    )
    assert done.stdout.endswith("[]\n")
    named = set(re.findall(r"^    ([a-z]+) ", done.stdout, re.MULTILINE))
    expected = (
        "serve demo check able next adjust reckon due label paper export import dcc verify sign key "
        "backup restore store simulate"
    )
    assert named == set(expected.split())
