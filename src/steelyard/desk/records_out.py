"""The rows of the book as tables: one for each record, one for each pull or trial."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from steelyard.desk.book import find_records
from steelyard.desk.ports import Body, Ledger, Listed
from steelyard.desk.record_figures import is_estimated, named_point
from steelyard.desk.table import Cell
from steelyard.desk.typed_table import as_shown
from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, read_quantity
from steelyard.records import Subject

AT_ONCE = 50
"""Records in one go: each holds all its pulls and figures."""
RECORD_COLUMNS = (
    "record",
    "day",
    "tool_number",
    "title",
    "verdict",
    "phase",
    "worst_target",
    "deviation_percent",
    "expanded_percent",
    "next_due",
    "who",
    "digest",
    "entry",
    "entry_digest",
    "corrections",
)
PULL_COLUMNS = (
    "record",
    "day",
    "tool_number",
    "phase",
    "target",
    "direction",
    "pull",
    "reading",
    "unit",
    "answer",
    "struck_out",
    "at",
    "who",
    "set_to",
    "mark",
)
CLICKED, SILENT, NEVER = "yes", "no", "never"
"""The answer of a trial; a load that was reached without any click."""
BETWEEN = " … "
"""Between the last load without and the first with a click, as records write it."""


def record_rows(ledger: Ledger, typed: Mapping[str, str]) -> Iterator[tuple[Cell, ...]]:
    """A row for each record, the latest first. Raises InputRefused at once, as `find_records` does."""
    names = ledger.names()
    return (_record(ledger, listed.body, names) for listed in _found(ledger, typed))


def pull_rows(ledger: Ledger, typed: Mapping[str, str]) -> Iterator[tuple[Cell, ...]]:
    """A row for each pull of the same records, in the order in which they were read. Raises as that."""
    names = ledger.names()
    return (row for listed in _found(ledger, typed) for row in _pulls(listed.body, names))


def _found(ledger: Ledger, typed: Mapping[str, str]) -> Iterator[Listed]:
    """All records asked for; the first are looked for now, so that what is refused is refused now."""
    first = find_records(ledger, typed, most=AT_ONCE)

    def following() -> Iterator[Listed]:
        found = first
        yield from found
        while len(found) == AT_ONCE:
            found = find_records(ledger, typed, after=found[-1].key, most=AT_ONCE)
            yield from found

    return following()


def _record(ledger: Ledger, body: Body, names: Mapping[str, str]) -> tuple[Cell, ...]:
    closed = body["closed"]
    worst = _worst(body, closed["phase"])
    known = worst["counted"] if worst is not None and is_estimated(worst) else {}
    number = int(closed["number"])
    (entry,) = ledger.entries(subject=Subject.CHECK.named(body["id"]), after=number - 1, most=1)
    return (
        closed["record"],
        date.fromisoformat(closed["day"]),
        body["tool_number"],
        body.get("title"),
        closed["verdict"],
        closed["phase"],
        worst["target"] if worst is not None else None,
        known.get("deviation_percent"),
        known.get("expanded_percent"),
        date.fromisoformat(closed["next_due"]) if closed["next_due"] else None,
        names.get(closed["who"]),
        closed["digest"],
        number,
        entry.digest,
        len(body["corrections"]),
    )


def _worst(body: Body, phase: str | None) -> Mapping[str, Any] | None:
    """The point that decided; without a limit the one farthest off; None where nothing was judged."""
    if phase is None:
        return None
    return named_point(body["verdicts"][phase]["content"])


def _pulls(body: Body, names: Mapping[str, str]) -> Iterator[tuple[Cell, ...]]:
    closed = body["closed"]
    counts: dict[tuple[str, int], int] = {}
    for pull in body["pulls"]:
        place = (pull["phase"], pull["point"])
        counts[place] = counts.get(place, 0) + 1
        point = body["setup"]["points"][pull["point"]]
        reading, unit = _reading(pull["pull"])
        yield (
            closed["record"],
            date.fromisoformat(closed["day"]),
            body["tool_number"],
            pull["phase"],
            point["target"],
            point.get("direction"),
            counts[place],
            reading,
            unit,
            _answer(pull["pull"]),
            pull["struck_out"],
            pull["at"],
            names.get(pull["who"]),
            pull["pull"].get("set"),
            pull["pull"].get("at"),
        )


def _reading(pull: Mapping[str, Any]) -> tuple[str, str | None]:
    """What was read, as typed, without its unit where that stands alone at the end; and that unit.

    A load is said by its pieces, each with its own unit or name.
    """
    if "reading" not in pull:
        loads = (pull.get(name) for name in ("load", "bucket", "no_click", "click"))
        return as_shown(BETWEEN.join(str(load) for load in loads if load is not None)), None
    text = as_shown(str(pull["reading"]))
    try:
        unit = read_quantity(str(pull["reading"]), Dimension.TORQUE, field="reading").unit.symbol
    except InputRefused:
        return text, None
    return text.removesuffix(unit).rstrip(), unit


def _answer(pull: Mapping[str, Any]) -> str | None:
    if pull.get("never_clicked"):
        return NEVER
    if "clicked" not in pull:
        return None
    return CLICKED if pull["clicked"] else SILENT
