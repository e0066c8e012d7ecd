"""A whole check by a program alone, and what it is told where something is refused."""

import hashlib
from collections.abc import Iterator
from typing import Any

import pytest

from desk.bench_shop import HIGH_READINGS, READINGS, WRENCH
from store.test_photograph import red_over_blue, saved, with_exif
from web.shop import Shop, shop

ADAPTER = {"sort": "transducer", "name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"}
GOOD_READINGS = ("20.1 20.0 19.9 20.0 20.1", "60.1 60.0 59.8 60.2 60.0", "100.2 99.9 100.1 99.8 100.0")
STANDS = {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"}


class Program:
    """A program that speaks to the workshop."""

    def __init__(self, shop: Shop) -> None:
        self.shop, self.client = shop, shop.client

    def get(self, path: str, status: int = 200) -> Any:
        """What stands at an address; raises unless it answers with the status."""
        return self._told(self.client.get(f"/api{path}"), path, status)

    def post(self, path: str, status: int = 200, /, **sent: Any) -> Any:
        """Send texts; raises unless it answers with the status."""
        return self._told(self.client.post(f"/api{path}", json=sent), path, status)

    def _told(self, answer: Any, path: str, status: int) -> Any:
        if answer.status_code != status:
            raise AssertionError(f"{path}: {answer.status_code}\n{answer.text}")
        return answer.json()

    def check(self) -> str:
        """Open a check of a new wrench and look the tool over; returns the address of the check."""
        tool = self.post("/tools", 201, **WRENCH)["id"]
        check = f"/checks/{self.post('/checks', 201, tool=tool, why='due')['id']}"
        self.post(f"{check}/look", damaged="no")
        return check

    def stand(self) -> str:
        """The same with an adapter set up and the wrench exercised."""
        rig = self.post("/rigs", 201, **ADAPTER)["id"]
        check = self.check()
        self.post(f"{check}/kit", rig=rig, plan="full")
        self.post(f"{check}/set-up", **STANDS)
        self.post(f"{check}/exercise", exercise_pulls="5")
        return check

    def pull(self, check: str, rows: tuple[str, ...], phase: str = "as-found") -> None:
        """Read a row of pulls at each point."""
        for point, row in enumerate(rows):
            for line in row.split():
                self.post(f"{check}/{phase}/{point}", 201, line=line)


@pytest.fixture
def program() -> Iterator[Program]:
    with shop() as opened:
        yield Program(opened)


def test_it_brings_a_check_from_the_rack_to_the_book(program: Program) -> None:
    program.shop.client.headers["Steelyard-Device"] = "bench computer"
    person = program.post("/people", 201, person="rigger")["key"]
    program.shop.client.headers["Steelyard-Person"] = person
    rig = program.post("/rigs", 201, **ADAPTER)["id"]
    check = program.check()
    offers = program.get(f"{check}/offers")
    assert [kit["rig"] for kit in offers["kits"]] == [rig]
    assert (offers["set_up"], offers["next_due"]) == (None, "2027-11-25")
    points = program.post(f"{check}/kit", rig=rig, plan=offers["plans"][0])["choice"]["points"]
    assert [point["target"] for point in points] == ["20 N·m", "60 N·m", "100 N·m"]
    assert set(STANDS) - {"is_ready"} <= set(program.get(f"{check}/offers")["set_up"]["names"])
    program.post(f"{check}/set-up", **STANDS)
    assert program.post(f"{check}/exercise", exercise_pulls="5")["now"] == "as-found"
    program.pull(check, HIGH_READINGS)
    judged = program.post(f"{check}/verdict")
    assert (judged["now"], judged["verdicts"]["as-found"]["verdict"]) == ("adjust", "out")
    assert program.post(f"{check}/adjust", turns="1/4", way="in")["now"] == "as-left"
    program.pull(check, GOOD_READINGS, "as-left")
    judged = program.post(f"{check}/verdict", phase="as-left")
    assert (judged["now"], judged["verdicts"]["as-left"]["verdict"]) == ("close", "in")
    sealed = program.post(f"{check}/close", next_due=offers["next_due"])
    assert sealed["closed"]["record"] == 1
    record = program.get("/records/1")
    assert (record["is_intact"], record["people"]) == (True, {person: "rigger"})
    assert [pull["phase"] for pull in record["content"]["pulls"]] == ["as-found"] * 15 + ["as-left"] * 15
    assert program.get("/checks") == []
    last = list(program.shop.workshop.ledger.entries())[-1]
    assert (last.who, last.device) == (person, "bench computer")


def test_it_sees_how_a_point_stands_after_each_pull(program: Program) -> None:
    check = program.stand()
    for count, line in enumerate(("19.6", "19.7"), 1):
        told = program.post(f"{check}/as-found/0", 201, line=line)
        assert (told["counted"], told["planned"], told["pulls"][-1]["number"]) == (count, 5, told["pull"])
    # the mean of (target - reading)/reading, by hand
    assert told["deviation_percent"] == pytest.approx(50 * (0.4 / 19.6 + 0.3 / 19.7))
    assert told["low_newton_metre"] < 19.6 < told["high_newton_metre"]
    assert program.get(f"{check}/as-found/0") == {k: v for k, v in told.items() if k != "pull"}


def test_a_doubt_comes_as_code_facts_and_sentence(program: Program) -> None:
    check = program.stand()
    (doubt,) = program.post(f"{check}/as-found/0", 201, line="14.4")["doubts"]
    assert (doubt["severity"], doubt["facts"]["typed"]) == ("grave", "14.4 N·m")
    assert doubt["sentence"].endswith(".")


def test_the_same_submission_is_written_once_and_answered_the_same(program: Program) -> None:
    check = program.stand()
    seen = program.get(check)["last"]
    first = program.post(f"{check}/as-found/0", 201, line="19.6", submission="a", seen=seen)
    assert program.post(f"{check}/as-found/0", 201, line="19.6", submission="a", seen=seen) == first
    assert len(program.get(check)["pulls"]) == 1


def test_equal_lines_sent_in_one_go_all_count_unless_the_sender_doubts_them(program: Program) -> None:
    check = program.stand()
    for more in ({}, {}, {"sent_twice": "yes"}):
        told = program.post(f"{check}/as-found/0", 201, line="19.6", **more)
    assert [pull["struck_out"] for pull in told["pulls"]] == [None, None, "sent twice?"]
    taken = program.post(f"{check}/pulls/{told['pull']}/take-back")
    assert [pull["struck_out"] for pull in taken["pulls"]] == [None, None, None]


@pytest.mark.parametrize(
    ("deed", "sent"),
    [
        ("look", {"damaged": "no"}),
        ("set-up", STANDS),
        ("exercise", {"exercise_pulls": "3"}),
        ("as-found/0", {"line": "19.6"}),
        ("pulls/{pull}/strike", {"reason": "the hand slipped"}),
        ("pulls/{pull}/take-back", {}),
        ("verdict", {"incomplete": "yes"}),
        ("adjust", {"turns": "1/4", "way": "in"}),
        ("waive", {"waive_reason": "sold on"}),
        ("close", {}),
    ],
)
def test_whoever_did_not_see_the_last_entry_is_told_and_nothing_is_written(
    program: Program, deed: str, sent: dict[str, str]
) -> None:
    check = program.stand()
    for line in ("19.6", "19.7"):
        pull = program.post(f"{check}/as-found/0", 201, line=line)["pull"]
    program.post(f"{check}/verdict", incomplete="yes")
    before = program.get(check)
    path = f"{check}/{deed.format(pull=pull)}"
    refused = program.post(path, 409, **sent, seen=before["last"] - 1)
    assert (refused["error"], refused["try_again"]) == ("Conflict", True)
    assert program.get(check) == before
    program.post(path, 201 if deed.startswith("as-") else 200, **sent, seen=before["last"])


def test_a_sealed_record_refuses_every_change_but_a_correction(program: Program) -> None:
    check = program.stand()
    program.pull(check, READINGS)
    program.post(f"{check}/verdict")
    program.post(f"{check}/close", submission="c")
    deeds: dict[str, dict[str, str]] = {
        "look": {"damaged": "no"},
        "kit": {"rig": "none"},
        "set-up": STANDS,
        "exercise": {"exercise_pulls": "1"},
        "as-found/0": {"line": "19.6"},
        "verdict": {},
        "adjust": {"turns": "1", "way": "in"},
        "lock": {},
        "waive": {"waive_reason": "late"},
        "close": {},
    }
    for deed, sent in deeds.items():
        refused = program.post(f"{check}/{deed}", 409, **sent)
        assert (refused["error"], refused["try_again"]) == ("RecordSealed", False)
        assert "1" in refused["sentence"]
    again = program.post(f"{check}/close", submission="c")
    assert again["closed"]["record"] == 1
    told = program.post("/records/1/correction", 201, wrong="the date", right="the day before")
    assert len(told["corrections"]) == 1


def test_what_is_not_there_is_said_to_be_missing(program: Program) -> None:
    assert program.post("/checks", 404, tool="none", why="due")["error"] == "NotFound"
    for path in ("/checks/none", "/checks/none/offers", "/checks/none/as-found/0", "/files/none"):
        assert program.get(path, 404)["error"] == "NotFound"
    for deed in ("look", "kit", "set-up", "close", "as-found/0", "pulls/1/take-back", "sideways"):
        assert program.post(f"/checks/none/{deed}", 404)["try_again"] is False
    check = program.stand()
    assert program.get(f"{check}/as-found/3", 404)["field"] is None
    assert program.get(f"{check}/as-found/-1", 404)["field"] is None


def test_a_point_is_not_there_before_the_kit_is_set_up(program: Program) -> None:
    program.get(f"{program.check()}/as-found/0", 404)


@pytest.mark.parametrize(
    ("deed", "sent", "field"),
    [
        ("look", {}, "damaged"),
        ("look", {"damaged": "yes"}, "look_note"),
        ("kit", {"rig": "none"}, "rig"),
        ("set-up", {**STANDS, "mode": "sideways"}, "mode"),
        ("set-up", {**STANDS, "is_ready": ""}, "is_ready"),
        ("exercise", {"exercise_pulls": "many"}, "exercise_pulls"),
        ("as-found/0", {"line": "19,6 kilos"}, "line"),
        ("as-found/0", {"line": "980"}, "line"),
        ("as-found/9", {"line": "19.6"}, "point"),
        ("as-left/0", {"line": "19.6"}, "line"),
        ("pulls/1/strike", {"reason": "the hand slipped"}, "pull"),
        ("verdict", {}, "incomplete"),
        ("adjust", {"turns": "1", "way": "in"}, "turns"),
        ("lock", {}, "lock_note"),
        ("waive", {}, "waive_reason"),
        ("close", {}, "close"),
        # below: bodies that no page sends
        ("as-found/0", {"line": 19.6}, "line"),
        ("as-found/0", {"line": "19.6", "colour": "red"}, "colour"),
        ("as-found/0", {"line": "9" * 5000}, "line"),
        ("as-found/0", {"line": "19.6", "seen": -1}, "seen"),
        ("as-found/0", {"line": "19.6", "seen": 2**70}, "seen"),
        ("as-found/0", {"line": "19.6", "submission": "s" * 101}, "submission"),
        ("as-found/0", {"line": "19.6\u0000"}, "line"),
        ("as-found/sideways", {"line": "19.6"}, "point"),
        ("set-up", {**STANDS, "drop": ["1"]}, "drop"),
    ],
)
def test_a_refusal_names_the_field_and_says_what_is_wanted(
    program: Program, deed: str, sent: dict[str, Any], field: str
) -> None:
    check = program.stand()
    before = program.get(check)
    refused = program.post(f"{check}/{deed}", 422, **sent)
    assert set(refused) == {"error", "field", "sentence", "try_again"}
    assert (refused["error"], refused["field"], refused["try_again"]) == ("InputRefused", field, False)
    assert refused["sentence"].endswith(".")
    assert program.get(check) == before


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b"[" * 100_000,
        b'{"line": ' + b"[" * 100_000,
        b'{"line": ' + b"9" * 10_000 + b"}",
        b'{"line": NaN}',
        b'{"line": "\\ud800"}',
        b'{"\\ud800": "19.6"}',
        b'{"line": "19.6", "is_ready": "yes", "submission": "\\ud800"}',
        b'"19.6"',
        b"null",
    ],
)
@pytest.mark.parametrize("deed", ["as-found/0", "set-up"])
def test_a_body_that_cannot_be_read_is_refused_in_words(program: Program, deed: str, body: bytes) -> None:
    check = program.stand()
    answer = program.client.post(
        f"/api{check}/{deed}", content=body, headers={"Content-Type": "application/json"}
    )
    assert answer.status_code in (400, 422)
    assert set(answer.json()) == {"error", "field", "sentence", "try_again"}


