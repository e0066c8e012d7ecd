"""Rigs are kept only as a check can read them, and each can be asked what it decides."""

from datetime import date, datetime, timedelta, timezone
from typing import Any

import pytest

from steelyard.desk import (
    Acting,
    PaperState,
    ability,
    add_rig,
    ask_kit,
    change_rig,
    here,
    paper_state,
    sell_rig,
    set_workshop,
    sold,
    stand_in_tool,
    tools_for,
    typed_rig,
)
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.records import Draft, Kind, Subject
from steelyard.store import MemoryLedger

TODAY = date(2026, 11, 25)
SCALE = {"name": "S-2", "step": "5", "knows": "mass", "within": "10"}
MASS = {"name": "M-10", "value": "10 kg ± 10 g"}
ARM = {"name": "W-1", "arm": "450 ± 1", "material": "cast-iron", "always": "0.35 kg on S-2 + M-10"}
DRUM = {"name": "D-1", "drum": "100 ± 0.1", "cord": "3"}
ADAPTER = {"name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"}
PAPERED = {
    "name": "R-1",
    "resolution": "0.05",
    "drift": "0.1",
    "paper.certificate": "TPB-0042",
    "paper.issued": "2026-03-02",
    "paper.due": "2027-03-02",
    "paper.states": "error",
    "paper.worked_shows": "100.0",
    "paper.worked_true": "99.5",
    "row1_at": "20",
    "row1_stated": "0.40",
    "row1_U": "0.30",
    "row3_at": "100",
    "row3_stated": "0.50",
    "row3_U": "0.25",
    "row3_k": "2",
}
WRENCH = {
    "number": "T-01",
    "kind": "click-adjustable",
    "lowest": "20 N·m",
    "highest": "100 N·m",
    "graduation": "1 N·m",
    "grip_mark": "450 mm ± 2 mm",
    "mass": "1.300 kg ± 5 g",
    "balance_point": "220 mm ± 3 mm",
}


class Clock:
    """It stands still."""

    def now(self) -> datetime:
        """Ten o'clock."""
        return datetime(2026, 11, 25, 10, tzinfo=timezone(timedelta(hours=1)))


class Dice:
    """They count."""

    def __init__(self) -> None:
        self.count = 0

    def name(self) -> str:
        """r1, r2, …"""
        self.count += 1
        return f"r{self.count}"

    def salt(self) -> str:
        """Of no use here."""
        return "0" * 32


@pytest.fixture
def acting() -> Acting:
    """Somebody in an empty workshop."""
    return Acting(MemoryLedger(), Clock(), Dice())


def body(acting: Acting, rig: str) -> Any:
    """What is kept of a rig."""
    return acting.body(Subject.RIG, rig)


def put_tool(acting: Acting, tool: dict[str, str], name: str = "t1") -> str:
    """A tool on the rack."""
    limit = {"percent": "4", "source": "our own list"}
    acting.write(Draft(Kind.TOOL_ADDED, Subject.TOOL.named(name), {"tool": tool, "limit": limit}))
    return name


def refused(acting: Acting, sort: str, typed: dict[str, str]) -> InputRefused:
    """What adding a rig is refused for; nothing is written then."""
    before = acting.ledger.head()
    with pytest.raises(InputRefused) as trouble:
        add_rig(acting, sort, typed)
    assert acting.ledger.head() == before
    return trouble.value


