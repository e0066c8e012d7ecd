"""Today in the browser, and what a program is told of it."""

from collections.abc import Iterator
from datetime import datetime, timedelta, timezone

import pytest

from steelyard.bootstrap import Workshop
from steelyard.desk import look_over, open_check, set_workshop, tool_event
from steelyard.records import Draft, Kind, Subject
from web.shop import Shop, shop

ZONE = timezone(timedelta(hours=1))
TOOL = {"kind": "beam", "lowest": "20 N·m", "highest": "100 N·m", "graduation": "1 N·m"}


@pytest.fixture
def bare() -> Iterator[Shop]:
    with shop() as opened:
        yield opened


@pytest.fixture
def begun(bare: Shop) -> Shop:
    """A workshop that was set."""
    set_workshop(bare.workshop.acting(), {"name": "Tern Point Boatyard"})
    return bare


def write(opened: Shop, *drafts: Draft) -> None:
    opened.workshop.acting().write(*drafts)


def add_tool(opened: Shop, number: str, due: str | None = None) -> None:
    tool = Subject.TOOL.named(number)
    payload = {"tool": {**TOOL, "number": number}, "limit": {"percent": "6"}, "notes": None}
    write(opened, Draft(Kind.TOOL_ADDED, tool, payload))
    if due is not None:
        write(opened, Draft(Kind.TOOL_EVENT, tool, {"what": "back", "note": None, "due": due}))


def add_scale(opened: Shop, due: str | None = None) -> None:
    table = {"name": "S-1", **({"paper": {"due": due}} if due else {})}
    write(opened, Draft(Kind.RIG_ADDED, Subject.RIG.named("s1"), {"sort": "scale", "table": table}))


def seal(opened: Shop, check: str = "c1", tool: str = "T-1") -> None:
    named = Subject.CHECK.named(check)
    payload = {"tool": tool, "tool_number": tool, "why": "due", "title": None, "day": "2026-11-25"}
    write(opened, Draft(Kind.CHECK_OPENED, named, payload))
    closed = {"record": 1, "verdict": "in", "day": "2026-11-25"}
    write(opened, Draft(Kind.CHECK_CLOSED, named, closed))


def test_a_new_workshop_is_led_to_the_first_start(bare: Shop) -> None:
    answer = bare.client.get("/", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/welcome")


def test_an_empty_workshop_is_led_in_three_steps(begun: Shop) -> None:
    text = begun.page("/")
    assert 'class="deed deed-main" href="/rigs/new/scale"' in text
    assert 'class="deed deed-plain" href="/rigs/new/transducer"' in text
    assert "Add a scale or a transducer" in text
    assert 'class="deed deed-plain" href="/rack/new"' in text
    add_scale(begun)
    text = begun.page("/")
    assert "/rigs/new/scale" not in text
    assert 'class="deed deed-main" href="/rack/new"' in text
    add_tool(begun, "T-1")
    assert 'class="deed deed-main" href="/bench/new"' in begun.page("/")


def test_with_a_record_there_is_one_big_button_and_nothing_else_to_press(begun: Shop) -> None:
    add_tool(begun, "T-1")
    seal(begun)
    text = begun.page("/")
    assert text.count('class="deed') == 1
    assert 'href="/bench/new">Check a tool<' in text
    assert "Nothing is due in the next 30 days" in text


def test_everything_that_asks_for_something_is_there_with_its_link(begun: Shop) -> None:
    add_tool(begun, "T-1", due="2026-11-20")
    add_tool(begun, "T-2", due="2026-11-25")
    add_tool(begun, "T-3")
    add_scale(begun, due="2026-12-01")
    write(begun, Draft(Kind.QUARANTINED, Subject.TOOL.named("T-3"), {"note": "Fell <hard>.", "check": None}))
    opened = {"tool": "T-1", "tool_number": "T-1", "why": "due", "title": None, "day": "2026-11-25"}
    write(begun, Draft(Kind.CHECK_OPENED, Subject.CHECK.named("c9"), opened))
    text = begun.page("/")
    assert 'href="/rack/T-1"' in text
    assert "Due on 20 November 2026, 5 days ago." in text
    assert "Due today." in text
    assert 'href="/rack/T-3"' in text
    assert "Fell &lt;hard&gt;." in text
    assert 'href="/rigs/s1"' in text
    assert "Its paper holds until 1 December 2026." in text
    assert 'href="/bench/c9"' in text
    assert "Begun 25 November 2026 at 10:00. 0 pulls so far." in text


def test_it_says_that_no_backup_was_made_yet(begun: Shop) -> None:
    assert "No backup yet." in begun.page("/")


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (datetime(2026, 11, 25, 7, 30, tzinfo=ZONE), "The last backup was made today at 07:30."),
        (datetime(2026, 11, 24, 7, 30, tzinfo=ZONE), "The last backup is 1 day old."),
        (datetime(2026, 11, 1, 7, 30, tzinfo=ZONE), "The last backup is 24 days old."),
    ],
)
def test_it_says_how_old_the_last_backup_is_and_louder_when_it_is_old(
    begun: Shop, monkeypatch: pytest.MonkeyPatch, made: datetime, said: str
) -> None:
    monkeypatch.setattr(Workshop, "last_backup", lambda _: made)
    text = begun.page("/")
    assert said in text
    assert ("note-warn" in text) is ("24 days" in said)


def test_a_program_is_told_the_same(begun: Shop) -> None:
    add_tool(begun, "T-1", due="2026-11-20")
    told = begun.client.get("/api/today").json()
    assert told["overdue"] == [
        {"tool": "T-1", "number": "T-1", "due": "2026-11-20", "days": -5, "check_first": None}
    ]
    assert told["first"] == {"has_rig": False, "has_tool": True, "has_record": False}
    assert told["last_backup"] is None


def test_what_fell_stands_ahead_of_what_is_overdue_with_its_word(begun: Shop) -> None:
    add_tool(begun, "T-1", due="2026-11-20")
    add_tool(begun, "T-2")
    tool_event(begun.workshop.acting(), "T-2", {"what": "overloaded"})
    write(begun, Draft(Kind.TOOL_ADDED, Subject.TOOL.named("T-3"), {"tool": {**TOOL, "number": "T-3"}}))
    fell_before = {"what": "dropped", "note": None, "due": "2026-11-25"}  # as an older version wrote it
    write(begun, Draft(Kind.TOOL_EVENT, Subject.TOOL.named("T-3"), fell_before))
    text = begun.page("/")
    assert "state-check-first" in text
    assert "overloaded: check before use" in text
    order = [text.index(f'href="/rack/{number}"') for number in ("T-2", "T-3", "T-1")]
    assert order == sorted(order)


def test_a_tool_damaged_on_sight_is_set_aside_at_once(begun: Shop) -> None:
    add_tool(begun, "T-1")
    check = open_check(begun.workshop.acting(), "T-1", {"why": "due"})
    look_over(begun.workshop.acting(), check, {"damaged": "yes", "look_note": "crack at the head"})
    assert "Damage seen when it was looked over: crack at the head" in begun.page("/")
    assert "state-quarantined" in begun.page("/rack")
