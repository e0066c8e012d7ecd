"""Figures of common practice for checking hand torque tools, each with where it was read."""

from dataclasses import dataclass

from steelyard.published.source import Source


@dataclass(frozen=True, slots=True)
class Custom:
    """What is usual, as a range; `least` and `most` are equal where one figure is usual.

    unit: symbol of both, `1` for a count.
    """

    least: float
    most: float
    unit: str
    source: Source


OLD_PROCEDURE = Source("ISO 6789", "2003", "as told in a maker's tester manual of 2011, chapter 1", seen=True)
ROOM = Source("ASME B107.300 and ISO 6789", "2021 and 2003", "6.3, as quoted in extracts of both", seen=True)

LOAD_TIME = Custom(0.5, 4, "s", OLD_PROCEDURE)
"""From 80 % of the torque to the click or the reading; the edition of 2017 makes it depend on the torque."""

ROOM_TEMPERATURE = Custom(18, 28, "°C", ROOM)
"""Of the room during a check."""

ROOM_CHANGE = Custom(0, 1, "°C", ROOM)
"""How far the room may wander during a check, to either side."""

EXERCISE_SETTING = Custom(5, 5, "1", OLD_PROCEDURE)
"""Pulls at the maximum before the first reading of a setting tool, in each direction used."""

EXERCISE_INDICATING = Custom(1, 1, "1", Source("ISO 6789", "2003", "as told in a web summary", seen=True))
"""The same for an indicating tool."""

PAUSE = Custom(0, 60, "min", Source.memory("our own choice, no document"))
"""After a longer pause the tool is exercised again."""

HAND_LIFT = Custom(0, 25, "kg", Source.memory("HSE INDG143, manual handling: men, close to the body"))
"""Above this a longer arm, a hoist or a transducer is suggested; 16 kg stands there for women."""

FOUR_TIMES = Source("ASME B107.300 and ISO 6789-2", "2021 and 2017", "6.3; as told in magazines", seen=True)
REFERENCE_SHARE = Custom(0, 25, "%", FOUR_TIMES)
"""Of the tool's limit that the uncertainty of the reference may take: the reference is four times better."""