@pytest.mark.parametrize(
    ("sort", "typed", "table"),
    [
        ("scale", SCALE, {"name": "S-2", "step": "5 g", "knows": "mass", "within": "10 g"}),
        ("mass", MASS, {"name": "M-10", "value": "10 kg ± 10 g"}),
        (
            "mass",
            {"name": "P-20", "value": "20", "casting": "yes"},
            {"name": "P-20", "value": "20 kg", "casting": True},
        ),
        (
            "hung-weight",
            {"name": "W-1", "arm": "450 ± 1", "lead": "up", "pulley_loss": "2"},
            {"name": "W-1", "arm": "450 ± 1 mm", "lead": "up", "pulley_loss": "2 %"},
        ),
        ("hung-weight", {"name": "bare"}, {"name": "bare"}),
        ("drum", DRUM, {"name": "D-1", "drum": "100 ± 0.1 mm", "cord": "3 mm"}),
        (
            "transducer",
            ADAPTER,
            {"name": "A-1", "resolution": "0.1 N·m", "stated_of_reading": "0.5 %"},
        ),
    ],
)
def test_a_rig_is_kept_as_typed_with_the_units_beside_its_fields(
    acting: Acting, sort: str, typed: dict[str, str], table: dict[str, Any]
) -> None:
    rig = add_rig(acting, sort, {**typed, "notes": " in the cupboard "})
    assert body(acting, rig)["table"] == table
    assert (body(acting, rig)["sort"], body(acting, rig)["notes"]) == (sort, "in the cupboard")


def test_a_torque_gets_the_usual_unit_of_the_workshop(acting: Acting) -> None:
    set_workshop(acting, {"unit": "lbf·ft"})
    rig = add_rig(acting, "transducer", ADAPTER)
    assert body(acting, rig)["table"]["resolution"] == "0.1 lbf·ft"


def test_its_fields_and_the_rows_of_its_paper_are_read_by_the_decimal_mark_of_the_workshop(
    acting: Acting,
) -> None:
    set_workshop(acting, {"decimal_mark": ","})
    arm = body(acting, add_rig(acting, "hung-weight", {"name": "W 1,250", "arm": "450,125 ± 1,125"}))
    assert (arm["table"]["name"], arm["table"]["arm"]) == ("W 1,250", "0450,125 ± 01,125 mm")
    papered = {**PAPERED, "row1_at": "20,125", "row1_stated": "1,125"}
    paper = body(acting, add_rig(acting, "transducer", papered))["table"]["paper"]
    assert paper["row"][0] == {"at": "020,125 N·m", "error": "01,125 %", "U": "0.30 %"}


def test_rows_of_a_paper_are_kept_and_empty_ones_left_out(acting: Acting) -> None:
    paper = body(acting, add_rig(acting, "transducer", PAPERED))["table"]["paper"]
    assert paper["row"] == [
        {"at": "20 N·m", "error": "0.40 %", "U": "0.30 %"},
        {"at": "100 N·m", "error": "0.50 %", "U": "0.25 %", "k": "2"},
    ]
    assert (paper["worked_shows"], paper["worked_true"]) == ("100.0 N·m", "99.5 N·m")


def test_a_paper_that_states_torques_has_its_rows_in_torque(acting: Acting) -> None:
    typed = {**PAPERED, "paper.states": "torque", "row1_stated": "19.92", "row3_stated": "99.5"}
    paper = body(acting, add_rig(acting, "transducer", typed))["table"]["paper"]
    assert [row["torque"] for row in paper["row"]] == ["19.92 N·m", "99.5 N·m"]


def test_a_unit_that_stands_beside_a_field_is_not_repeated_in_it(acting: Acting) -> None:
    papered, adapter, mass = (
        body(acting, add_rig(acting, sort, typed))
        for sort, typed in (("transducer", PAPERED), ("transducer", ADAPTER), ("mass", MASS))
    )
    typed = typed_rig(papered, torque_unit="N·m")
    shown = [
        typed[field] for field in ("resolution", "paper.worked_true", "row2_at", "row2_stated", "row2_U")
    ]
    assert shown == ["0.05", "99.5", "100", "0.50 %", "0.25"]
    assert typed_rig(adapter, torque_unit="lbf·ft")["resolution"] == "0.1 N·m"
    assert typed_rig(mass, torque_unit="N·m")["value"] == "10 kg ± 10 g"
    twice = {**MASS, "name": "M-20", "value": "10 kg ± 0.01 kg"}
    typed = typed_rig(body(acting, add_rig(acting, "mass", twice)), torque_unit="N·m")
    assert typed["value"] == "10 kg ± 0.01 kg"


