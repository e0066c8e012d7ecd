"""What the pages of the rigs say: names, facts, papers, and what a rig can decide."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from steelyard.desk import (
    MATERIALS,
    PAPER_COLUMNS,
    RIG_COLUMNS,
    Ability,
    AbilityPoint,
    AblePoint,
    Body,
    PaperState,
    paper_state,
)
from steelyard.desk.typed_table import TEXTUAL, as_shown
from steelyard.telling import marked, marked_as_kept, marked_text, said_in_mark, texts_in
from steelyard.words import say

SIGNS = {
    PaperState.NOT_ASKED: "",
    PaperState.NONE: "none",
    PaperState.NO_NUMBER: "none",
    PaperState.NO_END: "none",
    PaperState.SOON: "due-soon",
    PaperState.OVER: "overdue",
    PaperState.GOOD: "ok",
}
"""Which of the signs of a page stands for a state of a paper."""
PICKED = ("knows", "lead", "material", "states")
UNSAID = "unsaid"


@dataclass(frozen=True)
class PaperWords:
    """The paper of a rig. sign: of the page, empty where no paper is asked for; words; advice."""

    sign: str
    words: str
    advice: str
    kind: str


def sort_word(sort: str) -> str:
    """What a sort of rig is called."""
    return say(f"rig-sort-{sort}")


def material_choices() -> list[tuple[str, str]]:
    """What a load may be made of, for a field to pick from."""
    return [("", say("rig-material-unsaid")), *((name, say(f"rig-material-{name}")) for name in MATERIALS)]


def paper_words(body: Body, today: date) -> PaperWords:
    """The state of a rig's paper in words."""
    state = paper_state(body, today)
    if state is PaperState.NOT_ASKED:
        return PaperWords("", "", "", "note")
    paper = body["table"].get("paper") or {}
    return PaperWords(
        SIGNS[state],
        say(f"rig-paper-{state}", due=paper.get("due", "")),
        say(f"rig-paper-advice-{state}", certificate=paper.get("certificate", "")),
        "warn" if state in (PaperState.OVER, PaperState.SOON) else "note",
    )


def short(body: Body, mark: str) -> str:
    """What tells a rig from its neighbours in a list, in a few words."""
    table = body["table"]
    if body["sort"] == "scale":
        return say(f"rig-short-scale-{table['knows']}", step=marked_as_kept(table["step"], mark))
    if body["sort"] == "mass":
        value = marked_as_kept(table["value"], mark)
        return f"{value}, {_mass_trust(table)}" if "±" not in value else value
    if body["sort"] == "hung-weight":
        return (
            say("rig-short-hung-weight", arm=marked_as_kept(table["arm"], mark))
            if "arm" in table
            else say("rig-short-hung-weight-bare")
        )
    if body["sort"] == "drum":
        return say("rig-short-drum", drum=marked_as_kept(table["drum"], mark))
    return say("rig-short-transducer", resolution=marked_as_kept(table["resolution"], mark))


def facts(body: Body, mark: str) -> list[tuple[str, str]]:
    """Everything that was said of a rig, with its label; and what stands in for the rest where it matters.

    mark: decimal mark of the reader; what was typed stays as it was.
    """
    table = body["table"]
    rows = [
        _fact(column.name, _as_kept(table[column.name], column.kind, mark))
        for column in RIG_COLUMNS[body["sort"]]
        if column.name in table
    ]
    if body["sort"] == "scale" and not {"class", "within", "within_of_reading", "gain"} & table.keys():
        rows.append((say("rig-within"), marked_text(say("rig-fact-household"), mark)))
    if body["sort"] == "hung-weight" and "arm" not in table:
        rows.append((say("rig-arm"), say("rig-fact-grip")))
    if body["sort"] in ("hung-weight", "drum") and "material" not in table:
        rows.append((say("rig-material"), say("rig-material-unsaid")))
    if body.get("notes"):
        rows.append((say("rig-notes"), body["notes"]))
    return rows[1:]


def paper_facts(body: Body) -> list[tuple[str, str]]:
    """What a paper says of itself: certificate, laboratory, days."""
    paper = body["table"].get("paper", {})
    return [_fact(column.name, paper[column.name]) for column in PAPER_COLUMNS[:4] if column.name in paper]


def paper_rows(body: Body) -> tuple[list[str], list[list[str]]]:
    """Head and rows of the table in a paper."""
    paper = body["table"].get("paper", {})
    states = paper.get("states", "error")
    head = [say("rig-row-at"), say(f"rig-states-{states}"), say("rig-row-expanded"), say("rig-row-coverage")]
    rows = [[row["at"], row[states], row["U"], row.get("k", "2")] for row in paper.get("row", [])]
    return head, rows


