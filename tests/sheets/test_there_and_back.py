"""Tables of the demo workshop go out and come in again: nothing is new, and a new workshop has the same."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from steelyard.bootstrap import Workshop, fill_demo, table_file
from steelyard.bootstrap.taking_in import keep_table, try_table
from steelyard.desk.ports import Wanted
from steelyard.desk.tool_fields import tool_typed_again
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
