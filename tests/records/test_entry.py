"""An entry's bytes are those of RFC 8785, and whatever was done to a chain is named with its place."""

import hashlib
import json
from collections.abc import Callable, Iterator

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from steelyard.records import (
    BEFORE_THE_FIRST,
    Draft,
    Entry,
    Stamp,
    chain_breaks,
    digest_of,
    read_entry,
    write_entry,
)

STAMP = Stamp("2026-11-25T13:54:28.123Z", 60, "p1", "bench tablet")
Row = tuple[int, str, str]


def payload_written(payload: object) -> str:
    """A payload as it stands in the body of an entry."""
    body = write_entry(Draft("pull-read", "check:c1", {"x": payload}), 1, STAMP, BEFORE_THE_FIRST).body
    _, _, behind = body.partition('"payload":{"x":')
    written, _, _ = behind.partition('},"subject":')
    return written


def chain(count: int = 4) -> list[Row]:
    """Rows of entries that hold."""
    return [(entry.number, entry.body, entry.digest) for entry in entries(count)]


def entries(count: int) -> Iterator[Entry]:
    before = BEFORE_THE_FIRST
    for number in range(1, count + 1):
        draft = Draft("pull-read", "check:c1", {"pull": {"reading": f"60.{number} N·m"}})
        entry = write_entry(draft, number, STAMP, before)
        yield entry
        before = entry.digest


def found(rows: list[Row]) -> list[tuple[str, dict[str, object]]]:
    return [(finding.code, dict(finding.facts)) for finding in chain_breaks(rows)]


class TestTheBody:
    def test_it_is_written_as_the_example_of_rfc_8785(self) -> None:
        """Source: RFC 8785, sections 3.2.2 to 3.2.4: the example in all its parts."""
        example = {
            "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
            "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
            "literals": [None, True, False],
        }
        assert payload_written(example) == (
            '{"literals":[null,true,false],'
            '"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
            '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
        )

    def test_names_are_sorted_by_their_utf_16_units(self) -> None:
        """Source: RFC 8785, section 3.2.3: the example of sorting."""
        named = {
            "\u20ac": "Euro Sign",
            "\r": "Carriage Return",
            "\ufb33": "Hebrew Letter Dalet With Dagesh",
            "1": "One",
            "\U0001f600": "Emoji: Grinning Face",
            "\u0080": "Control",
            "\u00f6": "Latin Small Letter O With Diaeresis",
        }
        assert list(json.loads(payload_written(named)).values()) == [
            "Carriage Return",
            "One",
            "Control",
            "Latin Small Letter O With Diaeresis",
            "Euro Sign",
            "Emoji: Grinning Face",
            "Hebrew Letter Dalet With Dagesh",
        ]

    @pytest.mark.parametrize(
        ("number", "written"),
        [
            (0.0, "0"),
            (-0.0, "0"),
            (5e-324, "5e-324"),
            (1.7976931348623157e308, "1.7976931348623157e+308"),
            (9007199254740992.0, "9007199254740992"),
            (295147905179352830000.0, "295147905179352830000"),
            (9.999999999999997e22, "9.999999999999997e+22"),
            (1e23, "1e+23"),
            (333333333.3333332, "333333333.3333332"),
            (-0.0000033333333333333333, "-0.0000033333333333333333"),
            (1424953923781206.2, "1424953923781206.2"),
        ],
    )
    def test_numbers_are_written_the_shortest_way(self, number: float, written: str) -> None:
        """Source: RFC 8785, appendix B: sample numbers."""
        assert payload_written(number) == written

    @pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
    def test_it_refuses_what_json_has_no_number_for(self, number: float) -> None:
        """Source: RFC 8785, section 3.2.2.3."""
        with pytest.raises(ValueError, match="not representable"):
            payload_written(number)

    def test_everything_read_back_is_what_was_written(self) -> None:
        draft = Draft("pull-read", "check:c1", {"pull": {"reading": "60.1 N·m"}, "struck_out": None})
        entry = write_entry(draft, 7, STAMP, "ab" * 32)
        assert read_entry(entry.body) == entry
        assert (entry.number, entry.kind, entry.subject, entry.version) == (7, "pull-read", "check:c1", 1)
        assert (entry.at, entry.offset_minutes, entry.who, entry.device) == (
            "2026-11-25T13:54:28.123Z",
            60,
            "p1",
            "bench tablet",
        )
        assert entry.payload == draft.payload
        assert entry.before == "ab" * 32

    def test_the_payload_of_a_draft_is_not_kept_by_reference(self) -> None:
        payload = {"pull": {"reading": "60.1 N·m"}}
        entry = write_entry(Draft("pull-read", "check:c1", payload), 1, STAMP, BEFORE_THE_FIRST)
        payload["pull"]["reading"] = "61.1 N·m"
        assert entry.payload == {"pull": {"reading": "60.1 N·m"}}

    @pytest.mark.parametrize("body", ["", "{", "[]", "7", "null", "{}", '{"number": 4}', "[" * 100_000])
    def test_what_is_no_entry_is_refused(self, body: str) -> None:
        with pytest.raises((ValueError, LookupError, TypeError, RecursionError)):
            read_entry(body)


