"""A whole workshop out and back: the same head, names, files and documents; whatever is off is refused."""

import io
import json
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from steelyard.errors import Damaged, InputRefused, NotFound
from steelyard.records import BEFORE_THE_FIRST, THE_WORKSHOP, Draft, Kind, Subject, digest_of, write_entry
from steelyard.store import (
    SqlLedger,
    WholeCounts,
    open_ledger,
    take_whole_workshop,
    verify_ledger,
    whole_workshop,
)
from steelyard.store.content import digest_of_bytes
from steelyard.store.schema import METADATA
from steelyard.store.steps import Steps, Stopped
from steelyard.store.whole_archive import opened_archive
from steelyard.store.whole_chain import WholeChain
from steelyard.store.whole_form import ENTRIES, FILES, NAMES, SUBMISSIONS, WORKSHOP
from store.entries import STAMP, event, fill, tool

SALT = "5a17" * 7
"""Of names, but for their keys at the end."""
PICTURE, LOGO = b"\xff\xd8picture", b"\x89PNGlogo"
FLIPPED = 25
"""Bytes that are flipped, one after the other."""
Parts = dict[str, bytes]


def person(key: str, name: str, salt: str) -> tuple[Draft, dict[str, tuple[str, str]]]:
    """Somebody new, and the row of the name."""
    payload = {"key": key, "digest": digest_of(f"{salt}{name}")}
    return Draft(Kind.PERSON_ADDED, THE_WORKSHOP, payload), {key: (name, salt)}


def salt_of(key: str) -> str:
    """32 hexadecimal digits."""
    return SALT + f"{key:0>4}".replace("p", "a")


def filled(path: Path) -> SqlLedger:
    """A ledger with pulls, people (one forgotten), files, and a text that wants care."""
    ledger = open_ledger(path)
    fill(ledger)
    ledger.append([tool("t2", "T-02 \u2028 „x“")], STAMP, submission="tool\n2")
    for key, name in (("p1", "rigger \U0001d11e"), ("p2", "engine shop"), ("p3", "gone")):
        draft, names = person(key, name, salt_of(key))
        ledger.append([draft], STAMP, names=names)
    ledger.append([Draft(Kind.PERSON_FORGOTTEN, THE_WORKSHOP, {"key": "p3"})], STAMP)
    ledger.forget("p3")
    kept = ledger.keep_file(PICTURE, "image/jpeg")
    attached = {"file": kept, "bytes": len(PICTURE), "media_type": "image/jpeg", "note": None}
    ledger.append([Draft(Kind.ATTACHMENT_KEPT, Subject.CHECK.named("c1"), attached)], STAMP)
    logo = {"logo": ledger.keep_file(LOGO, "image/png")}
    ledger.append([Draft(Kind.WORKSHOP_SET, THE_WORKSHOP, logo)], STAMP)
    return ledger


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[SqlLedger]:
    with filled(tmp_path / "old" / "ledger.sqlite3") as made:
        yield made


def zipped(ledger: SqlLedger) -> bytes:
    """The zip of a ledger."""
    return b"".join(whole_workshop(ledger, program="0.1.0", is_demo=False))


def taken(content: bytes, tmp_path: Path, **more: Any) -> WholeCounts | None:
    """Take a zip into an empty folder."""
    (tmp_path / "workshop.zip").write_bytes(content)
    return take_whole_workshop(
        tmp_path / "workshop.zip", tmp_path / "new" / "ledger.sqlite3", make_room=lambda _: None, **more
    )


def everything(ledger: SqlLedger) -> dict[str, list[tuple[Any, ...]]]:
    """All rows of all tables."""
    with ledger.engine.connect() as connection:
        return {
            table.name: [
                tuple(row) for row in connection.execute(sa.select(table).order_by(*table.primary_key))
            ]
            for table in METADATA.sorted_tables
        }


def parts_of(content: bytes) -> Parts:
    """The parts of a zip, unpacked."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(parts: Mapping[str, bytes]) -> bytes:
    """Parts as a zip."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return file.getvalue()