@pytest.mark.parametrize(
    ("sort", "typed"),
    [("scale", SCALE), ("mass", MASS), ("drum", DRUM), ("transducer", ADAPTER), ("transducer", PAPERED)],
)
def test_what_was_kept_fills_the_page_and_is_kept_the_same(
    acting: Acting, sort: str, typed: dict[str, str]
) -> None:
    rig = add_rig(acting, sort, typed)
    before = body(acting, rig)
    change_rig(acting, rig, typed_rig(before, torque_unit="N·m"), None)
    assert body(acting, rig)["table"] == before["table"]


@pytest.mark.parametrize(
    ("sort", "typed", "field", "wanted"),
    [
        ("scale", {**SCALE, "name": " "}, "name", "want-rig-name"),
        ("scale", {**SCALE, "name": "x" * 61}, "name", "want-shorter"),
        ("scale", {**SCALE, "name": "on the wall"}, "name", "want-rig-name-in-load"),
        ("mass", {**MASS, "name": "A + B"}, "name", "want-rig-name-in-load"),
        ("mass", {**MASS, "name": "5 kg"}, "name", "want-rig-name-in-load"),
        ("scale", {**SCALE, "step": ""}, "step", "want-unit"),
        ("scale", {**SCALE, "step": "5 ells"}, "step", "want-known-unit"),
        ("scale", {**SCALE, "step": "-5"}, "step", "want-positive"),
        ("scale", {**SCALE, "knows": ""}, "knows", "want-rig-answer"),
        ("scale", {**SCALE, "class": "III"}, "within", "want-rig-one-trust"),
        ("scale", {**SCALE, "interval": "5"}, "interval", "want-rig-class-too"),
        ("scale", {**SCALE, "gain": "60"}, "gain", "want-between"),
        ("mass", {**MASS, "value": "heavy"}, "value", "want-unit"),
        ("mass", {**MASS, "value": "10 kg"}, "class", "want-rig-trust"),
        ("mass", {"name": "M-3", "value": "3", "class": "M1"}, "value", "want-one-of"),
        ("hung-weight", {"name": "W", "arm": "0"}, "arm", "want-positive"),
        ("hung-weight", {"name": "W", "lead": "up"}, "pulley_loss", "want-unit"),
        ("hung-weight", {"name": "W", "material": "cheese"}, "material", "want-one-of"),
        ("hung-weight", {"name": "W", "always": "M-5"}, "always", "want-rig-always"),
        ("hung-weight", {"name": "W", "always": "1 kg on S-9"}, "always", "want-rig-always"),
        ("drum", {**DRUM, "cord": ""}, "cord", "want-unit"),
        ("transducer", {**ADAPTER, "resolution": "nan"}, "resolution", "want-finite-number"),
        (
            "transducer",
            {**ADAPTER, "stated_of_reading": ""},
            "stated_of_reading",
            "want-rig-paper-or-accuracy",
        ),
        ("transducer", {**PAPERED, "paper.states": ""}, "paper.states", "want-rig-answer"),
        ("transducer", {**PAPERED, "paper.due": "soon"}, "paper.due", "want-date"),
        ("transducer", {**PAPERED, "row3_U": ""}, "row3_U", "want-unit"),
        ("transducer", {**PAPERED, "row3_stated": "x"}, "row3_stated", "want-unit"),
        ("transducer", {**PAPERED, "row3_at": "10"}, "row1_at", "want-rising-rows"),
        ("transducer", {**PAPERED, "paper.worked_true": ""}, "paper.worked_true", "want-unit"),
        ("transducer", {**PAPERED, "paper.worked_true": "100.5"}, "paper.worked_true", "want-worked-row"),
    ],
)
def test_nothing_is_kept_that_a_check_would_refuse_and_the_field_is_the_pages(
    acting: Acting, sort: str, typed: dict[str, str], field: str, wanted: str
) -> None:
    trouble = refused(acting, sort, typed)
    assert (trouble.field, trouble.wanted) == (field, wanted)


def test_another_sort_of_rig_is_not_there(acting: Acting) -> None:
    with pytest.raises(NotFound):
        add_rig(acting, "pendulum", {"name": "P"})


