"""`steelyard label`: which tools, which paper, where the PDF goes."""

import io
import sys
from pathlib import Path

import pytest

from paper.label_shop import ADDRESS, codes, pages, words
from steelyard.bootstrap import workshop
from steelyard.cli import run
from steelyard.desk import quarantine, set_workshop, tools


def number(shop: Path) -> tuple[str, str]:
    """Name and number of the one tool."""
    with workshop(shop) as opened:
        (row,) = tools(opened.ledger, "", "", today=opened.clock.now().date()).rows
    return row.id, row.number


def test_a_label_of_a_tool_is_written_to_a_new_file(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name, named = number(shop)
    with workshop(shop) as opened:
        set_workshop(opened.acting(who="", device="test"), {"label_address": ADDRESS})
    out = tmp_path / "labels.pdf"
    assert run(["label", named, "--data", str(shop), "--out", str(out)]) == 0
    assert capsys.readouterr().out == f"Labels written to {out}: 1\n"
    (page,) = pages(out.read_bytes())
    assert [code.text for code in codes(page)] == [f"{ADDRESS}/rack/{name}"]
    assert run(["label", named, "--data", str(shop), "--out", str(out)]) == 3
    assert "a file that is not there yet" in capsys.readouterr().err


def test_without_a_file_it_goes_to_standard_output(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    printed = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(printed))
    assert run(["label", "--all", "--size", "51x25", "--data", str(shop)]) == 0
    (page,) = pages(printed.getvalue())
    assert (page.get_width(), page.get_height()) == pytest.approx((144.57, 70.87), abs=0.01)


def test_a_screen_gets_no_pdf(
    shop: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert run(["label", "--all", "--data", str(shop)]) == 3
    assert "it is nothing for a screen" in capsys.readouterr().err


def test_all_in_quarantine_say_do_not_use(shop: Path, tmp_path: Path) -> None:
    name, named = number(shop)
    with workshop(shop) as opened:
        quarantine(opened.acting(who="", device="test"), name, {"reason": "bent"})
    out = tmp_path / "labels.pdf"
    words_given = ["label", "--quarantine", "--sheet", "a4-3x8", "--skip", "23", "--out", str(out)]
    assert run([*words_given, "--data", str(shop)]) == 0
    (page,) = pages(out.read_bytes())
    assert words(page).startswith(f"DO NOT USE {named} bent since ")
    (code,) = codes(page)
    assert code.box.left > 140 and code.box.top > 250


@pytest.mark.parametrize(
    ("options", "status", "said"),
    [
        (["--due"], 3, "a tool that is due; none is today"),
        (["--quarantine"], 3, "a tool in quarantine; none is"),
        ([], 3, "at least one tool"),
        (["T-none"], 4, "T-none is not there"),
        (["--all", "--skip", "21"], 3, "--skip: “21” cannot be used; wanted is a whole number from 0 to 20"),
        (["--all", "--size", "51"], 3, "--size: “51” cannot be used; wanted is width and height in mm"),
        (
            ["--all", "--size", "51x12"],
            3,
            "--size: “12” cannot be used; wanted is a number from 20 to 600 mm",
        ),
        (["--all", "--size", "51x25", "--skip", "1"], 3, "a page of its own"),
    ],
    ids=str,
)
def test_what_cannot_be_done_is_said_in_one_sentence(
    shop: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    options: list[str],
    status: int,
    said: str,
) -> None:
    out = tmp_path / "labels.pdf"
    assert run(["label", *options, "--data", str(shop), "--out", str(out)]) == status
    assert said in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.parametrize(
    "options", [["--sheet", "a5"], ["--due", "--all"], ["--sheet", "a4-3x7", "--size", "51x25"]]
)
def test_options_that_do_not_go_together_are_a_bad_command(shop: Path, options: list[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        run(["label", *options, "--data", str(shop)])
    assert ended.value.code == 2
