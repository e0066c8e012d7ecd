"""Published limits for torque tools: what each document gives each kind of tool."""

from dataclasses import FrozenInstanceError
from decimal import Decimal

import pytest

from steelyard.errors import InputRefused
from steelyard.published import TOOL_KINDS, published_limit, published_limit_codes
from steelyard.published.torque_limits import LIMITS
from steelyard.words import CATALOGUE

ISO = "iso-6789-1-2017"
# ISO 6789-1:2017, 5.1.5, from memory (medium): kinds with ±6 % up to 10 N·m and ±4 % above, and with ±6 %
ISO_SIX_FOUR = (
    "click-adjustable",
    "click-preset",
    "click-no-scale",
    "split-beam",
    "break-over",
    "slipper-wrench",
    "dial",
    "electronic",
    "driver-electronic",
)
ISO_SIX = ("slipper-driver", "driver-adjustable", "driver-preset", "driver-dial", "beam")


@pytest.mark.parametrize("kind", ISO_SIX_FOUR)
def test_iso_gives_six_percent_to_small_tools_and_four_above(kind: str) -> None:
    limit = published_limit(ISO, tool_kind=kind)
    numbers = (limit.percent, limit.small_percent, limit.small_up_to_newton_metre)
    assert numbers == (Decimal(4), Decimal(6), Decimal(10))
    assert (limit.split_by, limit.of, limit.convention) == ("tool-maximum", "reading", "iso")
    assert (limit.clause_or_memory, limit.seen) == ("memory", False)


@pytest.mark.parametrize("kind", ISO_SIX)
def test_iso_gives_six_percent_to_drivers_and_beams(kind: str) -> None:
    limit = published_limit(ISO, tool_kind=kind)
    numbers = (limit.percent, limit.small_percent, limit.small_up_to_newton_metre)
    assert numbers == (Decimal(6), None, None)
    assert (limit.convention, limit.clause_or_memory, limit.seen) == ("iso", "memory", False)


def test_iso_covers_every_kind() -> None:
    assert sorted((*ISO_SIX_FOUR, *ISO_SIX)) == sorted(TOOL_KINDS)


def test_asme_style_gives_more_against_the_direction_of_use() -> None:
    # SAE AS28431A: (applied − preset)/preset, ±4 % and ±6 %; from 20 %: TM 1-1500-204-23-9, table 8-1.
    limit = published_limit("asme-style", tool_kind="click-adjustable")
    numbers = (limit.percent, limit.other_direction_percent, limit.from_percent_of_maximum)
    assert numbers == (Decimal(4), Decimal(6), Decimal(20))
    assert (limit.convention, limit.of, limit.seen) == ("applied", "reading", True)


def test_as_4115_is_a_share_of_the_test_equipment_value() -> None:
    limit = published_limit("as-4115", tool_kind="dial")
    assert (limit.percent, limit.convention, limit.of) == (Decimal(4), "iso", "reading")


def test_common_practice_names_no_document() -> None:
    limit = published_limit("common-practice", tool_kind="beam")
    assert (limit.percent, limit.from_percent_of_maximum) == (Decimal(4), Decimal(20))
    assert limit.convention == "applied"
    assert "no document" in limit.document


@pytest.mark.parametrize("code", ["asme-style", "as-4115", "common-practice"])
def test_it_refuses_a_kind_the_document_does_not_cover(code: str) -> None:
    with pytest.raises(InputRefused, match="a kind of tool that .* covers: click-adjustable"):
        published_limit(code, tool_kind="driver-adjustable")


def test_it_refuses_an_unknown_code_and_lists_the_known_ones() -> None:
    with pytest.raises(InputRefused, match=f"limit: “din-1”.*one of {ISO}, asme-style, as-4115, common-"):
        published_limit("din-1", tool_kind="dial")


def test_it_refuses_an_unknown_kind() -> None:
    with pytest.raises(InputRefused, match="tool, kind: “hammer”"):
        published_limit(ISO, tool_kind="hammer")


def test_codes_stand_once_in_the_order_of_the_table() -> None:
    assert published_limit_codes() == (ISO, "asme-style", "as-4115", "common-practice")


def test_no_document_gives_one_kind_two_limits() -> None:
    rows = [(limit.code, kind) for limit in LIMITS for kind in limit.tool_kinds]
    assert len(rows) == len(set(rows))
    assert {kind for _, kind in rows} == set(TOOL_KINDS)


def test_percentages_are_exact_decimals_and_frozen() -> None:
    for limit in LIMITS:
        numbers = (
            limit.percent,
            limit.small_percent,
            limit.small_up_to_newton_metre,
            limit.other_direction_percent,
            limit.from_percent_of_maximum,
        )
        assert all(number is None or isinstance(number, Decimal) for number in numbers)
        assert (limit.small_percent is None) == (limit.small_up_to_newton_metre is None)
        assert f"limit-caution-{limit.code}" in CATALOGUE
    with pytest.raises(FrozenInstanceError):
        LIMITS[0].percent = Decimal(9)  # type: ignore[misc]