def test_a_name_is_given_once_whatever_the_sort_and_the_case(acting: Acting) -> None:
    add_rig(acting, "scale", SCALE)
    assert refused(acting, "mass", {**MASS, "name": "s-2"}).wanted == "want-rig-own-name"
    assert refused(acting, "scale", SCALE).wanted == "want-rig-own-name"


def test_a_submission_that_is_sent_twice_adds_one_rig(acting: Acting) -> None:
    once = Acting(acting.ledger, acting.clock, acting.dice, submission="a")
    assert add_rig(once, "scale", SCALE) == add_rig(once, "scale", SCALE)
    assert len(here(acting.ledger).scales) == 1


def test_a_rig_that_changed_meanwhile_is_not_overwritten(acting: Acting) -> None:
    rig = add_rig(acting, "scale", SCALE)
    seen = body(acting, rig)["last"]
    change_rig(acting, rig, {**SCALE, "step": "1"}, seen)
    with pytest.raises(Conflict):
        change_rig(acting, rig, {**SCALE, "step": "2"}, seen)
    with pytest.raises(Conflict):
        sell_rig(acting, rig, {}, seen)
    assert body(acting, rig)["table"]["step"] == "1 g"


def test_a_sold_rig_frees_its_name_and_a_change_brings_it_back(acting: Acting) -> None:
    rig = add_rig(acting, "scale", SCALE)
    sell_rig(acting, rig, {"note": "fell"}, None)
    assert (body(acting, rig)["state"], body(acting, rig)["why_sold"]) == ("sold", "fell")
    other = add_rig(acting, "scale", SCALE)
    with pytest.raises(InputRefused):
        change_rig(acting, rig, SCALE, None)
    change_rig(acting, rig, {**SCALE, "name": "S-3"}, None)
    assert [item["id"] for item in here(acting.ledger).scales] == [other, rig]
    assert sold(acting.ledger).everything == ()


def test_what_always_hangs_from_an_arm_is_neither_sold_nor_renamed(acting: Acting) -> None:
    scale, mass = add_rig(acting, "scale", SCALE), add_rig(acting, "mass", MASS)
    add_rig(acting, "hung-weight", ARM)
    with pytest.raises(InputRefused) as trouble:
        sell_rig(acting, mass, {}, None)
    assert (trouble.value.field, trouble.value.wanted) == ("note", "want-rig-not-hanging")
    with pytest.raises(InputRefused) as trouble:
        change_rig(acting, scale, {**SCALE, "name": "S-9"}, None)
    assert trouble.value.field == "name"
    with pytest.raises(InputRefused):  # its 0.35 kg would then be a force, the 10 kg a mass
        change_rig(acting, scale, {**SCALE, "knows": "force"}, None)
    change_rig(acting, scale, {**SCALE, "step": "1"}, None)


def test_a_weighing_that_always_hangs_names_its_scale_so_that_a_second_one_leaves_it_clear(
    acting: Acting,
) -> None:
    add_rig(acting, "scale", SCALE)
    trouble = refused(acting, "hung-weight", {"name": "W", "always": "0.35 kg"})
    assert (trouble.field, trouble.wanted) == ("always", "want-rig-always")
    assert trouble.facts == {"names": "0.35 kg on S-2"}


@pytest.mark.parametrize(
    ("changed", "state"),
    [
        ({}, PaperState.GOOD),
        ({"paper.due": ""}, PaperState.NO_END),
        ({"paper.due": "2026-12-25"}, PaperState.SOON),
        ({"paper.due": "2026-12-26"}, PaperState.GOOD),
        ({"paper.due": "2026-11-25"}, PaperState.SOON),
        ({"paper.due": "2026-11-24"}, PaperState.OVER),
        ({"paper.certificate": ""}, PaperState.NO_NUMBER),
    ],
)
def test_a_paper_runs_out_after_its_last_day(
    acting: Acting, changed: dict[str, str], state: PaperState
) -> None:
    rig = add_rig(acting, "transducer", {**PAPERED, **changed})
    assert paper_state(body(acting, rig), TODAY) is state


