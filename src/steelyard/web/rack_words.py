"""The rack in words and pictures: states, kinds, choices, facts, charts."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from steelyard.charts import Chart, PastCheck, Point, Series, error_curve, history_strip, tool_drawing
from steelyard.desk import (
    DRIVER_KINDS,
    DUE_SOON_DAYS,
    HAPPENINGS,
    OWN_LIMIT,
    RACK_FILTERS,
    TOOL_KINDS,
    UNIT_CHOICES,
    Happened,
    PastToolCheck,
    ToolRow,
    ToolView,
    limit_choices,
)
from steelyard.telling import marked, marked_as_kept, why
from steelyard.words import say

Choices = list[tuple[str, str]]
MARKED_DUE = ("overdue", "due-now", "due-soon")
"""Due states that carry a mark; `due-now` is drawn as overdue."""
FACTS = {
    "make": "rack-field-make",
    "drive": "rack-field-drive",
    "graduation": "rack-field-graduation",
    "grip_mark": "rack-field-grip-mark",
    "mass": "rack-field-mass",
    "balance_point": "rack-field-balance-point",
    "own_reading": "rack-field-own-reading",
    "own_reading_at": "rack-field-own-reading-at",
    "own_weight": "rack-field-own-weight",
    "pivot": "rack-field-pivot",
    "beam_scale": "rack-field-beam-scale",
    "expected_scatter": "rack-field-expected-scatter",
    "length_independent": "rack-field-length-independent",
    "set_each_time": "rack-field-set-each-time",
    "store_rule": "rack-field-store-rule",
    "notes": "rack-field-notes",
}
"""What a tool's page lists, in this order, where it is known: field and what it is called."""
IN_WORDS = ("make", "drive", "store_rule", "notes")
"""Which of them are no numbers."""


def kind_word(kind: str) -> str:
    """A kind of tool in words."""
    return say(f"kind-{kind}")


def kinds_pictured() -> list[tuple[str, list[tuple[str, str, str, Chart]]]]:
    """Kinds in two groups: code, name, what it does, drawing."""
    groups = (
        (say("rack-new-wrenches"), [kind for kind in TOOL_KINDS if kind not in DRIVER_KINDS]),
        (say("rack-new-drivers"), list(DRIVER_KINDS)),
    )
    return [
        (title, [(kind, kind_word(kind), say(f"kind-hint-{kind}"), tool_drawing(kind)) for kind in kinds])
        for title, kinds in groups
    ]


def kind_choices() -> Choices:
    """Kinds to pick from."""
    return [(kind, kind_word(kind)) for kind in TOOL_KINDS]


def unit_choices(unit: str) -> Choices:
    """Units to pick from; the one that is set comes along where it is none of the usual ones."""
    return [(symbol, symbol) for symbol in dict.fromkeys((*UNIT_CHOICES, unit)) if symbol]


def direction_choices(chosen: str) -> Choices:
    """Directions to pick from."""
    codes = ["cw", "ccw", "cw,ccw"] + (["ccw,cw"] if chosen == "ccw,cw" else [])
    return [(code, say(f"rack-direction-{code}")) for code in codes]


def limit_picks(kind: str, chosen: str) -> list[tuple[str, str, str]]:
    """One's own limit, then the documents that cover this kind, each with its caution."""
    own = (OWN_LIMIT, say("rack-limit-own"), say("rack-limit-own-hint"))
    covering, every = limit_choices(kind), limit_choices("")
    return [own] + [
        (code, limit_word(code), _caution(code, is_covering=code in covering))
        for code in every
        if code in covering or code == chosen
    ]


def limit_word(code: str) -> str:
    """A document's limit in words."""
    return say(f"rack-limit-{code}")


def _caution(code: str, *, is_covering: bool) -> str:
    return say(f"limit-caution-{code}") if is_covering else say("rack-limit-not-for-this-kind")


def filter_chips() -> Choices:
    """What the list can be narrowed to."""
    return [(state, say(f"rack-filter-{state}", days=DUE_SOON_DAYS)) for state in RACK_FILTERS]


def state_word(state: str) -> str:
    """A state in words."""
    return say(f"rack-state-{state}")


def row_state(row: ToolRow) -> tuple[str, str]:
    """Code of a tool's state and its word; what happened to it goes before what its last check said."""
    if row.check_first is not None and row.state != "quarantined":
        return "check-first", say(f"rack-state-{row.check_first}")
    return row.state, state_word(row.state)


def due_mark(row: ToolRow) -> tuple[str, str] | None:
    """Code of the mark and its word, where a date calls for one and the state does not."""
    if row.due not in MARKED_DUE or row.check_first is not None:
        return None
    return "overdue" if row.due == "due-now" else row.due, say(f"rack-due-{row.due}")


def due_day(row: ToolRow) -> str:
    """The date of the next check in a list; empty where there is none."""
    return say(f"rack-due-day-{row.due}", day=row.next_due) if row.due not in ("none", "unchecked") else ""


def range_words(lowest: str, highest: str) -> str:
    """`20 to 100 N·m`; once where both ends are the same."""
    plain = lowest.removesuffix(f" {highest.partition(' ')[2]}")
    return highest if highest.startswith(f"{plain} ") else say("rack-range", lowest=plain, highest=highest)


