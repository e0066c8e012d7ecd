"""Tools to be labelled, in a workshop in memory; and what stands on a finished sheet."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

import pypdfium2
import zxingcpp

from steelyard.bootstrap import Workshop
from steelyard.desk import ToolView, add_tool, quarantine, tool_event
from steelyard.desk.labelling import tools_to_label
from steelyard.paper.label_sheets import LabelSheet
from steelyard.paper.labels import label_pdf
from steelyard.records import Draft, Kind, Subject
from web.shop import CHECK, CLICK, make_workshop

ADDRESS = "http://bench.local:8735"
TODAY = date(2026, 11, 25)
POINTS_A_MM = 72 / 25.4
NEXT_ROW_MM = 12
"""Codes of one row end within this; the lowest labels are higher."""


class LabelShop:
    """A workshop in memory that takes tools by their numbers."""

    def __init__(self) -> None:
        self.workshop: Workshop = make_workshop()

    def tool(self, number: str, **checked: object) -> str:
        """A tool that was checked, with what is said of the check; returns its name in the ledger."""
        name = self.blank(number)
        acting = self.workshop.acting(who="", device="test")
        acting.write(Draft(Kind.TOOL_CHECKED, Subject.TOOL.named(name), {**CHECK, **checked}))
        return name

    def blank(self, number: str) -> str:
        """A tool without any record."""
        return add_tool(self.workshop.acting(who="", device="test"), {**CLICK, "number": number})

    def held(self, number: str, reason: str) -> str:
        """A tool in quarantine."""
        name = self.tool(number)
        quarantine(self.workshop.acting(who="", device="test"), name, {"reason": reason})
        return name

    def happened(self, name: str, what: str) -> None:
        """Something happened to it."""
        tool_event(self.workshop.acting(who="", device="test"), name, {"what": what})

    def views(self, *names: str, which: str = "") -> tuple[ToolView, ...]:
        """As they are to be labelled."""
        return tools_to_label(self.workshop.ledger, names, which, today=TODAY)

    def pdf(self, names: tuple[str, ...], sheet: LabelSheet, skip: int = 0, **more: Any) -> bytes:
        """Their labels."""
        said = {"address": ADDRESS, "shop": "Tern Point", "today": TODAY, **more}
        return label_pdf(self.views(*names), sheet, skip, **said)


@dataclass(frozen=True)
class Box:
    """Something on a page. [mm], from its left upper corner"""

    left: float
    top: float
    right: float
    bottom: float

    def holds(self, other: "Box", slack: float = 0.01) -> bool:
        """The other one lies within."""
        return (
            self.left - slack <= other.left
            and self.top - slack <= other.top
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )

    def meets(self, other: "Box") -> bool:
        """They have some area in common."""
        is_beside = self.right <= other.left or other.right <= self.left
        return not (is_beside or self.bottom <= other.top or other.bottom <= self.top)


@dataclass(frozen=True)
class Code:
    """A code that was read off the picture of a page."""

    text: str
    box: Box


def pages(pdf: bytes) -> Iterator[pypdfium2.PdfPage]:
    """The pages of a document."""
    document = pypdfium2.PdfDocument(pdf)
    for index in range(len(document)):
        yield document[index]


def codes(page: pypdfium2.PdfPage, dpi: float = 150) -> list[Code]:
    """All codes of a page, row by row, as a camera would read them."""
    found = zxingcpp.read_barcodes(page.render(scale=dpi / 72).to_pil())
    read = [Code(one.text, _corners(one.position, 25.4 / dpi)) for one in found]
    in_rows: list[list[Code]] = []
    for code in sorted(read, key=lambda code: code.box.bottom):
        if not in_rows or code.box.bottom - in_rows[-1][0].box.bottom > NEXT_ROW_MM:
            in_rows.append([])
        in_rows[-1].append(code)
    return [code for row in in_rows for code in sorted(row, key=lambda code: code.box.left)]


def _corners(place: zxingcpp.Position, mm: float) -> Box:
    corners = (place.top_left, place.top_right, place.bottom_left, place.bottom_right)
    across, down = [at.x * mm for at in corners], [at.y * mm for at in corners]
    return Box(min(across), min(down), max(across), max(down))


def letters(page: pypdfium2.PdfPage) -> list[tuple[str, Box]]:
    """Every character with ink, and where it lies."""
    text, high = page.get_textpage(), page.get_height()
    found = []
    for index in range(text.count_chars()):
        character = text.get_text_range(index, 1)
        left, bottom, right, top = (at / POINTS_A_MM for at in text.get_charbox(index))
        if character.strip() and right > left:
            found.append((character, Box(left, high / POINTS_A_MM - top, right, high / POINTS_A_MM - bottom)))
    return found


def words(page: pypdfium2.PdfPage) -> str:
    """All that is written on a page, on one line, without the places where a word may be broken."""
    return " ".join(str(page.get_textpage().get_text_range()).replace("\u200b", "").split())


def bands(page: pypdfium2.PdfPage, wide_mm: float) -> list[Box]:
    """The black bands of DO NOT USE labels, each as wide as what is set of its label. [mm]"""
    high = page.get_height()
    found = []
    for one in page.get_objects(max_depth=4):
        left, bottom, right, top = one.get_bounds()
        box = Box(*(at / POINTS_A_MM for at in (left, high - top, right, high - bottom)))
        if abs(box.right - box.left - wide_mm) < 0.05 and box.bottom - box.top < wide_mm / 3:
            found.append(box)
    return found


def label_box(sheet: LabelSheet, position: int) -> Box:
    """Where a label lies, counted out from the measures."""
    down, across = divmod(position, sheet.columns)
    left, top = float(sheet.margin_left_mm), float(sheet.margin_top_mm)
    left += across * (float(sheet.label_width_mm) + float(sheet.gap_across_mm))
    top += down * (float(sheet.label_height_mm) + float(sheet.gap_down_mm))
    return Box(left, top, left + float(sheet.label_width_mm), top + float(sheet.label_height_mm))
