"""One contract for every kind of ledger."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from steelyard.desk.ports import Find, Ledger, Streamed, Wanted
from steelyard.errors import Conflict, InputRefused
from steelyard.records import BEFORE_THE_FIRST, Draft, Stamp
from steelyard.store import MemoryLedger, open_ledger
from store.entries import STAMP, at, closed, event, opened, pull, tool


@pytest.fixture(params=["memory", "file"])
def ledger(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Ledger]:
    if request.param == "memory":
        yield MemoryLedger()
    else:
        with open_ledger(tmp_path / "ledger.sqlite3") as opened_ledger:
            yield opened_ledger


def subjects(ledger: Ledger, wanted: Wanted) -> list[str]:
    return [listed.subject.partition(":")[2] for listed in ledger.documents(wanted)]


def tools(ledger: Ledger, **numbers: str) -> None:
    ledger.append([tool(name, number) for name, number in numbers.items()], STAMP)


def checks(ledger: Ledger) -> None:
    """Three sealed checks of two tools by two people, and one in hand."""
    days = ("2026-11-02", "2026-11-03", "2026-11-04")
    verdicts = ("in", "out", "in")
    for i, (day, verdict) in enumerate(zip(days, verdicts, strict=True), 1):
        who = f"p{i % 2 + 1}"
        ledger.append([opened(f"c{i}", f"t{i % 2 + 1}", f"T-0{i % 2 + 1}")], at(f"{day}T08:00", who))
        ledger.append([closed(f"c{i}", i, verdict, day)], at(f"{day}T09:00", who))
    ledger.append([opened("c4", "t1", "T-01")], at("2026-11-05T08:00"))


class TestAppending:
    def test_an_empty_ledger_has_no_last_entry(self, ledger: Ledger) -> None:
        assert (ledger.head().number, ledger.head().digest) == (0, BEFORE_THE_FIRST)
        assert list(ledger.entries()) == []
        assert ledger.document("tool:t1") is None

    def test_entries_are_chained_in_the_order_of_the_drafts(self, ledger: Ledger) -> None:
        first = ledger.append([tool("t1", "T-01"), event("t1")], STAMP)
        second = ledger.append([event("t1", "lent", note="rigger")], STAMP)
        entries = list(ledger.entries())
        assert entries == [*first, *second]
        assert [entry.number for entry in entries] == [1, 2, 3]
        assert [entry.before for entry in entries] == [BEFORE_THE_FIRST, entries[0].digest, entries[1].digest]
        assert (ledger.head().number, ledger.head().digest) == (3, entries[2].digest)

    def test_the_order_is_the_number_and_not_the_clock(self, ledger: Ledger) -> None:
        ledger.append([tool("t1", "T-01")], at("2026-11-25T12:00"))
        ledger.append([event("t1")], at("2026-11-24T12:00"))
        assert [entry.at[:10] for entry in ledger.entries()] == ["2026-11-25", "2026-11-24"]

    def test_entries_of_one_subject_from_one_number_on(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01", t2="T-02")
        ledger.append([event("t1"), event("t2"), event("t1")], STAMP)
        assert [entry.number for entry in ledger.entries(subject="tool:t1")] == [1, 3, 5]
        assert [entry.number for entry in ledger.entries(subject="tool:t1", after=1, most=1)] == [3]
        assert [entry.number for entry in ledger.entries(after=2, most=2)] == [3, 4]
        assert list(ledger.entries(most=0)) == []

    def test_more_entries_than_are_read_in_one_go(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        ledger.append([event("t1")] * 1200, STAMP)
        assert [entry.number for entry in ledger.entries()] == list(range(1, 1202))
        assert [entry.number for entry in ledger.entries(after=10, most=700)] == list(range(11, 711))

    def test_a_submission_sent_again_writes_nothing_and_gets_the_same_answer(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        first = ledger.append([event("t1"), event("t1", "lent")], STAMP, submission="s1")
        ledger.append([event("t1", "back")], STAMP, submission="s2")
        drafts = [event("t1"), event("t1", "lent")]
        again = ledger.append(drafts, STAMP, submission="s1", seen={"tool:t1": 1})
        assert again == first
        assert ledger.head().number == 4

    def test_an_empty_submission_is_remembered_too(self, ledger: Ledger) -> None:
        assert ledger.append([], STAMP, submission="s1") == ()
        assert ledger.append([], STAMP, submission="s1") == ()
        with pytest.raises(InputRefused):
            ledger.append([tool("t1", "T-01")], STAMP, submission="s1")
        assert ledger.head().number == 0

    @pytest.mark.parametrize("other", [event("t1", "lent"), event("t2"), tool("t1", "T-01")])
    def test_a_token_used_for_something_else_is_refused_and_not_answered_as_kept(
        self, ledger: Ledger, other: Draft
    ) -> None:
        tools(ledger, t1="T-01", t2="T-02")
        ledger.append([event("t1")], STAMP, submission="s1")
        with pytest.raises(InputRefused) as refused:
            ledger.append([other], STAMP, submission="s1")
        assert (refused.value.field, refused.value.wanted) == ("submission", "want-new-submission")

    def test_something_begun_twice_by_one_token_is_begun_once(self, ledger: Ledger) -> None:
        first = ledger.append([tool("t1", "T-01")], STAMP, submission="s1")
        assert ledger.append([tool("t2", "T-01")], STAMP, submission="s1") == first

    def test_a_guard_sees_what_stands_and_what_it_raises_keeps_everything_out(self, ledger: Ledger) -> None:
        def nobody_else(find: Find) -> None:
            if find(Wanted("tool", words="T-01")):
                raise InputRefused("number", "T-01", "want-new-tool-number", number="T-01")

        first = ledger.append([tool("t1", "T-01")], STAMP, submission="s1", guard=nobody_else)
        with pytest.raises(InputRefused):
            ledger.append([event("t1"), tool("t2", "T-01")], STAMP, submission="s2", guard=nobody_else)
        assert ledger.head().number == 1
        assert ledger.append([tool("t3", "T-01")], STAMP, submission="s1", guard=nobody_else) == first

    def test_of_many_writers_at_once_one_passes_the_guard(self, ledger: Ledger) -> None:
        def nobody_else(find: Find) -> None:
            if find(Wanted("tool", words="T-01")):
                raise InputRefused("number", "T-01", "want-new-tool-number", number="T-01")

        def add(name: int) -> bool:
            try:
                ledger.append([tool(f"t{name}", "T-01")], STAMP, guard=nobody_else)
            except InputRefused:
                return False
            return True

        with ThreadPoolExecutor(8) as pool:
            assert sum(pool.map(add, range(24))) == 1
        assert ledger.head().number == 1

    def test_a_page_drawn_before_a_later_entry_is_refused(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01", t2="T-02")
        ledger.append([event("t1")], STAMP)
        with pytest.raises(Conflict) as refused:
            ledger.append([event("t1")], STAMP, submission="s1", seen={"tool:t1": 1})
        assert (refused.value.seen, refused.value.last) == (1, 3)
        assert ledger.head().number == 3
        ledger.append([event("t1")], STAMP, submission="s1", seen={"tool:t1": 3, "tool:t2": 2, "tool:t9": 0})
        assert ledger.head().number == 4

    def test_all_drafts_are_written_or_none(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        with pytest.raises(KeyError):
            ledger.append([event("t1"), Draft("no-such-kind", "tool:t1", {})], STAMP, submission="s1")
        assert ledger.head().number == 1
        assert ledger.document("tool:t1")["last"] == 1  # type: ignore[index]
        assert len(ledger.append([event("t1")], STAMP, submission="s1")) == 1


class TestDocuments:
    def test_a_document_is_folded_from_all_its_entries(self, ledger: Ledger) -> None:
        ledger.append([tool("t1", "T-01")], STAMP)
        ledger.append([opened("c1", "t1", "T-01"), pull("c1", "60,1 Nm"), pull("c1", "60,3 Nm")], STAMP)
        body = ledger.document("check:c1")
        assert body is not None
        assert [row["text"] for row in body["pulls"]] == ["60,1 Nm", "60,3 Nm"]
        assert (body["first"], body["last"]) == (2, 4)

    def test_a_document_handed_out_is_a_copy(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        body = ledger.document("tool:t1")
        assert isinstance(body, dict)
        body["tool"]["number"] = "T-99"
        assert ledger.document("tool:t1")["tool"]["number"] == "T-01"  # type: ignore[index]

    def test_tools_come_in_the_order_of_their_numbers(self, ledger: Ledger) -> None:
        tools(ledger, z="T-1", b="T-10", c="T-2", a="T-1 B")
        assert subjects(ledger, Wanted("tool")) == ["z", "a", "c", "b"]
        assert subjects(ledger, Wanted("tool", newest_first=True)) == ["b", "c", "a", "z"]

    @pytest.mark.parametrize("newest_first", [False, True])
    @pytest.mark.parametrize("states", [(), ("unchecked",), ("unchecked", "retired", "unchecked")])
    def test_page_after_page_shows_each_once_though_numbers_repeat(
        self, ledger: Ledger, newest_first: bool, states: tuple[str, ...]
    ) -> None:
        tools(ledger, **{f"n{i}": f"T-{i % 3}" for i in range(11)})
        ledger.append([Draft("tool-retired", "tool:n4", {"note": "worn"})], STAMP)
        all_there = subjects(ledger, Wanted("tool", states=states, newest_first=newest_first))
        assert len(all_there) == (10 if states == ("unchecked",) else 11)
        seen: list[str] = []
        after = None
        while page := ledger.documents(
            Wanted("tool", states=states, after=after, most=3, newest_first=newest_first)
        ):
            assert len(page) <= 3
            seen += [listed.subject.partition(":")[2] for listed in page]
            after = page[-1].key
        assert seen == all_there

    @pytest.mark.parametrize(
        ("wanted", "found"),
        [
            (Wanted("check"), ["c1", "c2", "c3", "c4"]),
            (Wanted("check", states=("in",)), ["c1", "c3"]),
            (Wanted("check", states=("out", "open")), ["c2", "c4"]),
            (Wanted("check", owner="tool:t2"), ["c1", "c3"]),
            (Wanted("check", who="p1"), ["c2", "c4"]),
            (Wanted("check", day_from="2026-11-03"), ["c2", "c3", "c4"]),
            (Wanted("check", day_from="2026-11-03", day_to="2026-11-04"), ["c2", "c3"]),
            (Wanted("check", states=("in",), owner="tool:t2", day_to="2026-11-02"), ["c1"]),
            (Wanted("check", words="RECORD t-02"), ["c1", "c3"]),
            (Wanted("check", most=2), ["c1", "c2"]),
            (Wanted("check", most=2, newest_first=True), ["c4", "c3"]),
            (Wanted("rig"), []),
        ],
    )
    def test_what_is_wanted_is_found(self, ledger: Ledger, wanted: Wanted, found: list[str]) -> None:
        checks(ledger)
        assert subjects(ledger, wanted) == found

    def test_tools_due_by_a_day(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01", t2="T-02", t3="T-03")
        ledger.append([event("t1", due="2026-12-01"), event("t2", due="2026-12-02")], STAMP)
        assert subjects(ledger, Wanted("tool", due_by="2026-12-01")) == ["t1"]
        assert subjects(ledger, Wanted("tool", due_by="2027-01-01")) == ["t1", "t2"]
        assert subjects(ledger, Wanted("tool", due_from="2026-12-02")) == ["t2"]

    @pytest.mark.parametrize("states", [(), ("unchecked", "retired")])
    def test_the_soonest_due_come_first_then_by_number(self, ledger: Ledger, states: tuple[str, ...]) -> None:
        tools(ledger, t1="T-01", t2="T-02", t3="T-03", t4="T-04")
        days = {"t1": "2026-12-09", "t2": "2026-12-01", "t3": "2026-11-30", "t4": "2026-12-01"}
        ledger.append([event(name, due=day) for name, day in days.items()], STAMP)
        soonest = Wanted("tool", states=states, due_by="2026-12-31", most=3, soonest_first=True)
        assert subjects(ledger, soonest) == ["t3", "t2", "t4"]

    def test_signs_a_search_might_obey_are_only_signs(self, ledger: Ledger) -> None:
        ledger.append([tool("t1", "T-01", notes="50 % worn"), tool("t2", "T_02", notes="a/b Größe")], STAMP)
        assert subjects(ledger, Wanted("tool", words="%")) == ["t1"]
        assert subjects(ledger, Wanted("tool", words="t_")) == ["t2"]
        assert subjects(ledger, Wanted("tool", words="/ GRÖSSE")) == ["t2"]
        assert subjects(ledger, Wanted("tool", words="x' OR 1=1 --")) == []

    def test_an_endless_search_is_answered(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        endless = " ".join(f"w{i}" for i in range(5000)) + " " + "x" * 100_000
        assert subjects(ledger, Wanted("tool", words=endless)) == []


class TestNamesAndFiles:
    def test_a_name_is_kept_with_the_entries_and_forgotten(self, ledger: Ledger) -> None:
        ledger.append(
            [Draft("person-added", "workshop:this", {"key": "p1", "digest": "d" * 64})],
            STAMP,
            names={"p1": ("engine shop", "salt"), "p2": ("rigger", "salt")},
        )
        assert dict(ledger.names()) == {"p1": "engine shop", "p2": "rigger"}
        ledger.forget("p1")
        ledger.forget("nobody")
        assert dict(ledger.names()) == {"p2": "rigger"}
        assert ledger.head().number == 1

    def test_a_submission_sent_again_does_not_bring_a_name_back(self, ledger: Ledger) -> None:
        added = Draft("person-added", "workshop:this", {"key": "p1", "digest": "d" * 64})
        for _ in range(2):
            ledger.append([added], STAMP, submission="s1", names={"p1": ("engine shop", "salt")})
            ledger.forget("p1")
        assert dict(ledger.names()) == {}

    def test_a_file_kept_twice_is_kept_once(self, ledger: Ledger) -> None:
        digest = ledger.keep_file(b"picture", "image/jpeg")
        assert ledger.keep_file(b"picture", "image/png") == digest
        kept = ledger.file(digest)
        assert kept is not None
        assert (kept.digest, kept.media_type, kept.content) == (digest, "image/jpeg", b"picture")
        assert ledger.file("0" * 64) is None

    def test_the_digest_of_a_file_is_sha_256(self, ledger: Ledger) -> None:
        """Source: FIPS 180-4, example of one block, "abc"."""
        assert ledger.keep_file(b"abc", "text/plain") == (
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        )


def test_both_kinds_write_the_same_bytes(tmp_path: Path) -> None:
    memory = MemoryLedger()
    with open_ledger(tmp_path / "ledger.sqlite3") as file:
        for ledger in (memory, file):
            checks(ledger)
            ledger.append([tool("t1", "T-01", notes="é ß 😀")], Stamp("2026-11-25T00:00:00.000Z", 0, "", ""))
        assert list(memory.entries()) == list(file.entries())
        assert memory.documents(Wanted("check")) == file.documents(Wanted("check"))


class TestAppendingAStream:
    def test_it_writes_what_appending_at_once_writes(self, ledger: Ledger) -> None:
        drafts = [*(tool(f"t{i}", f"T-{i}") for i in range(2500)), event("t7"), event("t7", "lent")]
        assert ledger.append_stream(lambda _find: iter(drafts), STAMP) == Streamed(1, 2502)
        other = MemoryLedger()
        other.append(drafts, STAMP)
        assert ledger.head() == other.head()
        assert ledger.document("tool:t7") == other.document("tool:t7")
        assert ledger.documents(Wanted("tool", most=3000)) == other.documents(Wanted("tool", most=3000))

    def test_it_goes_on_behind_what_is_there(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        assert ledger.append_stream(lambda _find: [event("t1"), tool("t2", "T-02")], STAMP) == Streamed(2, 2)
        body = ledger.document("tool:t1")
        assert body is not None and [each["what"] for each in body["events"]] == ["dropped"]

    def test_nothing_to_write_writes_nothing(self, ledger: Ledger) -> None:
        assert ledger.append_stream(lambda _find: [], STAMP, submission="s1") == Streamed(0, 0)
        assert ledger.append_stream(lambda _find: [tool("t1", "T-01")], STAMP, submission="s1") == Streamed(
            0, 0
        )
        assert ledger.head().number == 0

    def test_a_submission_sent_again_drafts_nothing_and_gets_the_same_answer(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        first = ledger.append_stream(lambda _find: [tool("t2", "T-02")], STAMP, submission="s1")

        def never(_find: Find) -> Iterator[Draft]:
            raise AssertionError("drafted again")

        assert ledger.append_stream(never, STAMP, submission="s1") == first == Streamed(2, 1)
        assert ledger.head().number == 2

    def test_what_it_looks_up_stands_as_before_the_first_draft(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")

        def drafted(find: Find) -> Iterator[Draft]:
            there = [listed.subject for listed in find(Wanted("tool"))]
            yield event("t1", note=" ".join(there))

        ledger.append_stream(drafted, STAMP)
        (entry,) = ledger.entries(after=1)
        assert entry.payload["note"] == "tool:t1"

    def test_a_refusal_far_down_leaves_the_ledger_as_it_was(self, ledger: Ledger) -> None:
        tools(ledger, t1="T-01")
        before, body = ledger.head(), ledger.document("tool:t1")

        def drafted(_find: Find) -> Iterator[Draft]:
            yield from (event("t1") for _ in range(2200))
            raise InputRefused("row 2202, number", "T-01", "want-text")

        with pytest.raises(InputRefused, match="row 2202"):
            ledger.append_stream(drafted, STAMP, submission="s1")
        assert (ledger.head(), ledger.document("tool:t1")) == (before, body)
        assert ledger.append_stream(lambda _find: [event("t1")], STAMP, submission="s1") == Streamed(2, 1)

    @pytest.mark.parametrize("stop_at", [1, 3])
    def test_stopped_between_two_steps_nothing_is_written(self, ledger: Ledger, stop_at: int) -> None:
        told: list[tuple[int, int]] = []

        def on_step(done: int, of: int) -> bool:
            told.append((done, of))
            return len(told) < stop_at

        drafts = [tool(f"t{i}", f"T-{i}") for i in range(2500)]
        stopped = ledger.append_stream(lambda _find: drafts, STAMP, submission="s1", on_step=on_step, of=2500)
        assert stopped is None
        assert told == [(1000, 2500), (2000, 2500), (2500, 2500)][:stop_at]
        assert (ledger.head().number, ledger.documents(Wanted("tool"))) == (0, [])
        assert ledger.first_of("s1") is None