class TestOutAndBack:
    def test_everything_is_as_it_was(self, ledger: SqlLedger, tmp_path: Path) -> None:
        counts, head = taken(zipped(ledger), tmp_path), ledger.head()
        assert counts == WholeCounts(head.number, head.digest, 12, 3, 4, 2, is_demo=False)
        with open_ledger(tmp_path / "new" / "ledger.sqlite3") as new:
            assert everything(new) == everything(ledger)
            assert new.head() == ledger.head()
            assert new.names() == {"p1": "rigger \U0001d11e", "p2": "engine shop"}
            kept = new.file(digest_of_bytes(PICTURE))
            assert kept is not None and (kept.content, kept.media_type) == (PICTURE, "image/jpeg")
            assert verify_ledger(new).is_whole

    def test_it_is_the_same_bytes_again_from_the_new_one(self, ledger: SqlLedger, tmp_path: Path) -> None:
        content = zipped(ledger)
        assert zipped(ledger) == content
        taken(content, tmp_path)
        with open_ledger(tmp_path / "new" / "ledger.sqlite3") as new:
            assert zipped(new) == content

    def test_the_new_one_goes_on_where_the_old_one_stopped(self, ledger: SqlLedger, tmp_path: Path) -> None:
        taken(zipped(ledger), tmp_path)
        with open_ledger(tmp_path / "new" / "ledger.sqlite3") as new:
            (repeated,) = new.append([tool("t2", "T-02 \u2028 „x“")], STAMP, submission="tool\n2")
            assert repeated.number <= ledger.head().number
            new.append([event("t1")], STAMP)
            assert new.head().number == ledger.head().number + 1 and verify_ledger(new).is_whole

    def test_an_empty_one_goes_out_and_comes_back(self, tmp_path: Path) -> None:
        with open_ledger(tmp_path / "old" / "ledger.sqlite3") as old:
            counts = taken(zipped(old), tmp_path)
        assert counts is not None and (counts.entries, counts.head_digest) == (0, BEFORE_THE_FIRST)

    def test_the_entries_stand_byte_for_byte_as_they_are_chained(self, ledger: SqlLedger) -> None:
        lines = parts_of(zipped(ledger))[ENTRIES].split(b"\n")
        assert lines == [*(entry.body.encode() for entry in ledger.entries()), b""]

    def test_a_forgotten_name_is_not_in_it(self, ledger: SqlLedger) -> None:
        assert b"gone" not in b"".join(parts_of(zipped(ledger)).values())

    def test_a_name_that_was_to_be_forgotten_comes_in_empty(self, ledger: SqlLedger, tmp_path: Path) -> None:
        parts = parts_of(zipped(ledger))
        parts[NAMES] = parts[NAMES].replace(
            b'"p3","text":null,"salt":null', b'"p3","text":"gone","salt":"' + salt_of("p3").encode() + b'"'
        )
        assert b"gone" in parts[NAMES]
        taken(packed(parts), tmp_path)
        with open_ledger(tmp_path / "new" / "ledger.sqlite3") as new:
            assert "p3" not in new.names()
            assert everything(new) == everything(ledger)

    def test_others_may_write_meanwhile(self, ledger: SqlLedger, tmp_path: Path) -> None:
        before = ledger.head()
        pieces = whole_workshop(ledger, program="0.1.0", is_demo=True)
        content = next(pieces)
        ledger.append([event("t1")], STAMP)
        counts = taken(content + b"".join(pieces), tmp_path)
        assert counts is not None and counts.head_number == before.number and counts.is_demo


class TestSteps:
    def test_both_ways_say_how_far_they_are(self, ledger: SqlLedger, tmp_path: Path) -> None:
        said: list[tuple[int, int]] = []

        def step(done: int, of: int) -> bool:
            said.append((done, of))
            return True

        content = b"".join(whole_workshop(ledger, program="0.1.0", is_demo=False, on_step=step))
        count, beside = ledger.head().number, 3 + 4 + 2
        assert (said[0], said[-1]) == ((0, count + 2), (count + 2, count + 2))
        said.clear()
        taken(content, tmp_path, on_step=step)
        assert (said[0], said[-1]) == ((0, 2 * count + beside), (2 * count + beside, 2 * count + beside))

    @pytest.mark.parametrize("at", [0, 1])
    def test_a_stopped_zip_opens_nowhere(self, ledger: SqlLedger, tmp_path: Path, at: int) -> None:
        answers = iter([True] * at + [False])
        pieces = whole_workshop(ledger, program="0.1.0", is_demo=False, on_step=lambda *_: next(answers))
        with pytest.raises(InputRefused, match="this is none"):
            taken(b"".join(pieces), tmp_path)

    @pytest.mark.parametrize("at", [0, 1])
    def test_a_stopped_taking_leaves_nothing(self, ledger: SqlLedger, tmp_path: Path, at: int) -> None:
        answers = iter([True] * at + [False])
        assert taken(zipped(ledger), tmp_path, on_step=lambda *_: next(answers)) is None
        assert list((tmp_path / "new").iterdir()) == []

    def test_whoever_stops_listening_leaves_the_ledger_free(self, ledger: SqlLedger) -> None:
        pieces = whole_workshop(ledger, program="0.1.0", is_demo=False)
        next(pieces)
        del pieces
        ledger.append([event("t1")], STAMP)


