"""Tables of the demo workshop go out and come in again: nothing is new, and a new workshop has the same."""

from collections.abc import Iterator
from pathlib import Path

import pytest

import sealed
from steelyard.bootstrap import Workshop, fill_demo, table_file
from steelyard.bootstrap.taking_in import keep_table, try_table
from steelyard.desk import (
    Acting,
    check_view,
    choose_kit,
    close_check,
    exercise,
    judge_phase,
    look_over,
    read_pull,
    set_up,
    strike_out,
)
from steelyard.desk.ports import Wanted
from steelyard.desk.tool_fields import tool_typed_again
from steelyard.errors import InputRefused
from steelyard.sheets.tables import FORMS
from web.shop import make_workshop

SORTS = {"rack": "tool", "rigs": "rig"}


@pytest.fixture(scope="module")
def demo() -> Iterator[Workshop]:
    workshop = make_workshop(is_demo=True)
    fill_demo(workshop)
    yield workshop


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("what", SORTS)
def test_what_went_out_is_there_already(demo: Workshop, tmp_path: Path, what: str, form: str) -> None:
    path = tmp_path / f"{what}.{form}"
    path.write_bytes(b"".join(table_file(demo, what, {}, form=form)))
    tried = try_table(demo.acting(), path, asked=what)
    rows = len(demo.ledger.documents(Wanted(SORTS[what], most=500)))
    refused = [(fate.name, fate.sentence) for fate in tried.tally.first_refused]
    assert (tried.tally.new, refused, tried.tally.there) == (0, [], rows)


def test_a_new_workshop_has_the_same_tools(demo: Workshop, tmp_path: Path) -> None:
    path, other = tmp_path / "rack.csv", make_workshop()
    path.write_bytes(b"".join(table_file(demo, "rack", {}, form="csv")))
    tried = try_table(other.acting(), path, asked="rack")
    in_use = [
        each.body for each in demo.ledger.documents(Wanted("tool", most=500)) if not each.body["is_retired"]
    ]
    if tried.tally.refused:  # retired ones: taken out of the list by hand
        assert {fate.field for fate in tried.tally.first_refused} == {"state"}
        lines = path.read_text("utf-8").splitlines(keepends=True)
        gone = {fate.row for fate in tried.tally.first_refused}
        path.write_text("".join(line for i, line in enumerate(lines, 1) if i not in gone), "utf-8")
        tried = try_table(other.acting(), path, asked="rack")
    assert keep_table(other.acting(), path, tried) is not None
    came = [each.body for each in other.ledger.documents(Wanted("tool", most=500))]
    assert [tool_typed_again(body) for body in came] == [tool_typed_again(body) for body in in_use]


def pulled(acting: Acting, *, is_read: bool) -> str:
    """A check of T-02 in hand; read and sealed where that is asked for, one pull struck out."""
    of, rig = sealed.tool(acting), sealed.transducer(acting)
    check = sealed.opened(acting, of)
    look_over(acting, check, {"damaged": "no"})
    targets = " ".join(sealed.TARGETS)
    choose_kit(acting, check, {"rig": rig, "plan": "own", "targets": targets, "pulls": "3"})
    set_up(acting, check, {"is_ready": "yes", "axis": "vertical", "zeroed": "with-tool"})
    exercise(acting, check, {"exercise_pulls": "5"})
    if is_read:
        slipped = read_pull(acting, check, "as-found", 0, {"line": "22.2"})
        strike_out(acting, check, slipped.number, {"reason": "slipped"})
        sealed.pull_all(acting, check, "as-found", sealed.LEFT)
        judge_phase(acting, check, "as-found", {})
        close_check(acting, check, {"next_due": "2027-11-25"})
    return check


@pytest.fixture(scope="module")
def former() -> tuple[Workshop, str]:
    workshop = make_workshop()
    return workshop, pulled(workshop.acting(), is_read=True)


def kept_here(workshop: Workshop, path: Path) -> int:
    """A table tried and kept; how many rows were new."""
    tried = try_table(workshop.acting(), path)
    assert [(fate.name, fate.sentence) for fate in tried.tally.first_refused] == []
    assert keep_table(workshop.acting(), path, tried) is not None
    return tried.tally.new


@pytest.mark.parametrize("form", FORMS)
def test_pulls_of_another_workshop_go_into_a_check_in_hand(
    former: tuple[Workshop, str], tmp_path: Path, form: str
) -> None:
    path, other = tmp_path / f"pulls.{form}", make_workshop()
    path.write_bytes(b"".join(table_file(former[0], "pulls", {}, form=form)))
    check = pulled(other.acting(), is_read=False)
    assert kept_here(other, path) == 10
    was, came = (check_view(each.ledger, name).body for each, name in (former, (other, check)))
    same = ("phase", "point", "pull", "struck_out")
    assert [[pull[name] for name in same] for pull in came["pulls"]] == [
        [pull[name] for name in same] for pull in was["pulls"]
    ]
    with pytest.raises(InputRefused, match="T-02"):
        try_table(other.acting(), path)
    assert judge_phase(other.acting(), check, "as-found", {}) == was["closed"]["verdict"]


@pytest.mark.parametrize("form", FORMS)
def test_records_of_another_workshop_become_history(
    former: tuple[Workshop, str], tmp_path: Path, form: str
) -> None:
    path, other = tmp_path / f"records.{form}", make_workshop()
    path.write_bytes(b"".join(table_file(former[0], "records", {}, form=form)))
    sealed.tool(other.acting())
    assert kept_here(other, path) == 1
    (body,) = (each.body for each in other.ledger.documents(Wanted("tool")))
    (line,) = body["history"]
    assert line["note"].startswith("record 1 (launching day), as found, worst +")
    assert (line["verdict"], line["next_due"], body["checks"]) == ("in", "2027-11-25", [])
    for workshop in (other, former[0]):
        assert try_table(workshop.acting(), path).tally.there == 1
