"""What the pages say when the ledger cannot be used, or the clock is wrong: one sentence, nothing lost."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from desk.bench_shop import WRENCH
from steelyard.bootstrap import Workshop, workshop
from steelyard.desk import (
    AS_FOUND,
    add_rig,
    add_tool,
    choose_kit,
    exercise,
    look_over,
    open_check,
    read_pull,
    set_up,
)
from steelyard.errors import Busy, Full, ReadOnly, StoreTrouble
from steelyard.store import SqlLedger
from web.shop import StandingClock, make_workshop, shop


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Workshop]:
    with workshop(tmp_path / "shop") as open_one:
        yield open_one


def a_check(opened: Workshop) -> str:
    """A check that waits for its first pull."""
    acting = opened.acting()
    tool = add_tool(acting, WRENCH)
    rig = add_rig(acting, "transducer", {"name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"})
    check = open_check(acting, tool, {"why": "due"})
    look_over(acting, check, {"damaged": "no"})
    choose_kit(acting, check, {"rig": rig, "plan": "full"})
    set_up(acting, check, {"axis": "vertical", "zeroed": "with-tool", "is_ready": "yes"})
    exercise(acting, check, {"exercise_pulls": "5"})
    return check


@pytest.mark.parametrize("trouble", [Busy, Full, ReadOnly])
def test_a_pull_that_cannot_be_written_stays_in_its_field(
    opened: Workshop, monkeypatch: pytest.MonkeyPatch, trouble: type[StoreTrouble]
) -> None:
    check = a_check(opened)

    def refuse(*_: object, **__: object) -> None:
        raise trouble("the shop's folder")

    monkeypatch.setattr(SqlLedger, "append", refuse)
    with shop(opened) as pages:
        text = pages.send(f"/bench/{check}/as-found", trouble.http_status, line="19.6", point="0")
        assert 'value="19.6"' in text
        assert "nothing was written" in text
        monkeypatch.undo()
        pages.send(f"/bench/{check}/as-found", line="19.6", point="0")


def test_a_ledger_that_cannot_be_read_is_said_in_one_sentence(
    opened: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise Busy("the shop's folder")

    with shop(opened) as pages:
        monkeypatch.setattr(SqlLedger, "document", refuse)
        assert "another program holds the ledger" in pages.page("/", 503)


def later_by(opened: Workshop, **time: float) -> Workshop:
    """The same workshop under a clock that stands elsewhere."""
    hour = opened.clock.now() + timedelta(**time)
    folder, ledger, dice, darkroom = opened.folder, opened.ledger, opened.dice, opened.darkroom
    return Workshop(folder, ledger, StandingClock(hour), dice, darkroom)


def test_a_clock_set_back_by_a_day_is_said_on_every_page_and_loses_nothing() -> None:
    now = make_workshop()
    check = a_check(now)
    read_pull(now.acting(), check, AS_FOUND, 0, {"line": "19.6"})
    yesterday = later_by(now, days=-1)
    with shop(yesterday) as pages:
        assert "clock stands before the last entry" in pages.page("/")
        pages.send(f"/bench/{check}/as-found", line="19.7", point="0")
    body = now.ledger.document(f"check:{check}")
    assert body is not None
    assert [pull["pull"]["reading"] for pull in body["pulls"]] == ["19.6 N·m", "19.7 N·m"]
    assert not now.verify().findings


def test_a_clock_that_goes_right_is_not_spoken_of(opened: Workshop) -> None:
    a_check(opened)
    with shop(opened) as pages:
        assert "clock stands before" not in pages.page("/")
