"""A line beside a pull is read as it was meant, or refused in one sentence."""

from decimal import Decimal
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, Unit, read_quantity
from steelyard.readings.wedge import WedgeReading, read_wedge_line

TORQUE = UNITS[Dimension.TORQUE]
NEWTON_METRE = TORQUE["N·m"]


def read(text: str, direction: str = "cw", mark: Literal[".", ","] | None = None) -> WedgeReading:
    """The line on a bench in N·m."""
    return read_wedge_line(text, unit=NEWTON_METRE, direction=direction, field="pull 3", decimal_mark=mark)


def refused(text: str, direction: str = "cw", mark: Literal[".", ","] | None = None) -> InputRefused:
    """How the line is refused."""
    with pytest.raises(InputRefused) as caught:
        read(text, direction, mark)
    assert caught.value.field == "pull 3"
    return caught.value


READ = {
    "96.1": ("96.1", "N·m", "96.1 N·m"),
    "96,1": ("96.1", "N·m", "96,1 N·m"),
    "96": ("96", "N·m", "96 N·m"),
    ".5": ("0.5", "N·m", ".5 N·m"),
    "+096.1 Nm": ("96.1", "N·m", "+096.1 Nm"),
    "00096.10": ("96.10", "N·m", "00096.10 N·m"),
    "096,100": ("96.100", "N·m", "096,100 N·m"),
    "96.1Nm": ("96.1", "N·m", "96.1 Nm"),
    "96.1\u00a0N·m": ("96.1", "N·m", "96.1 N·m"),
    "  71.2 ft-lb ": ("71.2", "lbf·ft", "71.2 ft-lb"),
    "854 in lb": ("854", "lbf·in", "854 in lb"),
    "1,234.5": ("1234.5", "N·m", "1,234.5 N·m"),
}


@pytest.mark.parametrize("text", READ)
@pytest.mark.parametrize("end", ["", "\r", "\r\n", "\t"])
def test_it_reads_a_line_as_it_was_sent(text: str, end: str) -> None:
    number, symbol, form_text = READ[text]
    reading = read(text + end)
    assert reading.typed == text
    assert str(reading.quantity.number) == number
    assert reading.quantity.unit.symbol == symbol
    assert reading.form_text == form_text


@pytest.mark.parametrize(("text", "is_given"), [("96.1", False), ("96.1 Nm", True), ("96.1ft-lb", True)])
def test_it_says_whether_the_unit_stood_on_the_line(text: str, is_given: bool) -> None:
    assert read(text).is_unit_given is is_given


def test_a_number_without_a_unit_is_in_the_unit_beside_the_field() -> None:
    reading = read_wedge_line("71.2", unit=TORQUE["lbf·ft"], direction="cw", field="x")
    assert reading.form_text == "71.2 lbf·ft"
    assert reading.quantity.unit is TORQUE["lbf·ft"]


@pytest.mark.parametrize("text", ["-96.1", "\u221296.1", "-096.1 Nm", "96.1", "+96.1"])
def test_counter_clockwise_takes_either_sign_and_keeps_it(text: str) -> None:
    reading = read(text, "ccw")
    assert abs(reading.quantity.number) == Decimal("96.1")
    assert (reading.quantity.number < 0) is (text[0] in "-\u2212")


@pytest.mark.parametrize("text", ["-96.1", "\u221296.1 Nm", "-0.1"])
def test_a_minus_on_a_clockwise_pull_is_refused_with_the_reason(text: str) -> None:
    assert refused(text).wanted == "want-clockwise"
    assert "counter-clockwise" in refused(text).sentence
    assert text in refused(text).sentence


@pytest.mark.parametrize("text", ["0", "0.0", "-0.0", "000 Nm", "+0,00"])
@pytest.mark.parametrize("direction", ["cw", "ccw"])
def test_zero_is_no_pull(text: str, direction: str) -> None:
    assert refused(text, direction).wanted == "want-positive"


