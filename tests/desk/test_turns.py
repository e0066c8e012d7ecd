"""How far an adjuster was turned, as people write it."""

import pytest

from steelyard.desk.turn_words import turn_code
from steelyard.desk.turns import degrees, read_turns, said_turns
from steelyard.errors import InputRefused


@pytest.mark.parametrize(
    ("text", "turns"),
    [
        ("1/4", 0.25),
        ("1 1/2", 1.5),
        ("½", 0.5),
        ("1½ turns", 1.5),
        ("0.25", 0.25),
        ("0,25", 0.25),
        ("90°", 0.25),
        ("45 deg", 0.125),
        ("2", 2.0),
        ("quarter", None),
        ("1/0", None),
        ("0", None),
        ("-1/4", None),
        ("51", None),
        ("1/4 1/4", None),
        ("", None),
    ],
)
def test_turns_are_read_as_written(text: str, turns: float | None) -> None:
    if turns is not None:
        assert read_turns(text, field="turns") == turns
        return
    with pytest.raises(InputRefused) as refused:
        read_turns(text, field="turns")
    assert refused.value.field == "turns"


@pytest.mark.parametrize(
    ("turns", "said"), [(0.625, "5/8"), (1.25, "1 1/4"), (2.0, "2"), (1 / 24, "1/24"), (0.0, "0")]
)
def test_turns_are_said_in_fractions(turns: float, said: str) -> None:
    assert said_turns(turns) == said


def test_a_turn_is_said_in_degrees_too() -> None:
    assert degrees(-0.625) == 225


@pytest.mark.parametrize(
    ("turns", "code"),
    [
        (5 / 8, "adjust-now-in"),
        (5 / 12, "adjust-now-in"),
        (11 / 24, "adjust-now-in-degrees"),
        (1.25, "adjust-now-in-whole"),
        (1 + 1 / 24, "adjust-now-in-whole-degrees"),
        (1.0, "adjust-now-in-one"),
    ],
)
def test_a_turn_that_is_no_eighth_and_no_twelfth_is_said_in_degrees_first(turns: float, code: str) -> None:
    assert turn_code("in", turns) == code