def test_a_broken_chain_is_not_handed_out(ledger: SqlLedger) -> None:
    with ledger.engine.begin() as connection:
        connection.exec_driver_sql("UPDATE entry SET body = replace(body, 'T-01', 'T-09') WHERE number = 1")
    with pytest.raises(Damaged):
        zipped(ledger)


def test_a_changed_file_is_not_handed_out(ledger: SqlLedger) -> None:
    with ledger.engine.begin() as connection:
        connection.exec_driver_sql("UPDATE file SET content = x'00' WHERE media_type = 'image/png'")
    with pytest.raises(Damaged, match=digest_of_bytes(LOGO)[:8]):
        zipped(ledger)


Change = Callable[[Parts], None]


def said_of(parts: Parts) -> dict[str, Any]:
    """What workshop.json says."""
    said: dict[str, Any] = json.loads(parts[WORKSHOP])
    return said


def says(**more: Any) -> Change:
    """Another thing in workshop.json."""

    def change(parts: Parts) -> None:
        parts[WORKSHOP] = json.dumps({**said_of(parts), **more}).encode()

    return change


def replaced(part: str, old: bytes, new: bytes) -> Change:
    """Other bytes in a part."""

    def change(parts: Parts) -> None:
        assert old in parts[part], f"{old!r} is not in {part}"
        parts[part] = parts[part].replace(old, new, 1)

    return change


def without(part: str) -> Change:
    """A part is missing; `files/` stands for the first of the files."""

    def change(parts: Parts) -> None:
        del parts[next(name for name in parts if name.startswith(part))]

    return change


def added(name: str, content: bytes = b"") -> Change:
    """A part too many."""

    def change(parts: Parts) -> None:
        parts[name] = content

    return change


def dropped_line(part: str, place: int) -> Change:
    """A line is missing."""

    def change(parts: Parts) -> None:
        lines = parts[part].splitlines(keepends=True)
        del lines[place]
        parts[part] = b"".join(lines)

    return change


def doubled_line(part: str) -> Change:
    """The first line stands twice."""

    def change(parts: Parts) -> None:
        first = parts[part].splitlines(keepends=True)[0]
        parts[part] = first + parts[part]

    return change


def rewritten(payload_of_first: Mapping[str, Any], **more: Any) -> Change:
    """A chain that holds, of one entry that means nothing."""

    def change(parts: Parts) -> None:
        draft = Draft(more.get("kind", "tool-added"), more.get("subject", "tool:t1"), payload_of_first)
        entry = write_entry(draft, 1, STAMP, BEFORE_THE_FIRST)
        counts = {"entries": 1, "names": 0, "submissions": 0, "files": 0}
        parts[ENTRIES] = entry.body.encode() + b"\n"
        parts.update({NAMES: b"", SUBMISSIONS: b"", FILES: b""})
        for name in [name for name in parts if name.startswith("files/")]:
            del parts[name]
        says(counts=counts, head={"number": 1, "digest": entry.digest})(parts)

    return change


def fake_file(parts: Parts) -> None:
    """A file whose content is another one."""
    name = f"files/{digest_of_bytes(LOGO)}"
    parts[name] = b"\x89PNGlogx"


def unheard_of(parts: Parts) -> None:
    """A file that an entry names is gone, and so is every word of it elsewhere."""
    digest = digest_of_bytes(PICTURE)
    del parts[f"files/{digest}"]
    lines = parts[FILES].splitlines(keepends=True)
    parts[FILES] = b"".join(line for line in lines if digest.encode() not in line)
    says(counts={**said_of(parts)["counts"], "files": 1})(parts)


