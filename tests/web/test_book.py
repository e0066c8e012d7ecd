"""The book in the browser: the list, a record as read, corrections, files, the chain; the same as JSON."""

import json
import re
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pytest
import rfc8785
from PIL import Image

import sealed
from forms import BEAM, DRIVER, HUNG, changed
from steelyard.bootstrap import Workshop
from steelyard.desk import attach_photograph, close_check, look_over, record_file, record_view
from steelyard.desk.ports import OnStep
from steelyard.errors import Busy
from steelyard.records import digest_of
from steelyard.store import SqlLedger, Verification, open_ledger
from steelyard.web.run import Run, Runs
from steelyard.words import say
from web.shop import HOUR, Shop, make_workshop, shop


@pytest.fixture(scope="module")
def told() -> Iterator[Shop]:
    """A shop that tests only read: 1 adjusted and corrected, 2 stopped, 3 to 5 from files."""
    workshop = make_workshop()
    acting = workshop.acting()
    with shop(workshop) as opened:
        sealed.adjusted(acting, sealed.tool(acting), sealed.transducer(acting))
        opened.send("/book/1/correction", wrong="half a turn", right="a quarter turn")
        sealed.stopped(acting, sealed.tool(acting, "T-20"))
        for form in (BEAM, HUNG, DRIVER):
            record_file(acting, form.encode())
        yield opened


def words_of(html: str) -> str:
    """What a page says, without its marks."""
    return " ".join(re.sub(r"<[^>]+>", " ", html).replace("&#39;", "'").split())


def test_an_empty_book_says_what_comes_first() -> None:
    with shop() as opened:
        text = opened.page("/book")
        assert say("book-empty-title") in text
        assert 'href="/bench/new"' in text
        assert 'role="search"' not in text


def test_records_stand_with_the_latest_first(told: Shop) -> None:
    text = told.page("/book")
    assert re.findall(r'href="/book/(\d+)"', text) == ["5", "4", "3", "2", "1"]
    assert say("bench-verdict-stopped") in text
    assert say("book-row-corrected") in text


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ("words=launching", ["2", "1"]),
        ("tool=T-20", ["2"]),
        ("verdict=in&words=t-02", ["1"]),
        ("words=zzz", []),
    ],
)
def test_the_list_is_narrowed_by_its_address(told: Shop, query: str, found: list[str]) -> None:
    assert re.findall(r'href="/book/(\d+)"', told.page(f"/book?{query}")) == found


def test_a_tool_that_was_named_by_its_place_is_shown_by_its_number(told: Shop) -> None:
    name = record_view(told.workshop.ledger, 2).tool["id"]
    text = told.page(f"/book?tool={name}")
    assert re.findall(r'href="/book/(\d+)"', text) == ["2"]
    assert 'name="tool" type="text" value="T-20"' in text


@pytest.mark.parametrize("query", ["verdict=fine", "day_from=soon", "tool=T-99", "day_to=0", "words=%00"])
def test_a_search_that_cannot_be_keeps_what_was_typed(told: Shop, query: str) -> None:
    text = told.page(f"/book?{query}", 422)
    assert 'role="alert"' in text
    assert re.findall(r'href="/book/(\d+)"', text) == []


def test_older_records_stand_on_the_next_page() -> None:
    with shop() as opened:
        acting = opened.workshop.acting()
        tool = sealed.tool(acting)
        for _ in range(52):
            sealed.stopped(acting, tool)
        first = opened.page("/book?words=launching")
        (older,) = re.findall(r'href="(/book\?[^"]*after[^"]*)"', first)
        assert re.findall(r'href="/book/(\d+)"', opened.page(older.replace("&amp;", "&"))) == ["2", "1"]


def test_a_record_says_everything_of_an_adjusted_tool(told: Shop) -> None:
    text = words_of(told.page("/book/1"))
    for sentence in (
        say("check-title", number="T-02"),
        "bench transducer R-1, no certificate: not traceable",
        say("rule-guarded"),
        "half a turn",
        "a quarter turn",
        say("record-phase-verdict", phase="As found", verdict="OUT"),
        say("record-phase-verdict", phase="As left", verdict="IN"),
        say("bolts-less", percent=5.3, than="set"),
        "struck out: slipped",
        "1/4 turn, in (clockwise): stiff",
        say("record-next-due", day="2027-11-25"),
        "spring is old",
        say("check-claims"),
        say("measure-iso"),
        say("cause-interval-outside"),
    ):
        assert sentence in text
    assert text.index("half a turn") < text.index(say("record-what"))