def test_only_a_transducer_is_asked_for_a_paper(acting: Acting) -> None:
    assert paper_state(body(acting, add_rig(acting, "scale", SCALE)), TODAY) is PaperState.NOT_ASKED
    assert paper_state(body(acting, add_rig(acting, "transducer", ADAPTER)), TODAY) is PaperState.NONE


def test_a_rig_says_what_it_decides_as_the_same_check_from_a_file_does(acting: Acting) -> None:
    rig, tool = add_rig(acting, "transducer", PAPERED), put_tool(acting, WRENCH)
    asked = ability(acting.ledger, rig, tool, today=TODAY)
    tables = [f'{name} = "{text}"' for name, text in WRENCH.items()]
    table = body(acting, rig)["table"]
    kit = [f'{name} = "{text}"' for name, text in table.items() if name != "paper"]
    paper = [f'{name} = "{text}"' for name, text in table["paper"].items() if name != "row"]
    rows = [
        "[[kit.paper.row]]\n" + "\n".join(f'{name} = "{text}"' for name, text in row.items())
        for row in table["paper"]["row"]
    ]
    form = "\n".join(
        [
            'steelyard_check = 1\ndate = 2026-11-25\n[limit]\npercent = 4\nsource = "our own list"\n[tool]',
            *tables,
            '[kit]\nkind = "transducer"\naxis = "vertical"\nzeroed = "with-tool"\nmode = "first-peak"',
            *kit,
            "[kit.paper]",
            *paper,
            *rows,
        ]
    )
    expected = ask_kit(form.encode()).points
    assert [point.able for point in asked.points] == list(expected)
    assert [point.form.name for point in asked.points] == ["20 N·m cw", "60 N·m cw", "100 N·m cw"]
    assert asked.is_guessed and not asked.is_hung


def test_a_scale_is_asked_with_the_first_arm_that_fits_and_without_the_other_scales(acting: Acting) -> None:
    scale = add_rig(acting, "scale", {**SCALE, "name": "S-9"})
    rough = add_rig(acting, "scale", {"name": "S-1", "step": "100", "knows": "mass", "within": "500"})
    tool = put_tool(acting, WRENCH)
    bare = ability(acting.ledger, scale, tool, today=TODAY)
    assert bare.arm is None and bare.is_hung and len(bare.points) == 3
    arm = add_rig(acting, "hung-weight", {"name": "W-1", "arm": "450 ± 1"})
    fine, coarse = (ability(acting.ledger, each, tool, today=TODAY) for each in (scale, rough))
    assert fine.arm is not None and fine.arm["id"] == arm
    assert _expanded(fine) < _expanded(coarse) / 2
    assert _expanded(ability(acting.ledger, arm, tool, today=TODAY, scale=scale)) == _expanded(fine)


def test_a_scale_alone_weighs_the_hook_too_whatever_it_was_weighed_on_before(acting: Acting) -> None:
    add_rig(acting, "scale", SCALE)
    other = add_rig(acting, "scale", {"name": "S-1", "step": "100", "knows": "force"})
    add_rig(acting, "hung-weight", {"name": "W-1", "arm": "450 ± 1", "always": "0.35 kg on S-2"})
    asked = ability(acting.ledger, other, put_tool(acting, WRENCH), today=TODAY)
    assert len(asked.points) == 3
    add_rig(acting, "mass", {"name": "P-50", "value": "50", "casting": "yes"})
    with_casting = ability(acting.ledger, other, "t1", today=TODAY)
    assert _expanded(with_casting) == _expanded(asked)


def _expanded(asked: Any) -> float:
    return float(asked.points[0].able.fitness.expanded_percent)


