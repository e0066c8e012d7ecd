"""The adjuster's page in words and picture: what to do now, how sure, where every point stands."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from steelyard.charts import Chart, turn_dial
from steelyard.desk import (
    AS_FOUND,
    GUIDED_WAYS,
    Advice,
    Body,
    Guide,
    Mending,
    ToolKind,
    TurnSort,
    cannot_code,
    content_unit,
    degrees,
    in_unit,
    is_good,
    is_turning,
    said_turns,
    sense_code,
    standing_verdict,
    stay_code,
    turn_code,
    turns_done,
    unguided_code,
)
from steelyard.telling import changes_said, doubt_said, marked, point_name, way_said
from steelyard.words import say

MOST_SAID = 99  # percent: a sense is never said to be certain
PLACES = {
    "click-adjustable": ("ring", "grip", "plug", "nested"),
    "click-no-scale": ("grip", "plug", "nested"),
    "click-preset": ("preset", "plug"),
    "split-beam": ("grip", "plug", "nested"),
    "break-over": ("ring", "grip", "plug"),
    "slipper-wrench": ("ring", "grip", "plug"),
    "slipper-driver": ("driver",),
    "driver-adjustable": ("driver", "nested"),
    "driver-preset": ("driver", "preset"),
}
"""Where adjusters tend to sit, by kind of tool: our own notes. Tools that show a torque have none."""


@dataclass(frozen=True)
class AdjustNow:
    """What to do now. kind: turn, question, read, lock, exercise, left, none, first or stale; line: in one
    sentence.

    more: what goes with it. dial: the turn as a picture. turns, way: to be filled into the form.
    """

    kind: str
    line: str
    more: tuple[str, ...] = ()
    dial: Chart | None = None
    turns: str = ""
    way: str = ""


@dataclass(frozen=True)
class OutlookWords:
    """Whether the adjuster can mend it. state: in, out or cant-tell, for the sign."""

    state: str
    line: str
    more: tuple[str, ...]
    ways: bool


def now_words(body: Body, guide: Guide | None, mark: str) -> AdjustNow:
    """What to do now, in one line with what belongs to it."""
    if AS_FOUND not in body["verdicts"]:
        return AdjustNow("first", say("adjust-now-first"))
    if standing_verdict(body, AS_FOUND) is None:
        return AdjustNow("stale", say("adjust-now-stale"))
    if body.get("locked") is not None:
        return _locked(body)
    if guide is None:
        return AdjustNow("none", say(unguided_code(body)))
    if guide.question is not None:
        way = say(f"chart-way-{guide.question.way}")
        line = say("adjust-now-question", turn=guide.question.turn, way=way)
        return AdjustNow("question", line, (say("adjust-question-why", way=way),))
    now = _next(body, guide, mark)
    cannot = cannot_code(guide)
    if not cannot:
        return now
    return replace(now, line=say(cannot, **_stretch_facts(body, guide, mark)), more=(now.line, *now.more))


def _next(body: Body, guide: Guide, mark: str) -> AdjustNow:
    if guide.advice is None:
        by_trials = any("clicked" in pull["pull"] for pull in body["pulls"])
        return AdjustNow("read", say("adjust-now-read-yes-no" if by_trials else "adjust-now-read"))
    if guide.advice.sort is TurnSort.STAY:
        return _stay(body, guide)
    return _turn(guide, guide.advice, mark)


def _locked(body: Body) -> AdjustNow:
    lock = body["locked"]["number"]
    if any(row["number"] > lock for row in body["exercise"]):
        return AdjustNow("left", say("adjust-now-left"), (say("adjust-after-lock"),))
    return AdjustNow("exercise", say("adjust-now-locked"), (say("adjust-after-lock"),))


def _stay(body: Body, guide: Guide) -> AdjustNow:
    why = say("adjust-why-inside" if is_good(guide) else "adjust-why-blind")
    said = say(stay_code(guide, is_turning=is_turning(body)))
    if not is_turning(body):
        return AdjustNow("none", said, (why,))
    if guide.unread:
        names = ", ".join(point_name(name) for name in guide.unread)
        return AdjustNow("read", say("adjust-now-stay-unread", points=names), (why,))
    return AdjustNow("lock", said, (why,))


def _turn(guide: Guide, advice: Advice, mark: str) -> AdjustNow:
    size = abs(advice.turns)
    said = said_turns(size)
    return AdjustNow(
        "turn",
        say(turn_code(guide.way, size), turns=said, degrees=degrees(size)),
        tuple(_how_sure(guide, advice, mark)),
        turn_dial(advice.turns, said),
        said,
        guide.way,
    )


def _how_sure(guide: Guide, advice: Advice, mark: str) -> Iterator[str]:
    if advice.sort is TurnSort.TEST:
        yield say("adjust-test-turn")
    yield say(sense_code(advice), percent=marked(min(100 * advice.sense_probability, MOST_SAID), mark))
    if advice.straight_turns is not None:
        low, high = (_short(end, mark) for end in (advice.needed_low_turns, advice.needed_high_turns))
        yield say("adjust-needed", low=low, high=high)
    if advice.is_shortened and advice.straight_turns is not None:
        yield say("adjust-shortened", straight=_short(abs(advice.straight_turns), mark))
    elif guide.learned_from and guide.gain_newton_metre is None:
        yield say("adjust-learned", count=guide.learned_from)


def _short(turns: float, mark: str) -> str:
    return f"{marked(turns, mark):.2f}"


def outlook_words(body: Body, guide: Guide, mark: str) -> OutlookWords:
    """What the adjuster can reach at best, and the ways on where it cannot."""
    seen = guide.outlook
    tightest = min(point.limit_percent for point in guide.points)
    low, high = (marked(tightest * ratio, mark) for ratio in (seen.best_low_ratio, seen.best_high_ratio))
    line = say(
        f"adjust-{'mendable' if seen.mending is Mending.MENDABLE else seen.mending}",
        best=f"{marked(seen.best_percent, mark):.1f}",
        low=f"{low:.1f}",
        high=f"{high:.1f}",
    )
    more = []
    if seen.mending is Mending.CANNOT:
        more += [say("adjust-cannot-ways"), _stretch(body, guide, mark)]
    elif seen.mending is Mending.NOT_KNOWN and guide.lacking:
        more.append(say("adjust-lacking", points=", ".join(point_name(name) for name in guide.lacking)))
    if seen.mending is Mending.CANNOT and guide.both_percent is not None and "nested" in _places(body):
        more.append(say("adjust-both", best=f"{marked(guide.both_percent, mark):.1f}"))
    state = {Mending.MENDABLE: "in", Mending.CANNOT: "out", Mending.NOT_KNOWN: "cant-tell"}[seen.mending]
    return OutlookWords(state, line, tuple(more), seen.mending is Mending.CANNOT)


def _stretch(body: Body, guide: Guide, mark: str) -> str:
    facts = _stretch_facts(body, guide, mark)
    return say("adjust-stretch", **facts) if facts else say("adjust-stretch-none")


def _stretch_facts(body: Body, guide: Guide, mark: str) -> dict[str, str]:
    """The part of the range that can be brought in; empty where none."""
    stretch = guide.outlook.stretch
    if stretch is None:
        return {}
    unit = content_unit(body["verdicts"][AS_FOUND]["content"])
    low, high = (
        f"{marked(in_unit(end, unit), mark):.3g}"
        for end in (stretch.low_newton_metre, stretch.high_newton_metre)
    )
    return {"low": low, "high": high, "unit": unit}


def point_rows(guide: Guide, mark: str) -> list[tuple[str, ...]]:
    """Each point: where it is believed to stand, what to aim at, its limit."""
    return [
        (
            point_name(point.name),
            say("adjust-percent", percent=f"{marked(point.now_percent, mark):+.1f}"),
            say("adjust-plus-minus", percent=f"{marked(point.aim_percent, mark):.1f}"),
            say("adjust-plus-minus", percent=f"{marked(point.limit_percent, mark):g}"),
        )
        for point in guide.points
    ]


def turn_rows(turns: Sequence[Mapping[str, Any]], guide: Guide | None, mark: str) -> list[tuple[str, ...]]:
    """Every turn with what it did to each point, and its ±. guide: None where no point can say it."""
    names = [point.name for point in guide.points] if guide is not None else []
    rows: list[tuple[str, ...]] = []
    for i, turn in enumerate(turns):
        changes = guide.moved_percent[i] if guide is not None else ()
        within = guide.moved_within_percent[i] if guide is not None else ()
        did = changes_said(names, changes, mark, within=within) or say("adjust-did-nothing")
        rows.append((str(i + 1), str(turn["turns"]), way_said(turn), did, str(turn["note"] or "")))
    return rows


def doubts_said(guide: Guide, mark: str) -> list[tuple[str, str]]:
    """The doubts about the turns; a turn in question heads the page itself until the adjuster is locked."""
    doubts = guide.doubts if guide.is_locked else ()
    return [(doubt.severity.value, doubt_said(doubt.code, doubt.facts, mark)) for doubt in doubts]


def question_ways(guide: Guide | None) -> list[tuple[str, str]]:
    """The ways that a turn in question may really have been made, the other one first; none without one."""
    if guide is None or guide.question is None:
        return []
    written = guide.question.way
    other = next(way for way in GUIDED_WAYS if way != written)
    return [
        (other, say("adjust-question-other", way=say(f"chart-way-{other}"))),
        (written, say("adjust-question-written", way=say(f"chart-way-{written}"))),
    ]


def lock_moved(body: Body, mark: str) -> str:
    """What locking the adjuster did to each point; empty where nobody can say it."""
    done = turns_done(body) if body.get("locked") else None
    if done is None or not done.shift:
        return ""
    return say("record-lock-moved", points=changes_said(done.points, done.shift, mark, within=done.within))


def where_notes(body: Body) -> list[str]:
    """Where the adjuster of such a tool tends to sit."""
    return [say(f"adjust-where-{place}") for place in _places(body) or ("shows",)]


def _places(body: Body) -> tuple[str, ...]:
    return PLACES.get(ToolKind(body["setup"]["form"]["tool"]["kind"]).value, ())