def test_a_record_shows_the_digits_that_were_kept(told: Shop) -> None:
    text = words_of(told.page("/book/1"))
    for phase in record_view(told.workshop.ledger, 1).body["verdicts"].values():
        for point in phase["content"]["points"]:
            iso = point["iso"]
            numbers = [iso[f"{name}_percent"] for name in ("deviation", "low", "high")]
            for number in numbers:
                assert f"{number:+.2f}".replace("-", "−") in text
            assert len({f"{n:+.2f}" for n in numbers}) == 3


def test_a_record_prints_its_number_entry_and_digest(told: Shop) -> None:
    view = record_view(told.workshop.ledger, 1)
    text = words_of(told.page("/book/1")).replace(" ", "")
    assert view.entry_digest in text
    assert view.body["closed"]["digest"] in text


@pytest.mark.parametrize(("record", "hangs"), [(1, False), (3, True), (4, True), (5, False)])
def test_cautions_stand_where_something_hung(told: Shop, record: int, hangs: bool) -> None:
    assert (say("caution-feet") in told.page(f"/book/{record}")) is hangs


def test_a_tool_that_shows_is_read_at_a_known_torque(told: Shop) -> None:
    text = words_of(told.page("/book/3"))
    assert "than shown" in text
    assert "mean shown" in text
    assert say("record-pull-shown", unit="N·m") in text


def test_the_number_of_a_certificate_stands_with_the_kit(told: Shop) -> None:
    assert say("paper-traceable", certificate="TPB-0042") in told.page("/book/5")


def test_a_stopped_check_says_what_was_seen(told: Shop) -> None:
    text = words_of(told.page("/book/2"))
    assert say("record-look-damaged", note="ratchet cracked") in text
    assert say("bench-verdict-stopped") in text
    assert say("record-picture") not in text


def test_a_record_is_printed_with_a_comma_where_that_is_the_mark(told: Shop) -> None:
    told.client.cookies.set("steelyard_mark", "%2C")
    try:
        text = words_of(told.page("/book/1"))
    finally:
        told.client.cookies.clear()
    assert "Bolts get 5,3 % LESS than set".lower() in text.lower()
    assert "+5,54 %" in text


@pytest.mark.parametrize(
    "address", ["/book/9", "/book/0", "/book/x", "/book/-1", f"/book/{10**40}", "/files/x"]
)
def test_what_is_not_there_is_not_found(told: Shop, address: str) -> None:
    told.page(address, 404)


def test_a_correction_without_words_stays_on_the_page_with_what_was_typed(told: Shop) -> None:
    text = told.send("/book/2/correction", 422, wrong="the date", right="")
    assert "the date</textarea>" in text
    assert 'id="f-right-trouble"' in text


def test_a_record_is_exported_as_a_form_and_as_json(told: Shop) -> None:
    form = told.client.get("/book/1/form.toml?phase=as-found")
    assert form.headers["content-type"].startswith("application/toml")
    assert "record-1" in form.headers["content-disposition"]
    assert 'struck_out = "slipped"' in form.text
    export = told.client.get("/book/1/content.json").json()
    assert digest_of(rfc8785.dumps(export["content"]).decode()) == export["digest"]
    assert told.client.get("/book/2/form.toml").status_code == 404


def test_a_check_from_a_file_becomes_a_record() -> None:
    with shop() as opened:
        answer = opened.client.post(
            "/book/file",
            data={"submission": "s1", "form": "ignored"},
            files={"file": ("check.toml", BEAM.encode())},
            follow_redirects=False,
        )
        assert (answer.status_code, answer.headers["location"]) == (303, "/book/1")
        assert say("notice-record-kept") in opened.page("/book/1")
        assert opened.send("/book/file", form=HUNG, submission="s2") == "/book/2"
        assert opened.send("/book/file", form=HUNG, submission="s2") == "/book/2"
        assert re.findall(r'href="/book/(\d+)"', opened.page("/book")) == ["2", "1"]


def test_a_record_that_was_exported_and_comes_back_is_shown_and_not_kept_again() -> None:
    with shop() as opened:
        opened.send("/book/file", form=BEAM, submission="s1")
        exported = opened.client.get("/book/1/form.toml").text
        assert opened.send("/book/file", form=exported, submission="s2") == "/book/1"
        assert say("notice-record-there") in opened.page("/book/1")
        assert re.findall(r'href="/book/(\d+)"', opened.page("/book")) == ["1"]


def test_a_text_as_a_browser_sends_it_is_read_too() -> None:
    with shop() as opened:
        assert opened.send("/book/file", form=BEAM.replace("\n", "\r\n")) == "/book/1"


def test_a_refused_file_stands_in_the_field_to_be_mended() -> None:
    broken = changed(BEAM, 'lowest = "10 N·m"', 'lowest = "10"')
    with shop() as opened:
        answer = opened.client.post("/book/file", files={"file": ("check.toml", broken.encode())})
        assert answer.status_code == 422
        assert "tool.lowest" in words_of(answer.text)
        assert "lowest = &#34;10&#34;" in answer.text
        assert opened.workshop.ledger.head().number == 0


