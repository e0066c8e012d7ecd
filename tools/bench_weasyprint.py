"""A record by WeasyPrint: the words as HTML, the picture as it is, the record attached."""

from collections.abc import Callable, Iterable
from html import escape

from bench_words import Matter, point_rows, point_sentences, sections, words

from steelyard.desk.on_paper import RecordToPrint
from steelyard.paper.typesetting import FONTS

JSON = "record.json"
FAMILY = "atkinson-hyperlegible-next"
STYLE = f"""
@font-face {{ font-family: Paper; src: url({(FONTS / f"{FAMILY}-400.ttf").as_uri()}) }}
@font-face {{ font-family: Paper; font-weight: 700; src: url({(FONTS / f"{FAMILY}-700.ttf").as_uri()}) }}
@page {{ size: A4; margin: 13mm 16mm 17mm; @bottom-right {{ content: counter(page) " / " counter(pages) }} }}
body {{ font: 8.6pt Paper }}
h1 {{ font-size: 17pt; margin: 6pt 0 }} h2 {{ font-size: 10.4pt; margin: 8pt 0 4pt }} p {{ margin: 2pt 0 }}
table {{ border-collapse: collapse; width: 100% }}
td {{ padding: 1.5pt 3pt; vertical-align: top }}
svg {{ width: 74mm; height: 74mm }}
"""


def weasyprint_engine() -> Callable[[RecordToPrint], bytes]:
    """Sets a record. Raises OSError where a library of the system is missing."""
    from weasyprint import CSS, HTML, Attachment
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    style = CSS(string=STYLE, font_config=fonts)

    def render(printed: RecordToPrint) -> bytes:
        attached = [Attachment(string=printed.files[JSON], name=JSON, description=JSON)]
        page = HTML(string=as_html(words(printed)))
        made: bytes = page.write_pdf(stylesheets=[style], font_config=fonts, attachments=attached)
        return made

    return render


def as_html(matter: Matter) -> str:
    """The words of a record as a plain page."""
    verdict = matter["verdict"]
    what = _rows([*matter["what"]["rows"]]), f"<h2>{matter['picture']['head']}</h2>{matter['picture']['svg']}"
    parts = [
        f"<html lang=en><title>{escape(matter['title'])}</title>",
        _rows([[matter["workshop"], matter["record"]]]),
        f"<h1>{escape(matter['heading'])}</h1><p>{escape(matter['subtitle'])}</p>",
        f"<p><b>{escape(verdict['word'])}</b>, {escape(verdict['phase'])}. {escape(matter['next'])}</p>",
        f"<h2>{matter['what']['head']}</h2><table><tr><td>{what[0]}</td><td>{what[1]}</td></tr></table>",
    ]
    for phase in matter["phases"]:
        parts.append(f"<h2>{escape(phase['head'])}</h2>{_sentences(phase['decided'])}")
        for point in phase["points"]:
            said, read = _sentences(point_sentences(point)), _rows(point_rows(point))
            parts.append(f"<table><tr><td>{said}</td><td>{read}</td></tr></table>")
    parts += [
        f"<h2>{escape(head)}</h2>{_sentences(said)}{_rows(rows)}" for head, rows, said in sections(matter)
    ]
    return "".join(parts)


def _rows(rows: Iterable[Iterable[str]]) -> str:
    cells = ("".join(f"<td>{escape(cell)}</td>" for cell in row) for row in rows)
    return f"<table>{''.join(f'<tr>{row}</tr>' for row in cells)}</table>"


def _sentences(said: Iterable[str]) -> str:
    return "".join(f"<p>{escape(one)}</p>" for one in said)