HEX = "a" * 64
REFUSALS: Mapping[str, tuple[Change, str]] = {
    "an entry changed": (replaced(ENTRIES, b"T-01", b"T-09"), "want-whole-chain"),
    "an entry left out": (dropped_line(ENTRIES, 3), "want-whole-chain"),
    "the last entry cut off": (dropped_line(ENTRIES, -1), "want-whole-chain"),
    "an entry twice": (doubled_line(ENTRIES), "want-whole-chain"),
    "a line that is no entry": (replaced(ENTRIES, b"{", b"["), "want-whole-chain"),
    "a line that is no text": (replaced(ENTRIES, b"T-01", b"\xff\xfe"), "want-whole-chain"),
    "a last line without its end": (replaced(ENTRIES, b"}\n", b"}"), "want-whole-chain"),
    "an entry nobody can fold": (rewritten({}, kind="no-such-kind"), "want-whole-readable-entries"),
    "an entry of nothing known": (rewritten({}, subject="moon:1"), "want-whole-readable-entries"),
    "an entry that lacks all": (rewritten({}), "want-whole-readable-entries"),
    "half a character": (rewritten({"tool": {"number": "\\ud800"}}, subject="tool:x"), "want-whole"),
    "another head": (says(head={"number": 12, "digest": HEX}), "want-whole"),
    "a head that is none": (says(head={"number": 12, "digest": "x"}), "want-whole-workshop"),
    "a newer form": (says(steelyard_workshop=2), "want-whole-older"),
    "no form": (says(steelyard_workshop="1"), "want-whole-workshop"),
    "a form that is true": (says(steelyard_workshop=True), "want-whole-workshop"),
    "a count that is none": (says(counts={"entries": -1}), "want-whole-workshop"),
    "a mark that is none": (says(is_demo="no"), "want-whole-workshop"),
    "a head that is no JSON": (added(WORKSHOP, b"{"), "want-whole-line"),
    "a head without end": (added(WORKSHOP, b" " * 100_000), "want-whole-workshop"),
    "a head that nests": (added(WORKSHOP, b"[" * 60_000), "want-whole-line"),
    "no entries": (without(ENTRIES), "want-whole-workshop"),
    "no names": (without(NAMES), "want-whole-workshop"),
    "a file missing": (without("files/"), "want-whole-count"),
    "a file that entries name missing everywhere": (unheard_of, "want-whole-file"),
    "a file changed": (fake_file, "want-whole-file-digest"),
    "a file of another size": (replaced(FILES, b'"size":8', b'"size":7'), "want-whole-file-digest"),
    "a file far too large": (replaced(FILES, b'"size":8', b'"size":99999999999'), "want-whole-size"),
    "a file listed twice": (doubled_line(FILES), "want-whole-line"),
    "a file listed by another name": (
        replaced(FILES, digest_of_bytes(LOGO).encode(), HEX.encode()),
        "want-whole-file",
    ),
    "a name changed": (replaced(NAMES, b"engine shop", b"stores"), "want-whole-name"),
    "a salt changed": (replaced(NAMES, b"5a17", b"5a18"), "want-whole-name"),
    "a name parted from its salt elsewhere": (
        replaced(
            NAMES,
            b'"engine shop","salt":"' + salt_of("p2").encode(),
            b'"ne shop","salt":"' + salt_of("p2").encode() + b"engi",
        ),
        "want-whole-name",
    ),
    "a name that begins in its salt": (
        replaced(
            NAMES,
            b'"engine shop","salt":"' + salt_of("p2").encode(),
            b'"' + salt_of("p2").encode()[-1:] + b'engine shop","salt":"' + salt_of("p2").encode()[:-1],
        ),
        "want-whole-name",
    ),
    "nothing but a salt": (
        replaced(
            NAMES,
            b'"engine shop","salt":"' + salt_of("p2").encode(),
            b'"","salt":"' + salt_of("p2").encode() + b"engine shop",
        ),
        "want-whole-name",
    ),
    "a name twice": (doubled_line(NAMES), "want-whole-name"),
    "a name of nobody": (replaced(NAMES, b'"p2"', b'"p9"'), "want-whole-name"),
    "a name left out": (dropped_line(NAMES, 0), "want-whole-count"),
    "a name that is half a character": (
        replaced(NAMES, b"engine shop", b"\\ud800"),
        "want-whole-line",
    ),
    "a token twice": (doubled_line(SUBMISSIONS), "want-whole-once"),
    "a token of entries to come": (replaced(SUBMISSIONS, b'"count":1', b'"count":99'), "want-whole-line"),
    "a token of a huge number": (
        replaced(SUBMISSIONS, b'"count":1', b'"count":99999999999999999999999999'),
        "want-whole-line",
    ),
    "a token left out": (dropped_line(SUBMISSIONS, 0), "want-whole-count"),
    "an absolute name": (added("/etc/passwd", b"x"), "want-whole-parts"),
    "a name that climbs": (added("../ledger.sqlite3", b"x"), "want-whole-parts"),
    "a name that climbs inside": (added(f"files/../{HEX}", b"x"), "want-whole-parts"),
    "a name of Windows": (added("C:\\x", b"x"), "want-whole-parts"),
    "a folder": (added("files/", b""), "want-whole-parts"),
    "something else": (added("notes.txt", b"x"), "want-whole-parts"),
    "a bomb": (added(f"files/{HEX}", b"\0" * 60_000_000), "want-whole-size"),
}


