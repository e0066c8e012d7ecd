"""A whole workshop comes into an empty folder, with its mark, and never over anything."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from steelyard.bootstrap import (
    demo_workshop,
    existing_workshop,
    find_folder,
    one_server,
    take_in_workshop,
    workshop,
    workshop_zip,
)
from steelyard.desk import set_workshop
from steelyard.errors import Damaged, InputRefused, NotFound, Served
from web.shop import make_workshop


@pytest.fixture
def whole(tmp_path: Path) -> Iterator[Path]:
    """The zip of a workshop with a name."""
    with workshop(tmp_path / "old") as old:
        set_workshop(old.acting(), {"name": "Tern Point Boatyard"})
        file = tmp_path / "workshop.zip"
        file.write_bytes(b"".join(workshop_zip(old)))
    yield file


def names_in(folder: Path) -> list[str]:
    """What lies in a folder, but for the lock of the server."""
    return sorted(path.name for path in folder.iterdir() if path.name != "server.txt")


def test_it_comes_into_a_folder_that_is_not_there_yet(whole: Path, tmp_path: Path) -> None:
    counts = take_in_workshop(whole, tmp_path / "some" / "new")
    assert counts is not None and (counts.head_number, counts.is_demo) == (1, False)
    with existing_workshop(tmp_path / "some" / "new") as new:
        assert new.ledger.head().digest == counts.head_digest
        assert new.verify().is_whole and not new.is_demo
    assert "demo.txt" not in names_in(tmp_path / "some" / "new")


def test_the_mark_of_a_demo_goes_out_and_comes_back(tmp_path: Path) -> None:
    with demo_workshop(tmp_path / "old") as old:
        set_workshop(old.acting(), {"name": "Tern Point Boatyard"})
        (tmp_path / "w.zip").write_bytes(b"".join(workshop_zip(old)))
    take_in_workshop(tmp_path / "w.zip", tmp_path / "new")
    with existing_workshop(tmp_path / "new") as new:
        assert new.is_demo


def test_a_real_one_does_not_take_the_mark_of_an_empty_demo_folder(whole: Path, tmp_path: Path) -> None:
    with demo_workshop(tmp_path / "new"):
        pass
    take_in_workshop(whole, tmp_path / "new")
    with existing_workshop(tmp_path / "new") as new:
        assert not new.is_demo


def test_a_ledger_in_which_nothing_is_written_makes_room(whole: Path, tmp_path: Path) -> None:
    with workshop(tmp_path / "new"):
        pass
    take_in_workshop(whole, tmp_path / "new")
    with existing_workshop(tmp_path / "new") as new:
        assert new.ledger.head().number == 1
    assert len(list((tmp_path / "new" / "copies").iterdir())) == 1


def test_nothing_is_written_over(whole: Path, tmp_path: Path) -> None:
    with workshop(tmp_path / "new") as new:
        set_workshop(new.acting(), {"name": "another"})
        before = new.ledger.head()
    with pytest.raises(InputRefused, match="without a workshop") as refused:
        take_in_workshop(whole, tmp_path / "new")
    assert refused.value.field == "--data"
    with existing_workshop(tmp_path / "new") as new:
        assert new.ledger.head() == before


def test_what_is_no_ledger_is_not_written_over_either(whole: Path, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    (tmp_path / "new" / "ledger.sqlite3").write_text("my notes")
    with pytest.raises(Damaged):
        take_in_workshop(whole, tmp_path / "new")
    assert (tmp_path / "new" / "ledger.sqlite3").read_text() == "my notes"


def test_a_folder_that_is_served_is_left_alone(whole: Path, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    with one_server(tmp_path / "new") as server:
        server.announce("http://127.0.0.1:1")
        with pytest.raises(Served):
            take_in_workshop(whole, tmp_path / "new")
    assert names_in(tmp_path / "new") == []


def test_what_is_refused_leaves_an_empty_ledger_as_it_was(whole: Path, tmp_path: Path) -> None:
    with demo_workshop(tmp_path / "new"):
        pass
    whole.write_bytes(whole.read_bytes()[:-40])
    before = names_in(tmp_path / "new")
    with pytest.raises(InputRefused) as refused:
        take_in_workshop(whole, tmp_path / "new", field="file")
    assert refused.value.field == "file"
    assert names_in(tmp_path / "new") == before


def test_a_note_that_leads_elsewhere_is_taken_away(whole: Path, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    (tmp_path / "new" / "moved-to.txt").write_text(str(tmp_path / "old"))
    take_in_workshop(whole, tmp_path / "new")
    assert find_folder(tmp_path / "new") == tmp_path / "new"
    assert "moved-to.txt" not in names_in(tmp_path / "new")


def test_stopped_it_leaves_the_folder_empty(whole: Path, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    assert take_in_workshop(whole, tmp_path / "new", lambda *_: False) is None
    assert names_in(tmp_path / "new") == []


def test_a_folder_that_was_made_for_nothing_is_taken_away_again(whole: Path, tmp_path: Path) -> None:
    (tmp_path / "some").mkdir()
    folder = tmp_path / "some" / "new" / "one"
    assert take_in_workshop(whole, folder, lambda *_: False) is None
    assert list((tmp_path / "some").iterdir()) == []
    whole.write_bytes(whole.read_bytes()[:-40])
    with pytest.raises(InputRefused):
        take_in_workshop(whole, folder)
    assert list((tmp_path / "some").iterdir()) == []


def test_a_zip_that_is_not_there_makes_no_folder(tmp_path: Path) -> None:
    with pytest.raises(NotFound):
        take_in_workshop(tmp_path / "no.zip", tmp_path / "new")
    assert not (tmp_path / "new").exists()


def test_a_workshop_in_memory_has_no_zip() -> None:
    with pytest.raises(NotFound):
        workshop_zip(make_workshop())
