"""A sealed record as a PDF, made from the record alone: for people to read, with its files for machines."""

import mimetypes
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.charts import mark
from steelyard.desk.on_paper import PaperSize, RecordToPrint
from steelyard.findings import Finding, Severity
from steelyard.paper.coverage import held_together, shown
from steelyard.paper.dcc import dcc_of
from steelyard.paper.record_matter import file_words, record_matter, record_signs, sealed_at
from steelyard.paper.typesetting import as_numbers, typeset
from steelyard.words import say

TYPST_SIZES: dict[PaperSize, str] = {"a4": "a4", "letter": "us-letter"}
LONGEST_WORD, PIECE = 24, 8
"""Letters: a longer word may be broken anywhere between pieces, so that no line leaves the page."""
FAMILIES = "Atkinson Hyperlegible Next, Noto Sans, Noto Sans Hebrew, Noto Sans Arabic"
MAY_BREAK, HOLDS = "\u200b", "\u00a0"
BEFORE_PERCENT = re.compile(r"(?<=\d) (?=%)")
MOST_CODES = 12
LOGO = "logo.json"
CERTIFICATE = "dcc.xml"
TYPES = {"toml": "application/toml", "json": "application/json", "xml": "application/xml"}


@dataclass(frozen=True)
class Paper:
    """A document. content: bytes of the PDF. findings: what could not be shown as it is."""

    content: bytes
    findings: tuple[Finding, ...]


def record_paper(
    printed: RecordToPrint,
    *,
    page: PaperSize | None = None,
    is_demo: bool = False,
) -> Paper:
    """A record on paper; the same record gives the same bytes.

    page: None takes the workshop's. is_demo: it is marked so on each page. Attached are the files of the
    record and its certificate in XML.
    """
    certificate = dcc_of(printed.export, workshop=printed.workshop.name, is_demo=is_demo)
    files = {**printed.files, CERTIFICATE: certificate}
    matter, codes = _shown(record_matter(printed, files, is_demo=is_demo))
    pictures: dict[str, bytes] = {f"sign-{sign}.svg": mark(sign).encode() for sign in record_signs()}
    _lay_out_pictures(matter, pictures)
    if printed.logo is not None:
        pictures[LOGO] = as_numbers(printed.logo.content)
    found = _unshown(codes)
    day = sealed_at(printed.view)
    data = {
        **matter,
        "paper": TYPST_SIZES[page or printed.workshop.paper],
        "day": (day.year, day.month, day.day, day.hour, day.minute, day.second),
        "logo": LOGO if printed.logo is not None else "",
        "unshown": [say(finding.code, **finding.facts) for finding in found],
        "attached": [
            {"name": name, "place": f"attached-{i}", "type": _type(name), "words": file_words(name)}
            for i, name in enumerate(files)
        ],
    }
    attached = {f"attached-{i}": content for i, content in enumerate(files.values())}
    content = typeset("record.typ", data, made=day, files={**pictures, **attached})
    return Paper(content, found)


def _type(name: str) -> str:
    return TYPES.get(name.rpartition(".")[2]) or mimetypes.guess_type(name)[0] or "application/octet-stream"


def _shown(matter: Any) -> tuple[Any, dict[str, None]]:
    """The same with every text as the fonts can show it, and the numbers of what they cannot."""
    codes: dict[str, None] = {}

    def one(value: Any, key: str = "") -> Any:
        if isinstance(value, Mapping):
            return {name: one(inside, name) for name, inside in value.items()}
        if isinstance(value, list | tuple):
            return [one(inside) for inside in value]
        if not isinstance(value, str) or key == "svg":
            return value
        text, put = shown(value)
        codes.update(dict.fromkeys(put))
        held = BEFORE_PERCENT.sub(HOLDS, held_together(text))
        return " ".join(map(_breakable, held.split(" ")))

    return one(matter), codes


def _breakable(word: str) -> str:
    if len(word) <= LONGEST_WORD:
        return word
    return MAY_BREAK.join(word[i : i + PIECE] for i in range(0, len(word), PIECE))


def _lay_out_pictures(value: Any, pictures: dict[str, bytes]) -> None:
    """Take each drawing out of the data and put the name of its file in its place."""
    if isinstance(value, dict):
        if "svg" in value:
            name = f"picture-{len(pictures)}.svg"
            pictures[name] = in_our_fonts(shown(value.pop("svg"))[0]).encode()
            value["file"] = name
        for inside in value.values():
            _lay_out_pictures(inside, pictures)
    elif isinstance(value, list):
        for inside in value:
            _lay_out_pictures(inside, pictures)


def in_our_fonts(svg: str) -> str:
    """A drawing whose words are set in the fonts of the paper."""
    return svg.replace("<svg ", f'<svg font-family="{FAMILIES}" ', 1)


def _unshown(codes: Mapping[str, None]) -> tuple[Finding, ...]:
    if not codes:
        return ()
    told = ", ".join(list(codes)[:MOST_CODES])
    told = say("paper-unshown-more", codes=told) if len(codes) > MOST_CODES else told
    return (Finding("paper-unshown", Severity.NOTE, {"codes": told}),)