def stands(view: ToolView) -> str:
    """When the next check is due and why, in one sentence."""
    if view.due_because is not None:
        return say(f"rack-because-{view.due_because.what}", day=view.due_because.day)
    state = "retired" if view.row.state == "retired" else view.row.due
    return say(f"rack-stands-{state}", day=view.row.next_due)


def needs(view: ToolView) -> str:
    """What hung weights will ask for, in one sentence."""
    return say(f"rack-needs-{view.needs[0] if len(view.needs) == 1 else 'both'}")


def taps(view: ToolView) -> Choices:
    """What may be noted now: a tool that is lent can come back, and only such a one."""
    is_lent = view.row.lent_to is not None
    return [
        (what, say(f"rack-tap-{what}"))
        for what in HAPPENINGS
        if what not in ("lent", "back") or (what == "back") is is_lent
    ]


def log_rows(events: tuple[Happened, ...], mark: str) -> list[tuple[str, str, str, str]]:
    """What happened, the latest first."""
    return [(e.day, say(f"rack-log-{e.what}"), why(e, mark), e.who or "") for e in events]


def record_rows(checks: tuple[PastToolCheck, ...], mark: str) -> list[tuple[int, str, str, str, str]]:
    """Number of the record, day, code and word of the verdict, deviation at the point that decided it."""
    return [
        (check.record, check.day, check.verdict, state_word(check.verdict), _decided(check, mark))
        for check in checks
    ]


def _decided(check: PastToolCheck, mark: str) -> str:
    if check.worst_percent is None or check.worst_expanded_percent is None:
        return ""
    deviation, within = marked(check.worst_percent, mark), marked(check.worst_expanded_percent, mark)
    return say("rack-decided", deviation=deviation, within=within)


def curve_chart(view: ToolView, mark: str) -> Chart | None:
    """The error curve of the last check that has one."""
    check = next((check for check in view.checks if check.curve), None)
    if check is None:
        return None
    series = [
        Series("as-left", direction, points)
        for direction in ("cw", "ccw")
        if (points := _points(check, direction))
    ]
    return error_curve(series, unit=view.unit, measure=say(f"measure-{check.measure}"), decimal_mark=mark)


def _points(check: PastToolCheck, direction: str) -> tuple[Point, ...]:
    return tuple(
        Point(
            target=p.target,
            deviation_percent=p.deviation_percent,
            low_percent=p.low_percent,
            high_percent=p.high_percent,
            verdict=p.verdict,
            limit_percent=p.limit_percent,
        )
        for p in check.curve
        if p.direction == direction
    )


def history_chart(view: ToolView, mark: str) -> Chart | None:
    """All its checks along time."""
    past = [
        PastCheck(
            tool=view.row.number,
            day=check.day,
            verdict=check.verdict,
            worst_percent=check.worst_percent,
            within_percent=check.worst_expanded_percent,
            limit_percent=check.limit_percent,
        )
        for check in reversed(view.checks)
        if check.worst_percent is not None and check.worst_expanded_percent is not None
    ]
    return history_strip(past, decimal_mark=mark) if past else None


def facts(view: ToolView, mark: str) -> list[tuple[str, str]]:
    """What is written on a tool and measured on it, as far as it is known."""
    table, limit = view.body["tool"], view.body["limit"]
    known = {**table, **{name: view.body.get(name) for name in ("drive", "store_rule", "notes")}}
    return [
        (say("rack-fact-range"), range_words(view.row.lowest, view.row.highest)),
        (say("rack-field-directions"), say(f"rack-direction-{','.join(table.get('directions', ['cw']))}")),
        (say("rack-fact-limit"), _limit(limit)),
        *_known(known, mark),
        (say("rack-field-interval"), say("rack-fact-months", months=view.body["interval_months"])),
    ]


def _limit(limit: dict[str, Any]) -> str:
    if "published" in limit:
        return limit_word(limit["published"])
    return say("rack-fact-limit-own", percent=limit["percent"], source=limit["source"])


def _known(known: dict[str, Any], mark: str) -> Iterator[tuple[str, str]]:
    for name, code in FACTS.items():
        value = known.get(name)
        if value:
            shown = str(value) if name in IN_WORDS else marked_as_kept(str(value), mark)
            yield say(code), say("rack-yes") if value is True else shown


def notebook_rows(lines: Sequence[Mapping[str, Any]]) -> list[tuple[str, str, str, str]]:
    """Day, what was found, note and where it stands, of the lines of an old notebook; the latest first."""
    return [
        (
            line["day"],
            say(f"tool-notebook-{line['verdict']}"),
            "; ".join(_said_in_notebook(line)),
            say("tool-notebook-place", file=line["file"], row=line["row"]),
        )
        for line in reversed(lines)
    ]


def _said_in_notebook(line: Mapping[str, Any]) -> Iterator[str]:
    if line["note"]:
        yield line["note"]
    if line["who"]:
        yield say("tool-notebook-who", who=line["who"])
    if line["next_due"]:
        yield say("tool-notebook-due", day=line["next_due"])