def _as_kept(value: Any, kind: str, mark: str) -> Any:
    """A number in the reader's mark; words and flags as they are."""
    return marked_as_kept(value, mark) if kind not in TEXTUAL and isinstance(value, str) else value


def _fact(name: str, value: Any) -> tuple[str, str]:
    label = say(f"rig-{name.replace('_', '-')}")
    if name == "in_service":
        return label, say("rig-in-service-yes" if value else "rig-in-service-no")
    if value is True:
        return label, say("rig-fact-yes")
    return label, say(f"rig-{name}-{value}") if name in PICKED else as_shown(str(value))


def _mass_trust(table: Mapping[str, Any]) -> str:
    if "class" in table:
        return say("rig-fact-class", scale_class=table["class"])
    return say("rig-fact-casting")


def ability_head(asked: Ability) -> list[str]:
    """The columns of the answer; what is to be hung only where something hangs."""
    hang = [say("rig-ability-load")] if asked.is_hung else []
    columns = [say("rig-ability-torque"), say("rig-ability-knows"), say("rig-ability-passes")]
    return [*columns, *hang, say("rig-ability-helps")]


def ability_rows(asked: Ability, mark: str) -> list[list[str]]:
    """One row for each torque, in the reader's decimal mark."""
    several = len({point.form.direction for point in asked.points}) > 1
    rows = (_ability_row(point, several=several, is_hung=asked.is_hung) for point in asked.points)
    return [[marked_text(cell, mark) for cell in row] for row in rows]


def _ability_row(point: AbilityPoint, *, several: bool, is_hung: bool) -> list[str]:
    name = point.form.target.typed
    if several:
        name = f"{name} {say(f'chart-direction-{point.form.direction}')}"
    if point.able is None:
        wanted = point.refused.wish if point.refused is not None else ""
        blank = [say("rig-ability-none")] * (2 if is_hung else 1)
        return [name, say("rig-ability-none"), *blank, say("rig-ability-point-refused", wanted=wanted)]
    found = point.able.fitness
    hang = [say("rig-ability-kilogram", kilogram=point.able.mass_kilogram)] if is_hung else []
    knows = say("rig-ability-percent", percent=found.expanded_percent)
    return [name, knows, _passes(point.able), *hang, _best(point.able)]


def _passes(point: AblePoint) -> str:
    passes = point.fitness.passes_percent
    if passes is None:
        return say("rig-ability-no-limit")
    if point.fitness.is_hopeless:
        return say("rig-ability-hopeless", limit=point.limit_percent)
    return say("rig-ability-percent", percent=passes)


def _best(point: AblePoint) -> str:
    """The improvement that helps most, in the words of `steelyard able`."""
    if not point.fitness.improvements:
        return say("able-enough").strip()
    best = point.fitness.improvements[0]
    change, expanded = say(best.change), best.expanded_percent
    if point.limit_percent is None:
        return say("able-better-no-limit", change=change, expanded=expanded).strip()
    passes = float(point.limit_percent) - expanded
    if passes <= 0:
        return say("able-better-hopeless", change=change, expanded=expanded).strip()
    return say("able-better", change=change, expanded=expanded, passes=passes).strip()


def ability_verdict(asked: Ability) -> tuple[str, str]:
    """The sign and the sentence over the whole answer."""
    limited = [
        p.able.fitness.is_hopeless for p in asked.points if p.able is not None and p.able.limit_percent
    ]
    unasked = any(point.able is None for point in asked.points)
    if not limited:
        return "no-limit", say("rig-verdict-no-limit")
    if all(limited):
        return "out", say("rig-verdict-hopeless")
    if any(limited) or unasked:
        return "cant-tell", say("rig-verdict-partly")
    return "ok", say("rig-verdict-able")


def helps_first(asked: Ability, mark: str) -> str | None:
    """The one change that helps most at most of the torques; None where nothing helps more than a little."""
    able = [point.able for point in asked.points if point.able is not None]
    best = Counter(point.fitness.improvements[0].change for point in able if point.fitness.improvements)
    if not best:
        return None
    change, count = best.most_common(1)[0]
    return marked_text(say("rig-helps-first", change=say(change), count=count, all=len(able)), mark)


def assumes(asked: Ability, mark: str) -> str:
    """What the answer rests on."""
    code = "rig-ability-assumes" if asked.is_guessed else "rig-ability-assumes-given"
    return say(
        code, pulls=asked.points[0].form.planned_pulls, scatter=marked(100 * asked.scatter_ratio, mark)
    )


def findings(asked: Ability, mark: str) -> list[str]:
    """What was noticed besides."""
    return [said_in_mark(one.code, one.facts, mark, as_typed=texts_in(one.facts)) for one in asked.findings]
