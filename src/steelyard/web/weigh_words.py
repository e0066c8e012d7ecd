"""Weighings in words: the ways, what they are worth, what one gave, how a rig was weighed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk import Body, Person, day_there, standing_weighing
from steelyard.desk.typed_table import as_shown
from steelyard.desk.weighing import (
    PLACEMENTS,
    WEIGH_FIELDS,
    CheckedScale,
    WeighedMass,
    Weighing,
    Worth,
    WorthAsked,
)
from steelyard.telling import marked, marked_as_kept, marked_text
from steelyard.words import say


@dataclass(frozen=True)
class WayWords:
    """One way to choose. leaves: the ± it leaves, or that it does not reach."""

    way: str
    word: str
    what: str
    leaves: str
    is_best: bool


@dataclass(frozen=True)
class GivenWords:
    """What a weighing gave. number, beside: of each mass, its name first; lines: sentences; doubts: severity,
    sentence."""

    numbers: tuple[tuple[str, str, str], ...]
    lines: tuple[str, ...]
    doubts: tuple[tuple[str, str], ...]


def ways(asked: WorthAsked, load: str, mark: str) -> list[WayWords]:
    """The ways with what each leaves of a load, as it was typed."""
    best = asked.best
    return [
        WayWords(
            worth.way,
            say(f"weigh-{worth.way}"),
            say(f"weigh-{worth.way}-what"),
            _leaves(worth, load, mark),
            worth is best,
        )
        for worth in asked.ways
    ]


def _leaves(worth: Worth, load: str, mark: str) -> str:
    if not worth.said:
        return say("weigh-leaves-nothing")
    return say("weigh-leaves", within=marked_text(worth.said, mark), load=load)


def given(weighing: Weighing, better: Worth | None, mark: str) -> GivenWords:
    """What a weighing gave, the main thing first."""
    if weighing.checked is not None:
        numbers, lines = _checked(weighing.checked, mark)
    else:
        numbers = tuple(_number(mass, mark) for mass in weighing.masses)
        lines = _masses(weighing, better, mark)
    doubts = tuple(
        (found.severity.value, marked_text(say(found.code, **found.facts), mark)) for found in weighing.doubts
    )
    return GivenWords(numbers, lines, doubts)


def _number(mass: WeighedMass, mark: str) -> tuple[str, str, str]:
    number, sign, within = marked_text(mass.said, mark).partition(" ±")
    return mass.name, number, f"{sign}{within}".strip()


def _masses(weighing: Weighing, better: Worth | None, mark: str) -> tuple[str, ...]:
    lines = []
    if len(weighing.masses) == 1:
        (mass,) = weighing.masses
        stands = marked_as_kept(mass.stands, mark)
        within = _number(mass, mark)[2].removeprefix("±").strip()
        lines.append(say("weigh-within", within=within, percent=marked(mass.percent, mark)))
        lines.append(say("weigh-stands", stands=stands))
    if weighing.spread_kilogram is not None:
        lines.append(say("weigh-spread", spread=marked(weighing.spread_kilogram, mark)))
    if weighing.way == "combinations":
        lines.append(say("weigh-spare", spare=weighing.spare) if weighing.spare else say("weigh-no-spare"))
    lines.append(_helps(better, mark))
    return tuple(lines)


def _helps(better: Worth | None, mark: str) -> str:
    if better is None:
        return say("weigh-helps-none")
    way = say(f"weigh-{better.way}")
    return say("weigh-helps", way=way[:1].lower() + way[1:], within=marked_text(better.said, mark))


def _checked(checked: CheckedScale, mark: str) -> tuple[tuple[tuple[str, str, str], ...], tuple[str, ...]]:
    gain = marked_text(checked.said, mark)
    number, sign, within = gain.partition(" ±")
    first = say(f"weigh-gain-{checked.side}", gain=gain)
    after = marked_text(checked.said_after, mark)
    if checked.said_before:
        knows = say("weigh-knew", before=marked_text(checked.said_before, mark), after=after)
    else:
        knows = say("weigh-knows-now", after=after)
    return (("", number, f"{sign}{within}".strip()),), (first, knows)


def weighed(body: Body, people: tuple[Person, ...], mark: str) -> list[tuple[str, str]]:
    """How what stands of a rig was weighed: label and value of each; empty where it was typed."""
    weighing = standing_weighing(body)
    if weighing is None:
        return []
    who = next((p.name for p in people if p.key == weighing["who"] and p.name), "")
    rows = [
        (say("weighed-way"), say(f"weigh-{weighing['way']}")),
        (say("weighed-day"), day_there(weighing["at"], weighing["offset_minutes"])),
        (say("weighed-who"), who),
        (say("weighed-on"), weighing["scale_name"] if body["sort"] == "mass" else ""),
        *_read(weighing),
        (say("weighed-gave"), marked_as_kept(weighing["stands"], mark)),
    ]
    return [(label, value) for label, value in rows if value]


def _read(weighing: Mapping[str, Any]) -> list[tuple[str, str]]:
    """What was read off the scale, as it was typed."""
    typed = weighing["typed"]
    return [(label(name), as_shown(typed[name])) for name in WEIGH_FIELDS[weighing["way"]] if name in typed]


def kept(text: str, mark: str) -> str:
    """A kept text as a person reads it."""
    return marked_as_kept(text, mark)


def label(name: str) -> str:
    """What a field of a weighing is called."""
    if name in PLACEMENTS:
        return say("weigh-shown", number=PLACEMENTS.index(name) + 1)
    return say(f"weigh-{name}")


def weighed_over(body: Body, mark: str) -> str:
    """That the last weighing no longer stands; empty where it does, or where there is none."""
    if not body.get("weighings") or standing_weighing(body) is not None:
        return ""
    last = body["weighings"][-1]
    return say(
        "weighed-over",
        day=day_there(last["at"], last["offset_minutes"]),
        scale=last["scale_name"],
        stands=marked_as_kept(last["stands"], mark),
    )