@pytest.mark.parametrize("case", REFUSALS)
def test_what_is_off_is_refused_and_nothing_is_written(case: str, ledger: SqlLedger, tmp_path: Path) -> None:
    change, wanted = REFUSALS[case]
    parts = parts_of(zipped(ledger))
    change(parts)
    with pytest.raises(InputRefused) as refused:
        taken(packed(parts), tmp_path, field="zip")
    assert refused.value.field == "zip"
    assert refused.value.wanted.startswith(wanted)
    assert list((tmp_path / "new").iterdir()) == []


def test_parts_unpacked_and_packed_by_others_are_taken(ledger: SqlLedger, tmp_path: Path) -> None:
    parts = parts_of(zipped(ledger))
    assert taken(packed(dict(reversed(parts.items()))), tmp_path) is not None


class TestZips:
    def test_what_is_no_zip_is_refused(self, tmp_path: Path) -> None:
        for content in (b"", b"PK\x05\x06", b"x" * 1000):
            with pytest.raises(InputRefused, match="this is none"):
                taken(content, tmp_path)

    def test_what_is_not_there_is_said(self, tmp_path: Path) -> None:
        with pytest.raises(NotFound):
            take_whole_workshop(tmp_path / "no.zip", tmp_path / "new" / "l", make_room=lambda _: None)
        assert not (tmp_path / "new").exists()

    def test_a_part_twice_is_refused(self, ledger: SqlLedger, tmp_path: Path) -> None:
        file = io.BytesIO(zipped(ledger))
        with zipfile.ZipFile(file, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
            archive.writestr(NAMES, b"")
        with pytest.raises(InputRefused, match="names.jsonl is there twice"):
            taken(file.getvalue(), tmp_path)

    @pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
    def test_one_cut_off_is_refused(self, ledger: SqlLedger, tmp_path: Path, share: float) -> None:
        content = zipped(ledger)
        with pytest.raises(InputRefused):
            taken(content[: int(share * len(content))], tmp_path)

    def test_any_flipped_byte_is_seen_or_means_nothing(self, ledger: SqlLedger, tmp_path: Path) -> None:
        content = zipped(ledger)
        for place in range(0, len(content), len(content) // FLIPPED):
            flipped = bytearray(content)
            flipped[place] ^= 0x41
            try:
                taken(bytes(flipped), tmp_path)
            except InputRefused:
                assert list((tmp_path / "new").iterdir()) == []
                continue
            with open_ledger(tmp_path / "new" / "ledger.sqlite3") as new:
                assert everything(new) == everything(ledger)
            for path in (tmp_path / "new").iterdir():
                path.unlink()

    def test_a_locked_part_is_refused(self, ledger: SqlLedger, tmp_path: Path) -> None:
        content = bytearray(packed(parts_of(zipped(ledger))))
        place = content.rindex(b"PK\x01\x02")
        content[place + 8] |= 1  # APPNOTE.TXT 4.4.4, in the central directory
        with pytest.raises(InputRefused, match="not locked"):
            taken(bytes(content), tmp_path)

    def test_a_line_without_end_is_refused(
        self, ledger: SqlLedger, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("steelyard.store.whole_archive.LONGEST_LINE", 300)
        with pytest.raises(InputRefused) as refused:
            taken(zipped(ledger), tmp_path)
        assert refused.value.wanted == "want-whole-line"


class TestMoreThanWasCounted:
    """Rows are refused as soon as more come than were counted, and they can be stopped."""

    @pytest.fixture
    def chain_of(self, ledger: SqlLedger, tmp_path: Path) -> Iterator[Callable[[Change], WholeChain]]:
        with ExitStack() as opened:

            def of(change: Change) -> WholeChain:
                parts = parts_of(zipped(ledger))
                change(parts)
                (tmp_path / "more.zip").write_bytes(packed(parts))
                archive = opened.enter_context(opened_archive(tmp_path / "more.zip", field="zip"))
                chain = WholeChain(archive)
                list(chain.entry_rows(Steps(None, 0)))
                return chain

            yield of

    @pytest.mark.parametrize("part", [NAMES, SUBMISSIONS, FILES])
    def test_the_first_row_too_many_ends_it(
        self, chain_of: Callable[[Change], WholeChain], part: str
    ) -> None:
        name = part.removesuffix(".jsonl")
        counts = {"entries": 12, "names": 3, "submissions": 4, "files": 2, name: 1}
        chain = chain_of(says(counts=counts) if name != "files" else twice_as_many_files)
        came = []
        with pytest.raises(InputRefused) as refused:
            for row in getattr(chain, f"{name.removesuffix('s')}_rows")(Steps(None, 0)):
                came.append(row)  # noqa: PERF402 - what came before the refusal is counted
        assert refused.value.wanted == "want-whole-count"
        assert len(came) == (2 if name == "files" else 1)

    @pytest.mark.parametrize("rows", ["name_rows", "submission_rows"])
    def test_each_row_is_a_step(self, chain_of: Callable[[Change], WholeChain], rows: str) -> None:
        steps = Steps(lambda done, of: not done, 1)
        with pytest.raises(Stopped):
            list(getattr(chain_of(lambda _: None), rows)(steps))


def twice_as_many_files(parts: Parts) -> None:
    """Each file is listed twice; so many are there as were counted."""
    parts[FILES] += parts[FILES].replace(b'"digest":"', b'"digest":"0')


def test_a_line_is_no_longer_than_an_entry_can_be(ledger: SqlLedger, tmp_path: Path) -> None:
    parts = parts_of(zipped(ledger))
    parts[ENTRIES] = b"[" + b"[]," * 2_000_000 + b"[]]\n"
    with pytest.raises(InputRefused) as refused:
        taken(packed(parts), tmp_path)
    assert refused.value.wanted == "want-whole-line"


def test_a_scrap_of_one_that_was_killed_is_cleared_away(ledger: SqlLedger, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    for name in (".ledger.sqlite3-x1.part", ".ledger.sqlite3-x1.part-wal", "keep.part"):
        (tmp_path / "new" / name).write_bytes(b"x")
    taken(zipped(ledger), tmp_path)
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == ["keep.part", "ledger.sqlite3"]


MEASURE = """
import resource, sys
from pathlib import Path
from steelyard.store import open_ledger, take_whole_workshop, whole_workshop
from store.entries import STAMP, event, tool
folder, count = Path(sys.argv[1]), int(sys.argv[2])
with open_ledger(folder / "old" / "ledger.sqlite3") as ledger:
    for start in range(0, count, 1000):
        ledger.append([tool(f"t{i}", f"T-{i}") for i in range(start, min(start + 1000, count))], STAMP)
    with (folder / "workshop.zip").open("wb") as file:
        for piece in whole_workshop(ledger, program="0.1.0", is_demo=False):
            file.write(piece)
take_whole_workshop(folder / "workshop.zip", folder / "new" / "ledger.sqlite3", make_room=lambda _: None)
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
"""Prints the most memory that was held. [kB]"""


def memory_stays(folder: Path, few: int, many: int) -> None:
    """Raise where many entries take half as much again as few, out and back."""
    held = []
    for count in (few, many):
        command = [sys.executable, "-c", MEASURE, str(folder / str(count)), str(count)]
        (folder / str(count)).mkdir()
        answer = subprocess.run(
            command, capture_output=True, text=True, check=True, env={"PYTHONPATH": "src:tests"}
        )
        held.append(float(answer.stdout))
    if held[1] > 1.5 * held[0]:
        raise AssertionError(f"{held[1]:.0f} kB for {many} entries, {held[0]:.0f} kB for {few}")


def test_memory_does_not_grow_with_the_entries(tmp_path: Path) -> None:
    memory_stays(tmp_path, 1_000, 5_000)


@pytest.mark.long
def test_memory_does_not_grow_with_a_hundred_thousand_entries(tmp_path: Path) -> None:
    memory_stays(tmp_path, 1_000, 100_000)
