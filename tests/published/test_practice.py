"""Figures of common practice and where each was read."""

import pytest

from steelyard.published import (
    EXERCISE_INDICATING,
    EXERCISE_SETTING,
    HAND_LIFT,
    LOAD_TIME,
    PAUSE,
    REFERENCE_SHARE,
    ROOM_CHANGE,
    ROOM_TEMPERATURE,
    Custom,
)

READ = [  # figure, least, most, unit
    (LOAD_TIME, 0.5, 4, "s"),  # ISO 6789:2003, as told in a tester manual of 2011
    (ROOM_TEMPERATURE, 18, 28, "°C"),  # ASME B107.300-2021, 6.3, as quoted in an extract
    (ROOM_CHANGE, 0, 1, "°C"),  # the same
    (EXERCISE_SETTING, 5, 5, "1"),  # ISO 6789:2003, as told in a tester manual of 2011
    (EXERCISE_INDICATING, 1, 1, "1"),  # ISO 6789:2003, as told in a web summary
    (REFERENCE_SHARE, 0, 25, "%"),  # ASME B107.300-2021, 6.3; ISO 6789-2:2017: four times better
]
RECALLED = [
    (PAUSE, 0, 60, "min"),  # our own choice
    (HAND_LIFT, 0, 25, "kg"),  # HSE INDG143, from memory
]


@pytest.mark.parametrize(("custom", "least", "most", "unit"), [*READ, *RECALLED])
def test_the_figure(custom: Custom, least: float, most: float, unit: str) -> None:
    assert (custom.least, custom.most, custom.unit) == (least, most, unit)


def test_what_was_not_read_says_memory() -> None:
    assert all(custom.source.seen for custom, *_ in READ)
    assert all((custom.source.clause, custom.source.seen) == ("memory", False) for custom, *_ in RECALLED)
