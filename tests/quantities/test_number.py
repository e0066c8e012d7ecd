"""Numbers are read as typed, and refused where they read two ways."""

from decimal import Decimal

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import as_typed, one_way, read_number

READ = {
    "96.1": "96.1",
    "96,1": "96.1",
    "96.10": "96.10",
    " 12 ": "12",
    ".5": "0.5",
    "0.500": "0.500",
    "0,250": "0.250",
    "12.3456": "12.3456",
    "1,0005": "1.0005",
    "1234.567": "1234.567",
    "012.345": "12.345",
    "1 000,5": "1000.5",
    "1 000,500": "1000.500",
    "1'000": "1000",
    "1\u2019234\u2019567.8": "1234567.8",
    "1\u00a0000": "1000",
    "1\u2009000.25": "1000.25",
    "12\u202f345": "12345",
    "1,234.5": "1234.5",
    "1.234,5": "1234.5",
    "1,234,567.89": "1234567.89",
    "1.000e3": "1000",
    "1e3": "1000",
    "2,5E\u22122": "0.025",
    "-5": "-5",
    "\u22125,5": "-5.5",
    "+7": "7",
    "1e-30": "1e-30",
    "0000000000000000000001": "1",
    "12345678901234567890": "12345678901234567890",
}


@pytest.mark.parametrize("text", READ)
def test_it_reads_a_number_as_typed(text: str) -> None:
    assert read_number(text, field="x") == Decimal(READ[text])


def test_it_keeps_the_digits_that_say_how_finely_it_was_read() -> None:
    assert str(read_number("96,10", field="x")) == "96.10"
    assert read_number("1e3", field="x").as_tuple().exponent == 3


@pytest.mark.parametrize(
    ("text", "as_decimal", "as_thousands"),
    [
        ("1,000", "1,00", "1000"),
        ("1.000", "1.00", "1000"),
        ("96.100", "96.10", "96100"),
        ("-9,812", "-9,8120", "-9812"),
        ("999.999", "999.9990", "999999"),
    ],
)
def test_it_refuses_what_may_be_thousands_and_names_both_readings(
    text: str, as_decimal: str, as_thousands: str
) -> None:
    with pytest.raises(InputRefused) as refused:
        read_number(text, field="x")
    assert refused.value.wanted == "want-clear-thousands"
    assert as_decimal in refused.value.sentence
    assert as_thousands in refused.value.sentence
    thousands = read_number(as_thousands, field="x")
    assert thousands == 1000 * read_number(as_decimal, field="x")


@pytest.mark.parametrize(
    "text",
    [
        "x",
        "1.2.3",
        "1,2,3",
        "1 00",
        "1 0000",
        "1 000 00",
        "1 000'000",
        "0 500",
        "1,234,567",
        "1,23.5",
        "1.000 5",
    ]
    + [
        "5.",
        "5,",
        ".",
        "-",
        "+-5",
        "- 5",
        "1e",
        "e3",
        "1e3.5",
        "١٢",
        "１２",
        "1_000",
        "0x10",
        "²",
        "1  000",
        "1\t000",
    ],
)
def test_it_refuses_what_is_no_number(text: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_number(text, field="x")
    assert refused.value.wanted == "want-number"


@pytest.mark.parametrize("text", ["nan", "NaN", "-inf", "Infinity", "∞"])
def test_it_refuses_what_has_no_end(text: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_number(text, field="x")
    assert refused.value.wanted == "want-finite-number"


@pytest.mark.parametrize("text", ["", "  ", "\n"])
def test_it_says_that_nothing_is_given(text: str) -> None:
    with pytest.raises(InputRefused, match="nothing is given"):
        read_number(text, field="x")


@pytest.mark.parametrize(
    "text", ["123456789012345678901", "1e31", "1e-31", "0.0001e31", "10e30", "1e9999", "0." + "0" * 30 + "1"]
)
def test_it_refuses_sizes_nobody_measures(text: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_number(text, field="x")
    assert refused.value.wanted == "want-plain-number"


def test_it_refuses_a_text_too_long_to_be_a_number() -> None:
    with pytest.raises(InputRefused) as refused:
        read_number("1" * 201, field="x")
    assert refused.value.wanted == "want-shorter"


@pytest.mark.parametrize(
    ("text", "mark", "made"),
    [
        ("5,015", ",", "05,015"),
        ("-5,015 N·m ± 1,250 N·m", ",", "-05,015 N·m ± 01,250 N·m"),
        ("12,5", ",", "12,5"),
        ("1.234,567", ",", "1.234,567"),
        ("1 250,500", ",", "1 250,500"),
        ("1,250,500", ",", "1,250,500"),
        ("1250,500", ",", "1250,500"),
        ("0,125", ",", "0,125"),
        ("5,015", ".", "5,015"),
        ("5.015", ".", "05.015"),
        ("5,015", None, "5,015"),
        ("1,250e3", ",", "1,250e3"),
    ],
)
def test_a_number_that_reads_two_ways_is_made_to_read_one_way_by_a_mark(
    text: str, mark: str | None, made: str
) -> None:
    assert one_way(text, mark) == made
    assert as_typed(made) == text