@pytest.mark.parametrize(
    ("lacks", "wanted"),
    [
        (("mass", "balance_point"), "want-rig-own-weight"),
        (("grip_mark",), "want-rig-arm"),
    ],
)
def test_what_the_tool_lacks_is_said_as_what_to_measure(
    acting: Acting, lacks: tuple[str, ...], wanted: str
) -> None:
    rig = add_rig(acting, "scale", SCALE)
    tool = put_tool(acting, {name: text for name, text in WRENCH.items() if name not in lacks})
    asked = ability(acting.ledger, rig, tool, today=TODAY)
    assert asked.points == ()
    assert asked.refused is not None and asked.refused.wanted == wanted


def test_an_arm_without_anything_to_load_it_says_so(acting: Acting) -> None:
    rig, tool = add_rig(acting, "hung-weight", {"name": "W-1"}), put_tool(acting, WRENCH)
    asked = ability(acting.ledger, rig, tool, today=TODAY)
    assert asked.refused is not None and asked.refused.wanted == "want-rig-means-to-load"


def test_a_torque_beyond_the_paper_leaves_the_others_answered(acting: Acting) -> None:
    rig = add_rig(acting, "transducer", PAPERED)
    tool = put_tool(acting, {**WRENCH, "lowest": "10 N·m"})
    first, *others = ability(acting.ledger, rig, tool, today=TODAY).points
    assert first.able is None and first.refused is not None
    assert first.refused.wanted == "want-inside-paper"
    assert all(point.able is not None for point in others)


def test_a_tool_that_does_not_fit_is_refused(acting: Acting) -> None:
    rig = add_rig(acting, "drum", DRUM)
    tool = put_tool(acting, WRENCH)
    with pytest.raises(InputRefused) as trouble:
        ability(acting.ledger, rig, tool, today=TODAY)
    assert (trouble.value.field, trouble.value.wanted) == ("tool", "want-rig-fitting-tool")
    with pytest.raises(NotFound):
        ability(acting.ledger, rig, "t9", today=TODAY)
    with pytest.raises(NotFound):
        ability(acting.ledger, "r9", tool, today=TODAY)


def test_a_tool_of_a_typed_range_stands_in(acting: Acting) -> None:
    rig = add_rig(acting, "transducer", ADAPTER)
    typed = {"kind": "click-adjustable", "lowest": "20", "highest": "100", "graduation": "1", "percent": "4"}
    asked = ability(acting.ledger, rig, None, today=TODAY, stand_in=stand_in_tool(typed, torque_unit="N·m"))
    assert [point.form.target.typed for point in asked.points] == ["20 N·m", "60 N·m", "100 N·m"]


@pytest.mark.parametrize(
    ("field", "text", "wanted"),
    [
        ("kind", "", "want-rig-answer"),
        ("kind", "hammer", "want-rig-answer"),
        ("lowest", "", "want-unit"),
        ("highest", "10", "want-range"),
        ("percent", "", "want-rig-percent"),
        ("percent", "400", "want-between"),
        ("graduation", "", "want-step"),
    ],
)
def test_a_tool_that_cannot_be_is_refused_at_its_field(field: str, text: str, wanted: str) -> None:
    typed = {"kind": "dial", "lowest": "20", "highest": "100", "graduation": "1", "percent": "4"}
    with pytest.raises(InputRefused) as trouble:
        stand_in_tool({**typed, field: text}, torque_unit="N·m")
    assert (trouble.value.field, trouble.value.wanted) == (field, wanted)


def test_only_tools_in_use_that_a_rig_can_hold_are_offered(acting: Acting) -> None:
    put_tool(acting, WRENCH)
    put_tool(acting, {**WRENCH, "number": "T-02", "kind": "driver-adjustable"}, "t2")
    put_tool(acting, {**WRENCH, "number": "T-03"}, "t3")
    acting.write(Draft(Kind.TOOL_RETIRED, "tool:t3", {}))
    offered = {
        sort: [tool["tool"]["number"] for tool in tools_for(acting.ledger, {"sort": sort})]
        for sort in ("scale", "mass", "hung-weight", "drum", "transducer")
    }
    assert offered == {
        "scale": ["T-01"],
        "mass": ["T-01"],
        "hung-weight": ["T-01"],
        "drum": ["T-02"],
        "transducer": ["T-01", "T-02"],
    }
