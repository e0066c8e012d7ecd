"""What the story of the demo workshop is made of: moments, deeds, checks with their pulls."""

from collections.abc import Mapping
from dataclasses import dataclass

Texts = Mapping[str, str]
"""What was typed into the fields of a page."""


@dataclass(frozen=True)
class Before:
    """A moment before the story is told: some days back at an hour, or minutes back.

    days: ≥ 1 with an hour such as `09:40`; 0 with minutes. [d], [min]
    """

    days: int = 0
    hour: str = ""
    minutes: int = 0


@dataclass(frozen=True)
class Told:
    """One thing that was done. who: in their own words, as people call them."""

    when: Before
    who: str


@dataclass(frozen=True, kw_only=True)
class RigComes(Told):
    """A rig is added. days: fields with a day in them, counted from the day the story is told. [d]"""

    sort: str
    typed: Texts
    days: Mapping[str, int]


@dataclass(frozen=True, kw_only=True)
class ToolComes(Told):
    """A tool is added."""

    typed: Texts


@dataclass(frozen=True, kw_only=True)
class Happens(Told):
    """Something happens to a tool. tool: its number. what: as the rack calls it."""

    tool: str
    what: str
    note: str


@dataclass(frozen=True, kw_only=True)
class Retires(Told):
    """A tool leaves the rack for good."""

    tool: str
    why: str


@dataclass(frozen=True, kw_only=True)
class Corrects(Told):
    """The last record of a tool is followed by a correction."""

    tool: str
    wrong: str
    right: str


@dataclass(frozen=True)
class Pull:
    """One pull as typed; struck_out: why it does not count, empty where it does."""

    typed: Texts
    struck_out: str = ""


Points = tuple[tuple[Pull, ...], ...]


@dataclass(frozen=True)
class Closing:
    """How a check ends.

    due_in_days: counted from the day the story is told, negative before it; None takes what is offered. [d]
    waived: why nothing was adjusted, empty where nobody asked.
    """

    due_in_days: int | None = None
    note: str = ""
    waived: str = ""


@dataclass(frozen=True, kw_only=True)
class Checks(Told):
    """A tool is checked on a rig, pull by pull.

    tool: its number. rig: its name. plan, set_up: as their pages ask for them. found, left: pulls of each
    point. turns: of the adjuster. closing: None where the check is still in hand.
    """

    tool: str
    rig: str
    why: str
    title: str
    plan: Texts
    set_up: Texts
    found: Points
    exercised: int = 5
    turns: tuple[Texts, ...] = ()
    left: Points = ()
    closing: Closing | None = Closing()


@dataclass(frozen=True, kw_only=True)
class Adjusts(Told):
    """A tool is checked by yes/no with weights, and adjusted with guidance until it is good.

    most_trials, most_between: of a point as found and as left, and between two turns. off, gain, lock,
    scatter: of `HiddenTool`.
    """

    tool: str
    rig: str
    why: str
    title: str
    plan: Texts
    set_up: Texts
    off_newton_metre: float
    gain_newton_metre: float
    lock_newton_metre: float
    scatter_percent: float
    most_trials: int
    most_between: int
    lock_note: str
    exercised: int = 5
    closing: Closing = Closing()


Deed = RigComes | ToolComes | Happens | Retires | Corrects | Checks | Adjusts


def readings(*points: str) -> Points:
    """Readings of a display, one text for each point; one behind a `/` is struck out: the hand slipped."""
    return tuple(tuple(map(_reading, point.split())) for point in points)


def _reading(text: str) -> Pull:
    return Pull({"line": text.removeprefix("/")}, "the hand slipped" if text.startswith("/") else "")


def poured(weighed: str, *, scale: str) -> tuple[Pull, ...]:
    """Water poured until the click, then weighed. weighed: numbers. [kg]"""
    return tuple(Pull({"bucket": f"{kilogram} kg on {scale}"}) for kilogram in weighed.split())


def added(*clicks: int, ladder: tuple[str, ...]) -> tuple[Pull, ...]:
    """Masses added until the click. clicks: the first rung of the ladder with one, from 1."""
    return tuple(Pull({"no_click": ladder[click - 1], "click": ladder[click]}) for click in clicks)
