"""What stands in a record on paper, in the order it is read: the words of its page, as plain data."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from steelyard.charts import Chart
from steelyard.desk import AS_LEFT, RecordView
from steelyard.desk.on_paper import RecordToPrint
from steelyard.proof.sentences import signatures_said
from steelyard.telling import record_budget, record_points, record_words
from steelyard.telling.record_answers import AnswersWords, StruckAnswers
from steelyard.telling.record_points import PhaseWords, PointWords
from steelyard.words import say

Matter = dict[str, Any]
Rows = Sequence[tuple[str, str]]
FEW_POINTS = 3
"""So many points fill the first page; what makes their ± begins the second."""
SHORT = 4000
"""Letters of a point, as data, that is not torn apart between pages."""
STOPPED_SIGN = "out"
FILE_WORDS = {"record.json": "paper-file-record", "check-": "paper-file-form", "dcc.xml": "paper-file-dcc"}


def record_matter(
    printed: RecordToPrint,
    files: Iterable[str],
    phases: Sequence[PhaseWords],
    *,
    is_demo: bool,
    is_signed: bool,
) -> Matter:
    """A record as data of the template `record.typ`; every text is one a person reads.

    files: names of what is attached. phases: every judged one in words. is_signed: all of it will be.
    """
    view, mark = printed.view, printed.workshop.decimal_mark
    closed = view.body["closed"]
    workshop = printed.workshop.name or say("workshop-unnamed")
    number = view.body["tool_number"]
    return {
        "title": say("paper-title", record=closed["record"], number=number),
        "heading": say("check-title", number=number),
        "subtitle": view.body["title"] or "",
        "workshop": workshop,
        "record": say("book-record", record=closed["record"]),
        "in": say("record-in", record=closed["record"], workshop=workshop),
        "foot": say("paper-foot", record=closed["record"], entry=view.entry),
        "page": say("paper-page", page="{page}", pages="{pages}"),
        "demo": say("paper-demo", demo=say("shell-demo"), why=say("shell-demo-why")) if is_demo else "",
        "demo_mark": say("shell-demo") if is_demo else "",
        "logo_alt": say("paper-logo", workshop=workshop),
        "verdict": _verdict(closed),
        "next": _next(closed),
        "warning": "" if view.is_intact else say("record-not-intact"),
        "corrections": _section("record-corrections", list(_corrections(view))),
        "what": _section("record-what", _what(view, mark)),
        "picture": _picture("record-picture", record_points.picture(view, mark)),
        "phases": [_phase(phase) for phase in phases],
        "turns_before": AS_LEFT if any(phase.phase == AS_LEFT for phase in phases) else "",
        "turns": _section("record-turns", record_words.turns(view.body, mark)),
        "budget": _budget(view, mark),
        "starts_second_page": len(phases) == 1 and len(phases[0].points) <= FEW_POINTS,
        "method": list(dict.fromkeys(phase.method for phase in phases)),
        "stood": _section("record-kit", record_words.kit_stood(view, mark)),
        "photographs": _section("record-photographs", list(_photographs(view))),
        "photographs_why": say("paper-photographs"),
        "cautions": _section("section-cautions", record_words.cautions(view.body)),
        "claims": _section("record-claims", [say("check-claims")]),
        "files": _section("paper-files", [(name, file_words(name)) for name in files]),
        "files_why": say("paper-files-why"),
        "seal": _section("record-seal", _seal(view)),
        "seal_why": say("paper-signature-why" if is_signed else "record-seal-why"),
    }


def sealed_at(view: RecordView) -> datetime:
    """When it was sealed, in UTC: the one moment that its paper bears."""
    return datetime.fromisoformat(view.body["closed"]["at"]).replace(microsecond=0)


def file_words(name: str) -> str:
    """What a file that goes with a record is."""
    return say(next(code for begin, code in FILE_WORDS.items() if name.startswith(begin)))


def _section(code: str, rows: Any) -> Matter:
    return {"head": say(code), "rows": rows}


def _verdict(closed: Mapping[str, Any]) -> Matter:
    verdict = str(closed["verdict"])
    word = say(f"bench-verdict-{verdict}")
    phase = say(f"phase-{closed['phase']}").lower() if closed["phase"] else ""
    return {
        "sign": verdict if verdict in record_signs() else STOPPED_SIGN,
        "word": word,
        "phase": phase,
    }


def record_signs() -> tuple[str, ...]:
    """The verdicts that have a sign."""
    return ("in", "out", "cant-tell", "no-limit")


def _next(closed: Mapping[str, Any]) -> str:
    due = closed["next_due"]
    following = say("record-next-due", day=due) if due else say("record-next-none")
    return say("paper-next", day=closed["day"], next=following)


def _corrections(view: RecordView) -> Iterator[Matter]:
    for one in view.body["corrections"]:
        rows = [(say("record-wrong"), one["wrong"]), (say("record-right"), one["right"])]
        yield {"when": record_words.at_by(one, view.people), "rows": rows}


def _what(view: RecordView, mark: str) -> Rows:
    body = view.body
    rows = [
        *record_words.what(view, mark),
        (say("record-opened"), record_words.at_by(body["opened"], view.people)),
        (say("record-sealed-at"), record_words.at_by(body["closed"], view.people)),
    ]
    note = body["closed"]["note"]
    return [*rows, *([(say("record-note"), note)] if note else [])]


def _picture(code: str, chart: Chart | None) -> Matter | None:
    if chart is None:
        return None
    return {"head": say(code), "svg": chart.svg, "alt": chart.summary}


def _phase(phase: PhaseWords) -> Matter:
    verdict = say(f"verdict-{phase.verdict}")
    return {
        "phase": phase.phase,
        "head": say("record-phase-verdict", phase=say(f"phase-{phase.phase}"), verdict=verdict),
        "decided": phase.decided,
        "points": list(map(_point, phase.points)),
        "left_out": phase.left_out,
        "pattern": _section("section-pattern", phase.pattern or (say("no-doubts"),)),
        "doubts": _section("section-doubts", [_doubt(*doubt) for doubt in phase.doubts] or [_doubt_none()]),
    }


def _point(point: PointWords) -> Matter:
    rows = list(_answer_rows(point.answers) if point.answers else _pull_rows(point))
    return {
        "sign": point.verdict,
        "name": point.name,
        "bolts": point.bolts,
        "lines": [line for line in (point.verdict_line, *point.lines) if line],
        "head": point.answers.head if point.answers else point.pull_head,
        "rows": rows,
        "is_short": len(f"{rows}{point.lines}{point.verdict_line}") < SHORT,
        "numbers": (1, 2) if point.answers else (0, 1, 2),
        "picture": _picture("chart-trials-title", point.answers.drawn) if point.answers else None,
        "struck": list(map(_struck, point.answers.struck)) if point.answers else [],
    }


def _pull_rows(point: PointWords) -> Iterator[Matter]:
    for pull in point.pulls:
        cells = (str(pull.number), pull.torque, pull.deviation, pull.typed)
        yield {"cells": cells, "remark": pull.remark}


def _answer_rows(answers: AnswersWords) -> Iterator[Matter]:
    for row in answers.rows:
        yield {"cells": (" ".join(row.hung), row.torque, row.level, ", ".join(row.answers)), "remark": ""}


def _struck(struck: StruckAnswers) -> Matter:
    rows = (f"{' '.join(row.hung)} {row.level}: {', '.join(row.answers)}" for row in struck.rows)
    return {"when": struck.when, "rows": "; ".join(rows)}


def _doubt(severity: str, sentence: str) -> Matter:
    return {"severity": severity, "word": say(f"shell-{severity}"), "text": sentence}


def _doubt_none() -> Matter:
    return {"severity": "", "word": "", "text": say("no-doubts")}


def _budget(view: RecordView, mark: str) -> Matter:
    tables = [
        {
            "head": (say("paper-budget-of", phase=say(f"phase-{table.phase}")), *table.points),
            "rows": [
                (
                    name,
                    [[cell.uncertainty, cell.share, cell.share_percent] if cell else None for cell in cells],
                )
                for name, cells in table.rows
            ],
            "together": table.together,
        }
        for table in record_budget.budgets(view, mark)
    ]
    return {"head": say("paper-budget"), "why": say("paper-budget-why"), "tables": tables}


def _photographs(view: RecordView) -> Iterator[str]:
    for i, kept in enumerate(view.body["attachments"], 1):
        note = kept["note"] or say("record-photograph", number=i)
        yield say("paper-photograph", note=note, digest=record_words.in_groups(kept["file"]))


def _seal(view: RecordView) -> Rows:
    closed = view.body["closed"]
    return [
        (say("record-seal-record"), str(closed["record"])),
        (say("record-seal-entry"), str(view.entry)),
        (say("record-seal-entry-digest"), record_words.in_groups(view.entry_digest)),
        (say("record-seal-digest"), record_words.in_groups(closed["digest"])),
        *((say("record-signature"), line) for line in signatures_said(view)),
    ]