@pytest.mark.parametrize("form", ["", "   ", "x", "steelyard_check = 1", "\x00"])
def test_what_is_no_check_form_is_refused_beside_the_field(form: str) -> None:
    with shop() as opened:
        answer = opened.client.post("/book/file", files={"form": (None, form), "file": ("", b"")})
        assert answer.status_code == 422
        assert 'id="f-form-trouble"' in answer.text


def test_a_file_that_is_too_large_is_refused() -> None:
    with shop() as opened:
        answer = opened.client.post("/book/file", files={"file": ("large.toml", b"a = 1\n" * 300_000)})
        assert answer.status_code == 422
        assert say("want-smaller-file") in answer.text


def test_a_kept_photograph_is_shown_and_may_be_kept_by_the_browser() -> None:
    picture = BytesIO()
    Image.new("RGB", (40, 30), "grey").save(picture, "PNG")
    with shop() as opened:
        acting = opened.workshop.acting()
        check = sealed.opened(acting, sealed.tool(acting))
        content, media_type = opened.workshop.darkroom.develop(picture.getvalue())
        digest = attach_photograph(acting, check, content, media_type, {"photo_note": "crack"})
        look_over(acting, check, {"damaged": "yes", "look_note": "cracked"})
        record = close_check(acting, check, {})
        assert f'<img src="/files/{digest}" alt="crack"' in opened.page(f"/book/{record}")
        answer = opened.client.get(f"/files/{digest}")
        assert (answer.content, answer.headers["content-type"]) == (content, media_type)
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "immutable" in answer.headers["cache-control"]


# ---------------------------------------------------------------- the chain


@pytest.fixture
def on_disk(tmp_path: Path) -> Iterator[tuple[Shop, SqlLedger]]:
    """A shop with one record in a file."""
    ledger = open_ledger(tmp_path / "ledger.sqlite3")
    workshop = replace(make_workshop(), ledger=ledger)
    with ledger, shop(workshop) as opened:
        acting = workshop.acting()
        sealed.stopped(acting, sealed.tool(acting))
        yield opened, ledger


def test_a_small_chain_is_verified_at_once(on_disk: tuple[Shop, SqlLedger]) -> None:
    opened, ledger = on_disk
    assert opened.send("/book/chain") == "/book/chain"
    assert f"Everything holds: {ledger.head().number} entries" in opened.page("/book/chain")


def test_a_changed_entry_is_found(on_disk: tuple[Shop, SqlLedger]) -> None:
    opened, ledger = on_disk
    with ledger.engine.begin() as connection:
        connection.exec_driver_sql("DROP TRIGGER IF EXISTS entry_stays")
        triggers = connection.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in triggers.fetchall():
            connection.exec_driver_sql(f"DROP TRIGGER {name}")
        connection.exec_driver_sql("UPDATE entry SET body = replace(body, 'cracked', 'perfect')")
    opened.send("/book/chain")
    text = words_of(opened.page("/book/chain"))
    assert "Something was changed" in text
    assert "was changed after it was written." in text


def test_a_printed_record_is_asked_for(on_disk: tuple[Shop, SqlLedger]) -> None:
    opened, ledger = on_disk
    view = record_view(ledger, 1)
    there = opened.page(f"/book/chain?record=1&digest={view.entry_digest[:8]}")
    assert say("chain-printed-stands") in there
    gone = words_of(opened.page(f"/book/chain?entry={view.entry}&digest={'0' * 8}"))
    assert "as it was printed, is not in this ledger" in gone
    assert 'id="f-digest-trouble"' in opened.page("/book/chain?record=1&digest=zz", 422)
    assert 'id="f-record-trouble"' in opened.page(f"/book/chain?record=&digest={'0' * 8}", 422)


class Slow:
    """A run that goes on until it is stopped."""

    def __init__(self) -> None:
        self.is_begun = threading.Event()

    def __call__(self, on_step: OnStep | None = None) -> Verification:
        """Steps without end."""
        done = 0
        while on_step is not None and on_step(done, 1000):
            self.is_begun.set()
            done += 1
            time.sleep(0.001)
        return Verification(is_finished=False)