@pytest.mark.parametrize(
    "text",
    ["T:96.1", "S1 96.1", "#96.1", "ST,96.1", "--96.1", "- 96.1", "nan", "N·m", "96.1 97.0", "98 100"]
    + ["96.1\r97.0", "\x0296.1", "96.1\x03", "1\t000", "x", "٩٦"],
)
def test_anything_else_on_the_line_is_refused(text: str) -> None:
    assert refused(text).wanted == "want-bench-reading"
    assert "96.1 N·m" in refused(text).sentence


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("96.1 kg", "want-known-unit"),
        ("96.1 nm", "want-newton-metre"),
        ("96.1-", "want-known-unit"),
        ("96.1/2", "want-known-unit"),
        ("96.1.2", "want-number"),
        ("1" * 101, "want-shorter"),
    ],
)
def test_a_line_that_is_nearly_right_is_refused_for_its_own_reason(text: str, wanted: str) -> None:
    assert refused(text).wanted == wanted


@pytest.mark.parametrize("text", ["", "  ", "\r\n"])
def test_an_empty_line_is_nothing_given(text: str) -> None:
    assert "nothing is given" in refused(text).sentence


@pytest.mark.parametrize(("text", "mark"), [("96.100", "."), ("96,100", ","), ("-96.100 Nm", ".")])
def test_the_workshops_decimal_mark_settles_three_digits_behind_it(
    text: str, mark: Literal[".", ","]
) -> None:
    reading = read(text, "ccw", mark)
    assert str(abs(reading.quantity.number)) == "96.100"
    assert reading.typed == text


@pytest.mark.parametrize(("text", "mark"), [("96.100", ","), ("96,100", "."), ("96.100", None)])
def test_three_digits_behind_another_mark_read_two_ways(text: str, mark: Literal[".", ","] | None) -> None:
    assert refused(text, mark=mark).wanted == "want-clear-thousands"


NUMBERS = st.decimals(Decimal("0.0001"), 99999, allow_nan=False, places=4).filter(bool)
SPELLINGS = st.sampled_from(["", "Nm", " N·m", " ft-lb", "in-lb", " kgf·cm", "cNm"])


@given(
    number=NUMBERS,
    places=st.integers(0, 4),
    zeros=st.integers(0, 3),
    mark=st.sampled_from(".,"),
    sign=st.sampled_from(["", "+", "-"]),
    spelling=SPELLINGS,
    unit=st.sampled_from(list(TORQUE.values())),
)
def test_what_is_written_into_the_form_is_read_there_as_the_same(
    number: Decimal, places: int, zeros: int, mark: Literal[".", ","], sign: str, spelling: str, unit: Unit
) -> None:
    digits = f"{number:.{places}f}"
    text = f"{sign}{'0' * zeros}{digits.replace('.', mark)}{spelling}"
    if Decimal(digits) == 0:
        return
    reading = read_wedge_line(text + "\r", unit=unit, direction="ccw", field="x", decimal_mark=mark)
    again = read_quantity(reading.form_text, Dimension.TORQUE, field="x")
    assert str(again.number) == str(reading.quantity.number)
    assert reading.quantity.number == Decimal(sign + digits)
    assert again.unit is reading.quantity.unit
    assert reading.typed == text


@given(
    text=st.text(alphabet=st.sampled_from("0123456789.,+-−eE NmftlbKkg·\r\n\t\u00a0'x٣½"), max_size=30),
    direction=st.sampled_from(["cw", "ccw"]),
    mark=st.sampled_from([".", ",", None]),
)
def test_no_line_surprises(text: str, direction: str, mark: Literal[".", ","] | None) -> None:
    try:
        reading = read(text, direction, mark)
    except InputRefused as caught:
        assert caught.sentence
        return
    assert reading.quantity.number != 0
    assert reading.form_text.isprintable()
    assert direction == "ccw" or reading.quantity.number > 0
