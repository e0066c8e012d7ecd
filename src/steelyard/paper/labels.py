"""Labels for tools: what stands on one, the code beside it, and the pages of label paper they are set on."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from typing import Any

from steelyard.desk import Happened, ToolView
from steelyard.paper.coverage import shown
from steelyard.paper.label_sheets import LabelSheet
from steelyard.paper.typesetting import typeset
from steelyard.telling import why
from steelyard.words import say

NOT_TO_BE_USED = ("out", "stopped")
"""After such a last check no date makes a tool fit to be used."""
NOT_LATER = ("overdue", "due-now", "none", "unchecked")
QUIET_MODULES = 4
"""White around a code. Source: ISO/IEC 18004, quiet zone (from memory)."""


@dataclass(frozen=True)
class Place:
    """Where a label is set. sheet: counted from 0; position: on the sheet, from 0, along the rows."""

    sheet: int
    position: int


def places(count: int, sheet: LabelSheet, skip: int) -> Iterator[Place]:
    """One place for each label, behind the positions that are used up on the first sheet."""
    yield from (Place(*divmod(at, sheet.count)) for at in range(skip, skip + count))


def code_text(tool: str, number: str, address: str) -> str:
    """What the code on a tool's label says: the address of its page, or its number where there is none.

    tool: its name in the ledger. address: the setting *address on labels*, empty where nothing is set.
    """
    return f"{address}/rack/{tool}" if address else say("label-code", number=number)


def label_pdf(
    views: Sequence[ToolView], sheet: LabelSheet, skip: int, *, address: str, shop: str, today: date
) -> bytes:
    """The labels as a PDF; the same on the same day gives the same bytes.

    views: one label each, in this order. skip: positions used up on the first sheet.
    address: as of `code_text`. shop: name of the workshop, may be empty. today: when the PDF was made.
    """
    across, down = sheet.inset_mm
    pages: list[list[dict[str, Any]]] = []
    for index, place in enumerate(places(len(views), sheet, skip)):
        left, top = sheet.corner(place.position)
        at = {"left": float(left + across), "top": float(top + down), "label": index}
        while len(pages) <= place.sheet:
            pages.append([])
        pages[place.sheet].append(at)
    data = {
        "title": say("label-document"),
        "day": [today.year, today.month, today.day],
        "page": [float(sheet.page_width_mm), float(sheet.page_height_mm)],
        "size": [float(sheet.label_width_mm - 2 * across), float(sheet.label_height_mm - 2 * down)],
        "pages": pages,
        "labels": [label_words(view, shop=shop) for view in views],
    }
    codes = {
        f"code-{index}.svg": qr_svg(code_text(view.row.id, view.row.number, address))
        for index, view in enumerate(views)
    }
    return typeset("labels.typ", data, made=datetime.combine(today, time(), tzinfo=UTC), files=codes)


def label_words(view: ToolView, *, shop: str = "") -> dict[str, str | bool]:
    """What stands on the label of a tool, each text as the fonts can show it.

    `held`: it is out of use, and the label says so above all. `checked`: when and how it was last checked.
    `due`: the day of the next check under its `due-head`, or in place of both that it is to be checked first.
    """
    row = view.row
    facts = {"number": row.number, "alt": say("label-code-alt", number=row.number)}
    if view.quarantine is not None:
        facts |= {
            "stop": say("label-stop"),
            "reason": _reason(view, view.quarantine),
            "since": say("label-since", day=view.quarantine.day),
        }
    elif not view.checks:
        facts["checked"] = say("label-unchecked")
    else:
        last = view.checks[0]
        said = {"verdict": say(f"label-verdict-{last.verdict}"), "day": last.day}
        facts |= {
            "checked": say("label-checked", **said),
            "checked-long": say("label-checked-long", **said),
            "house": say("label-house-of", shop=shop) if shop else say("label-house"),
            **_due(view),
        }
    texts = {name: shown(" ".join(text.split()))[0] for name, text in facts.items()}
    return {**texts, "held": view.quarantine is not None}


def _reason(view: ToolView, held: Happened) -> str:
    """Why it is out of use; a record that took it out is named with its verdict."""
    check = next((check for check in view.checks if check.record == held.record), None)
    if check is None:
        return why(held, ".")
    return say("label-by-record", verdict=say(f"label-verdict-{check.verdict}"), record=check.record)


def _due(view: ToolView) -> dict[str, str]:
    row = view.row
    is_doubtful = row.check_first is not None or view.checks[0].verdict in NOT_TO_BE_USED
    if is_doubtful or row.due in NOT_LATER or row.next_due is None:
        return {"first": say("label-check-first")}
    return {"due-head": say("label-due"), "due": row.next_due}


def qr_svg(text: str) -> bytes:
    """A QR code as an SVG, its quiet zone within."""
    import io

    import segno

    drawn = io.BytesIO()
    code = segno.make_qr(text, error="m")
    code.save(drawn, kind="svg", border=QUIET_MODULES, xmldecl=False, nl=False)
    return drawn.getvalue()
