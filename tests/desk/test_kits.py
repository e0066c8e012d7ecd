"""What is joined to a kit, what stands in before it is set up, and which tool fits which rig."""

from datetime import datetime, timedelta, timezone
from typing import Any

import pytest

from steelyard.desk import SETUP_COLUMNS, fits, here, kit_table, setup_table, sold, usual_setup
from steelyard.records import Draft, Fields, Kind, Stamp, Subject, read_kit, read_place, read_tool
from steelyard.store import MemoryLedger

SCALE = {"sort": "scale", "table": {"name": "S-2", "step": "5 g", "knows": "force"}}
MASS = {"sort": "mass", "table": {"name": "M-5", "value": "5 kg", "class": "M1"}}
ARM = {"sort": "hung-weight", "table": {"name": "W-1", "always": "M-5", "material": "steel"}}
DRUM = {"sort": "drum", "table": {"name": "D-1", "drum": "100 mm", "cord": "3 mm"}}
ADAPTER = {
    "sort": "transducer",
    "table": {"name": "A-1", "resolution": "0.1 N·m", "stated_of_reading": "0.5 %"},
}
NOW = Stamp(datetime(2026, 11, 25, tzinfo=timezone(timedelta())).isoformat(), 0, "", "")


def tool(kind: str = "click-adjustable", **more: Any) -> dict[str, Any]:
    """A tool of the rack."""
    table = {"number": "T-01", "kind": kind, "lowest": "20 N·m", "highest": "100 N·m", "graduation": "1 N·m"}
    return {"tool": {**table, **more}}


def test_scales_and_masses_of_the_shop_are_joined_to_an_arm() -> None:
    table = kit_table(ARM, scales=[SCALE], masses=[MASS], setup={"arm": "450 mm"})
    assert table == {
        "kind": "hung-weight",
        "name": "W-1",
        "always": "M-5",
        "material": "steel",
        "arm": "450 mm",
        "scale": [SCALE["table"]],
        "mass": [MASS["table"]],
    }


def test_nothing_is_joined_to_a_transducer() -> None:
    setup = {"axis": "vertical", "zeroed": "with-tool"}
    table = kit_table(ADAPTER, scales=[SCALE], masses=[MASS], setup=setup)
    assert "scale" not in table and "mass" not in table
    assert table["axis"] == "vertical"


def test_what_was_said_at_the_set_up_goes_over_the_rigs_own_and_an_emptied_field_takes_it_away() -> None:
    setup = setup_table("hung-weight", {"arm": "451 ± 1", "always": " "}, torque_unit="N·m")
    table = kit_table(ARM, scales=[SCALE], masses=[MASS], setup=setup)
    assert table["arm"] == "451 ± 1 mm"
    assert "always" not in table


def test_a_field_that_was_not_shown_at_the_set_up_leaves_the_rigs_own() -> None:
    setup = setup_table("hung-weight", {"arm": "451"}, torque_unit="N·m")
    assert kit_table(ARM, scales=[], masses=[MASS], setup=setup)["always"] == "M-5"


@pytest.mark.parametrize("rig", [ARM, DRUM, ADAPTER])
def test_the_form_reads_every_field_that_is_asked_at_the_set_up(rig: dict[str, Any]) -> None:
    typed = {
        "arm": "450",
        "droop": "1",
        "drop": "2",
        "always": "M-5",
        "dribble": "3",
        "axis": "vertical",
        "zeroed": "with-tool",
        "pull": "up",
        "mode": "peak",
        "zero_reading": "0.1",
    }
    setup = setup_table(rig["sort"], typed, torque_unit="N·m")
    assert list(setup) == [column.name for column in SETUP_COLUMNS[rig["sort"]]]
    table = kit_table(rig, scales=[SCALE], masses=[MASS], setup=setup)
    kind = "driver-adjustable" if rig is DRUM else "click-adjustable"
    read = read_tool(Fields(tool(kind)["tool"], place="tool"))
    assert read_kit(Fields(table, place="kit"), read, read_place(Fields({}, place="place"))).name


def test_the_arm_is_the_rigs_own_before_the_tools_grip_mark() -> None:
    own = {"sort": "hung-weight", "table": {"name": "W-1", "arm": "500 mm ± 1 mm"}}
    marked = tool(grip_mark="450 mm ± 2 mm")
    assert usual_setup("hung-weight", own, marked) == {"arm": "500 mm ± 1 mm"}
    assert usual_setup("hung-weight", ARM, marked) == {"arm": "450 mm ± 2 mm", "always": "M-5"}
    assert "arm" not in usual_setup("hung-weight", ARM, tool())


@pytest.mark.parametrize(
    ("kind", "mode"), [("click-adjustable", "first-peak"), ("slipper-wrench", "peak"), ("dial", "track")]
)
def test_a_transducer_usually_stands_upright_zeroed_with_the_tool_on(kind: str, mode: str) -> None:
    usual = usual_setup("transducer", ADAPTER, tool(kind))
    assert usual == {"axis": "vertical", "zeroed": "with-tool", "mode": mode}


@pytest.mark.parametrize(
    ("rig", "wrench", "driver"),
    [
        (SCALE, False, False),
        (MASS, False, False),
        (ARM, True, False),
        (DRUM, False, True),
        (ADAPTER, True, True),
    ],
)
def test_a_drum_takes_drivers_only_and_an_arm_never_does(
    rig: dict[str, Any], wrench: bool, driver: bool
) -> None:
    assert fits(rig, tool("beam")) is wrench
    assert fits(rig, tool("driver-dial")) is driver


def test_rigs_that_are_here_stand_in_groups_in_the_order_of_their_names() -> None:
    ledger = MemoryLedger()
    names = ["M-10", "M-2", *(f"S-{i}" for i in range(1, 251))]
    drafts = [
        Draft(
            Kind.RIG_ADDED,
            Subject.RIG.named(name),
            {"sort": "mass" if name[0] == "M" else "scale", "table": {"name": name}},
        )
        for name in names
    ]
    ledger.append([*drafts, Draft(Kind.RIG_SOLD, Subject.RIG.named("S-7"), {})], NOW)
    shelf = here(ledger)
    assert [body["table"]["name"] for body in shelf.masses] == ["M-2", "M-10"]
    assert len(shelf.scales) == 249
    assert shelf.kits == ()
    assert [body["id"] for body in sold(ledger).everything] == ["S-7"]
