"""A record by reportlab: the same words in its flowing layout, the picture drawn by its own graphics.

Nothing is attached: its canvas has no call for it.
"""

from collections.abc import Callable, Iterable
from html import escape
from io import BytesIO
from typing import Any

from bench_words import Rows, point_rows, point_sentences, sections, words
from reportlab.graphics.shapes import Circle, Drawing, Line, Rect, String
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Paragraph, SimpleDocTemplate, Table, TableStyle

from steelyard.desk.on_paper import RecordToPrint
from steelyard.paper.typesetting import FONTS

FAMILY = "atkinson-hyperlegible-next"
BODY = ParagraphStyle("body", fontName="Paper", fontSize=8.6, leading=11)
TITLE = ParagraphStyle("title", parent=BODY, fontName="Paper-Bold", fontSize=17, leading=22)
HEAD = ParagraphStyle("head", parent=BODY, fontName="Paper-Bold", fontSize=10.4, spaceBefore=8, spaceAfter=4)
PLAIN = TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("FONT", (0, 0), (-1, -1), "Paper", 8)])
WIDE, HALF, BESIDE = 178 * mm, 96 * mm, 82 * mm
HIGH, MIDDLE, PERCENT = 60 * mm, 30 * mm, 5 * mm
"""Of the picture: its height, where zero lies, and how much a percent is."""


def reportlab_engine() -> Callable[[RecordToPrint], bytes]:
    """Sets a record."""
    registerFont(TTFont("Paper", FONTS / f"{FAMILY}-400.ttf"))
    registerFont(TTFont("Paper-Bold", FONTS / f"{FAMILY}-700.ttf"))
    registerFontFamily("Paper", normal="Paper", bold="Paper-Bold", italic="Paper", boldItalic="Paper-Bold")

    def render(printed: RecordToPrint) -> bytes:
        made = BytesIO()
        margins = {
            "leftMargin": 16 * mm,
            "rightMargin": 16 * mm,
            "topMargin": 13 * mm,
            "bottomMargin": 17 * mm,
        }
        SimpleDocTemplate(made, pagesize=A4, **margins).build(_story(printed), onLaterPages=_foot)
        return made.getvalue()

    return render


def _foot(canvas: Any, document: Any) -> None:
    canvas.setFont("Paper", 7.4)
    canvas.drawRightString(A4[0] - 16 * mm, 10 * mm, str(document.page))


def _story(printed: RecordToPrint) -> list[Any]:
    matter = words(printed)
    verdict = matter["verdict"]
    beside = [Paragraph(escape(matter["picture"]["head"]), HEAD), _picture(printed)]
    story: list[Any] = [
        _table([[matter["workshop"], matter["record"]]], WIDE),
        Paragraph(escape(matter["heading"]), TITLE),
        Paragraph(escape(matter["subtitle"]), BODY),
        Paragraph(
            f"<b>{escape(verdict['word'])}</b>, {escape(verdict['phase'])}. {escape(matter['next'])}", BODY
        ),
        Paragraph(escape(matter["what"]["head"]), HEAD),
        Table([[_table(matter["what"]["rows"], HALF - 4 * mm), beside]], [HALF, BESIDE], style=PLAIN),
    ]
    for phase in matter["phases"]:
        story += [Paragraph(escape(phase["head"]), HEAD), *_paragraphs(phase["decided"])]
        for point in phase["points"]:
            both = [_paragraphs(point_sentences(point)), _table(point_rows(point), BESIDE - 4 * mm)]
            story.append(Table([both], [HALF, BESIDE], style=PLAIN))
    for head, rows, said in sections(matter):
        story += [Paragraph(escape(head), HEAD), *_paragraphs(said), *([_table(rows, WIDE)] if rows else [])]
    return story


def _paragraphs(said: Iterable[str]) -> list[Any]:
    return [Paragraph(escape(one), BODY) for one in said]


def _table(rows: Rows, wide: float) -> Any:
    cells = [[_cell(text, wide / len(row)) for text in row] for row in rows]
    return Table(cells, [wide / len(cells[0])] * len(cells[0]), style=PLAIN)


def _cell(text: str, wide: float) -> Any:
    """Words that fit stand as they are, which is much quicker than a paragraph."""
    return text if stringWidth(text, "Paper", 8) < wide - 4 * mm else Paragraph(escape(text), BODY)


def _picture(printed: RecordToPrint) -> Any:
    """Deviation against torque with limit and interval, as plain as the charts of the program."""
    drawing = Drawing(BESIDE - 8 * mm, HIGH)
    contents = [said["content"] for said in printed.view.body["verdicts"].values()]
    points = [point for content in contents for point in content["points"]]
    limit = float(points[0]["limit_percent"] or 0)
    drawing.add(Rect(0, MIDDLE - limit * PERCENT, drawing.width, 2 * limit * PERCENT, fillColor=None))
    drawing.add(Line(0, MIDDLE, drawing.width, MIDDLE))
    for i, point in enumerate(points):
        x, counted = drawing.width * (i + 0.5) / len(points), point["counted"]
        low, high = (MIDDLE + counted[end] * PERCENT for end in ("low_percent", "high_percent"))
        drawing.add(Line(x, low, x, high))
        drawing.add(Circle(x, MIDDLE + counted["deviation_percent"] * PERCENT, 3, fillColor=None))
        drawing.add(String(x, 0, point["target"], fontName="Paper", fontSize=8, textAnchor="middle"))
    return drawing