class TestTheDigest:
    def test_it_is_sha_256(self) -> None:
        """Source: FIPS 180-4, example of one block, "abc"."""
        assert digest_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

    def test_it_is_taken_of_the_body_in_utf_8(self) -> None:
        (entry,) = entries(1)
        assert "N·m" in entry.body
        assert entry.digest == hashlib.sha256(entry.body.encode("utf-8")).hexdigest()

    def test_it_changes_with_everything_an_entry_says(self) -> None:
        draft = Draft("pull-read", "check:c1", {"x": 1})
        others = [
            write_entry(Draft("pull-taken-back", "check:c1", {"x": 1}), 1, STAMP, BEFORE_THE_FIRST),
            write_entry(Draft("pull-read", "check:c2", {"x": 1}), 1, STAMP, BEFORE_THE_FIRST),
            write_entry(Draft("pull-read", "check:c1", {"x": 2}), 1, STAMP, BEFORE_THE_FIRST),
            write_entry(draft, 2, STAMP, BEFORE_THE_FIRST),
            write_entry(draft, 1, STAMP, "1" * 64),
            *(
                write_entry(draft, 1, stamp, BEFORE_THE_FIRST)
                for stamp in (
                    Stamp("2026-11-25T13:54:28.124Z", 60, "p1", "bench tablet"),
                    Stamp(STAMP.at, 0, "p1", "bench tablet"),
                    Stamp(STAMP.at, 60, "p2", "bench tablet"),
                    Stamp(STAMP.at, 60, "p1", "phone"),
                )
            ),
        ]
        first = write_entry(draft, 1, STAMP, BEFORE_THE_FIRST)
        assert len({entry.digest for entry in (first, *others)}) == 1 + len(others)


class TestTheChain:
    @pytest.mark.parametrize("count", [0, 1, 4])
    def test_nothing_is_found_where_it_holds(self, count: int) -> None:
        assert found(chain(count)) == []

    def test_a_body_changed(self) -> None:
        rows = chain()
        rows[1] = (2, rows[1][1].replace("60.2", "66.2"), rows[1][2])
        assert found(rows) == [("chain-changed", {"number": 2})]

    def test_a_body_changed_with_its_digest_no_longer_fits_the_next(self) -> None:
        rows = chain()
        body = rows[1][1].replace("60.2", "66.2")
        rows[1] = (2, body, digest_of(body))
        assert found(rows) == [("chain-joint", {"number": 3})]

    def test_a_digest_changed(self) -> None:
        rows = chain()
        rows[1] = (2, rows[1][1], "0" * 64)
        assert found(rows) == [("chain-changed", {"number": 2}), ("chain-joint", {"number": 3})]

    def test_an_entry_removed_is_one_gap(self) -> None:
        rows = chain()
        del rows[1]
        assert found(rows) == [("chain-gap", {"number": 2, "found": 3})]

    def test_the_first_removed(self) -> None:
        assert found(chain()[1:]) == [("chain-gap", {"number": 1, "found": 2})]

    def test_an_entry_moved_to_another_number(self) -> None:
        rows = chain()
        rows[3] = (9, *rows[3][1:])
        assert found(rows) == [("chain-gap", {"number": 4, "found": 9}), ("chain-changed", {"number": 9})]

    def test_a_first_entry_that_names_one_before(self) -> None:
        entry = write_entry(Draft("pull-read", "check:c1", {}), 1, STAMP, "1" * 64)
        assert found([(1, entry.body, entry.digest)]) == [("chain-joint", {"number": 1})]

    @pytest.mark.parametrize("body", ["", "{", "[]", "7", "{}", '{"number": 2}', "[" * 100_000])
    def test_a_body_that_is_none_though_its_digest_fits(self, body: str) -> None:
        rows = chain()
        rows[1] = (2, body, digest_of(body))
        assert found(rows) == [("chain-changed", {"number": 2}), ("chain-joint", {"number": 3})]

    @pytest.mark.parametrize("changed", [lambda body: body + " ", lambda body: "\ufffd" + body[1:]])
    def test_a_body_of_other_bytes_is_changed_whatever_it_says(self, changed: Callable[[str], str]) -> None:
        rows = chain()
        rows[0] = (1, changed(rows[0][1]), rows[0][2])
        assert found(rows) == [("chain-changed", {"number": 1})]


PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=8,
)


@given(PLAIN | st.floats(-(2**53) + 1, 2**53 - 1))
def test_whatever_is_in_it_its_bytes_are_those_of_an_encoder_of_rfc_8785(value: object) -> None:
    draft = Draft("pull-read", "check:c1", {"x": value})
    body = write_entry(draft, 1, STAMP, BEFORE_THE_FIRST).body
    assert body.encode() == rfc8785.dumps(json.loads(body))


@pytest.mark.parametrize("value", [2**53, -(2**53), "\ud800", float("nan")])
def test_what_rfc_8785_cannot_hold_is_never_written(value: object) -> None:
    with pytest.raises(ValueError):
        write_entry(Draft("pull-read", "check:c1", {"x": value}), 1, STAMP, BEFORE_THE_FIRST)
