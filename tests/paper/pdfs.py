"""What stands in a PDF, read by others' programs: pikepdf its structure, pypdfium2 its text and its pages."""

import io
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pikepdf
import pypdfium2

PARTS = ("{http://www.aiim.org/pdfa/ns/id/}", "{http://www.aiim.org/pdfua/ns/id/}")
BETWEEN = re.compile(r"[\s\u200b\ufffe\x02]+")


@contextmanager
def opened(content: bytes) -> Iterator[pikepdf.Pdf]:
    """The structure of a PDF."""
    with pikepdf.open(io.BytesIO(content)) as pdf:
        yield pdf


def pages(content: bytes) -> list[str]:
    """The text of each page in the order it is read out, each gap one blank."""
    document = pypdfium2.PdfDocument(content)
    try:
        return [_text(document[i]) for i in range(len(document))]
    finally:
        document.close()


def _text(page: pypdfium2.PdfPage) -> str:
    text_page = page.get_textpage()
    said = text_page.get_text_bounded()
    text_page.close()
    return BETWEEN.sub(" ", unicodedata.normalize("NFC", said))


def place_of(content: bytes, text: str) -> float:
    """How far from the left edge of the first page a text begins. [pt] Raises ValueError where it is not."""
    return _boxes(content, text)[0][0]


def rightmost(content: bytes, letter: str) -> float:
    """How far from the left edge of the first page its last such letter reaches. [pt]"""
    return max(box[2] for box in _boxes(content, letter))


def _boxes(content: bytes, text: str) -> list[tuple[float, float, float, float]]:
    document = pypdfium2.PdfDocument(content)
    text_page = document[0].get_textpage()
    said = "".join(text_page.get_text_range(i, 1) for i in range(text_page.count_chars()))
    found = [text_page.get_charbox(one.start()) for one in re.finditer(re.escape(text), said)]
    text_page.close()
    document.close()
    if not found:
        raise ValueError(f"{text!r} is not on the page")
    return found


def whole(content: bytes) -> str:
    """The text of all pages."""
    return " ".join(pages(content))


def squeezed(text: str) -> str:
    """A text without its gaps, as long words are broken over lines."""
    return BETWEEN.sub("", text)


def sizes(content: bytes) -> set[tuple[int, int]]:
    """Sizes of the pages. [pt]"""
    with opened(content) as pdf:
        return {(round(float(page.mediabox[2])), round(float(page.mediabox[3]))) for page in pdf.pages}


def elements(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Every element of the structure, in order."""
    todo = [pdf.Root.StructTreeRoot.K]
    while todo:
        one = todo.pop(0)
        if isinstance(one, pikepdf.Array):
            todo = [*one, *todo]
        elif isinstance(one, pikepdf.Dictionary) and "/S" in one:
            yield one
            todo = [*([one.K] if "/K" in one else []), *todo]


def kinds(pdf: pikepdf.Pdf) -> Counter[str]:
    """How many elements of each kind there are."""
    return Counter(str(one.S).removeprefix("/") for one in elements(pdf))


def fonts(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Every font that is used."""
    for one in pdf.objects:
        if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font":
            yield one