@pytest.mark.parametrize("tells_its_length", [True, False])
def test_a_body_without_end_is_refused(program: Program, *, tells_its_length: bool) -> None:
    pieces = [b"x" * 1_000_000] * 65
    content = b"".join(pieces) if tells_its_length else iter(pieces)
    answer = program.client.post("/api/records", content=content)
    assert (answer.status_code, answer.json()["sentence"]) == (413, "The request is too large.")


def test_somebody_who_is_not_on_the_list_cannot_act(program: Program) -> None:
    program.client.headers["Steelyard-Person"] = "stranger"
    refused = program.post("/tools", 422, **WRENCH)
    assert refused["field"] == "Steelyard-Person"


def test_somebody_who_was_forgotten_cannot_act(program: Program) -> None:
    person = program.post("/people", 201, person="rigger")["key"]
    program.client.delete(f"/api/people/{person}")
    program.client.headers["Steelyard-Person"] = person
    program.post("/tools", 422, **WRENCH)


def test_a_program_that_says_nothing_of_itself_is_kept_as_one(program: Program) -> None:
    program.post("/tools", 201, **WRENCH)
    assert [(entry.who, entry.device) for entry in program.shop.workshop.ledger.entries()] == [
        ("", "program")
    ]


def test_a_photograph_is_kept_once_and_given_back_without_its_place(program: Program) -> None:
    check = program.check()
    picture = saved(red_over_blue(), exif=with_exif())
    for _ in range(2):
        answer = program.client.post(
            f"/api{check}/photographs?photo_note=bent&submission=p",
            content=picture,
            headers={"Content-Type": "image/jpeg"},
        )
        assert answer.status_code == 201
    (kept,) = answer.json()["attachments"]
    file = program.client.get(f"/api/files/{kept['file']}")
    assert (kept["note"], file.headers["content-type"]) == ("bent", "image/jpeg")
    assert hashlib.sha256(file.content).hexdigest() == kept["file"]
    assert b"Exif" not in file.content


@pytest.mark.parametrize("content", [b"a note", b""])
def test_a_text_is_no_photograph(program: Program, content: bytes) -> None:
    check = program.check()
    answer = program.client.post(f"/api{check}/photographs", content=content)
    assert answer.status_code == 422
    assert program.get(check)["attachments"] == []