def test_a_long_run_shows_how_far_it_is_and_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Slow()
    monkeypatch.setattr("steelyard.web.run.PATIENCE_SECONDS", 0.2)
    monkeypatch.setattr(Workshop, "verify", lambda self, on_step=None: slow(on_step))
    with shop() as opened:
        opened.send("/book/chain")
        running = opened.page("/book/chain")
        assert re.search(r"Verifying: \d+ of 1000 steps done", running)
        assert '<meta http-equiv="refresh"' in running
        assert 'hx-trigger="every 1s"' in running
        opened.send("/book/chain", stop="yes")
        stopped = opened.page("/book/chain")
        assert "Stopped before the end" in stopped
        assert "hx-trigger" not in stopped.partition('id="chain-run"')[2]


def test_two_windows_share_one_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("steelyard.web.run.PATIENCE_SECONDS", 0.05)
    runs, slow = Runs[Verification](), Slow()
    first = runs.begin(slow, at=HOUR)
    assert slow.is_begun.wait(5)
    assert runs.begin(slow, at=HOUR) is first
    first.stop()
    assert not first.is_running


def test_trouble_with_the_ledger_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    def busy(self: Workshop, on_step: OnStep | None = None) -> Verification:
        raise Busy("here")

    monkeypatch.setattr(Workshop, "verify", busy)
    with shop() as opened:
        opened.send("/book/chain")
        assert "another program holds the ledger" in opened.page("/book/chain")


def test_stopping_what_does_not_run_changes_nothing() -> None:
    with shop() as opened:
        assert opened.send("/book/chain", stop="yes") == "/book/chain"
        assert say("chain-verify") in opened.page("/book/chain")


def test_a_run_that_was_not_begun_counts_as_running_until_it_is_over() -> None:
    run = Run[Verification](datetime(2026, 11, 25, tzinfo=HOUR.tzinfo))
    assert run.is_running
    run.begin(lambda on_step: Verification())
    assert run.found is not None
    assert not run.is_running


# ---------------------------------------------------------------- for programs


def test_the_list_and_a_record_as_json(told: Shop) -> None:
    found = told.client.get("/api/records?verdict=in&tool=T-02").json()
    assert [row["record"] for row in found["records"]] == [1]
    assert found["older"] is None
    one = told.client.get("/api/records/1").json()
    assert one["sealed"]["verdict"] == "in"
    assert one["corrections"][0]["right"] == "a quarter turn"
    refused = told.client.get("/api/records?verdict=fine")
    assert (refused.status_code, refused.json()["field"]) == (422, "verdict")
    assert told.client.get("/api/records/99").status_code == 404
    assert told.client.get("/api/records/1/form?phase=as-left").text.startswith("steelyard_check = 1")


def test_a_program_keeps_a_check_and_corrects_it() -> None:
    with shop() as opened:
        made = opened.client.post("/api/records?submission=a", content=BEAM.encode())
        again = opened.client.post("/api/records?submission=a", content=BEAM.encode())
        assert (made.status_code, made.json()) == (201, {"record": 1, "is_new": True})
        assert again.json() == made.json()
        there = opened.client.post("/api/records", content=opened.client.get("/api/records/1/form").content)
        assert there.json() == {"record": 1, "is_new": False}
        corrected = opened.client.post("/api/records/1/correction", json={"wrong": "a", "right": "b"})
        assert corrected.status_code == 201
        assert [c["wrong"] for c in corrected.json()["corrections"]] == ["a"]
        refused = opened.client.post("/api/records", content=b"steelyard_check = 2")
        assert (refused.status_code, refused.json()["field"]) == (422, "steelyard_check")
        empty = opened.client.post("/api/records/1/correction", json={"wrong": "a"})
        assert (empty.status_code, empty.json()["field"]) == (422, "right")


def test_a_program_verifies_the_chain(told: Shop) -> None:
    head = told.client.get("/api/chain").json()
    verified = told.client.post("/api/chain/verify").json()
    assert verified == {"entries": head["number"], "is_whole": True, "count": 0, "findings": []}
    asked = f"/api/chain/printed?entry={head['number']}&digest="
    assert told.client.get(asked + head["digest"]).json()["stands"] is True
    gone = told.client.get(asked + "0" * 8).json()
    assert (gone["stands"], gone["findings"][0]["code"]) == (False, "chain-cut")


def test_another_site_may_not_correct(told: Shop) -> None:
    answer = told.client.post(
        "/book/1/correction",
        data={"wrong": "a", "right": "b"},
        headers={"Origin": "http://elsewhere.example"},
    )
    assert answer.status_code == 403
    assert (
        json.loads(told.client.get("/book/1/content.json").text)["corrections"][0]["wrong"] == "half a turn"
    )


def test_a_planned_point_that_was_left_out_is_named() -> None:
    with shop() as opened:
        acting = opened.workshop.acting()
        check = sealed.left_out(acting, sealed.tool(acting), sealed.transducer(acting))
        text = words_of(opened.page(f"/book/{check}"))
        assert say("record-not-judged", target="100 N·m", direction="clockwise") in text
