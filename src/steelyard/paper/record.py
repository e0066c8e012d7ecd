"""A sealed record as a PDF, made from the record alone: for people to read, with its files for machines."""

import mimetypes
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from steelyard.charts import mark
from steelyard.desk.on_paper import CONTENT_FILE, PaperSize, RecordToPrint
from steelyard.desk.ports import Signer
from steelyard.findings import Finding, Severity
from steelyard.paper.dcc import dcc_of
from steelyard.paper.dcc.kept import MARK
from steelyard.paper.fit_to_print import FitToPrint
from steelyard.paper.record_matter import file_words, record_matter, record_signs, sealed_at
from steelyard.paper.typesetting import as_numbers, typeset
from steelyard.proof import signed_json, signed_pdf
from steelyard.telling.record_points import phases
from steelyard.words import say

TYPST_SIZES: dict[PaperSize, str] = {"a4": "a4", "letter": "us-letter"}
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
    signer: Signer | None = None,
) -> Paper:
    """A record on paper; the same record gives the same bytes.

    page: None takes the workshop's. is_demo: it is marked so on each page. Attached are the files of the
    record and its certificate in XML. signer: signs the record, the certificate and the whole document.
    """
    if not printed.view.is_intact:
        signer = None  # what was changed in the ledger does not leave as if it had been sealed so
    name = printed.workshop.name
    told = phases(printed.view, printed.workshop.decimal_mark)
    pointed = told if printed.workshop.decimal_mark == MARK else None
    certificate = dcc_of(printed.export, workshop=name, is_demo=is_demo, signer=signer, told=pointed)
    files = {**printed.files, CERTIFICATE: certificate}
    if signer is not None:
        files[CONTENT_FILE] = signed_json(printed.export, signer)
    setter = FitToPrint()
    matter = setter.fit(record_matter(printed, files, told, is_demo=is_demo, is_signed=signer is not None))
    pictures = {**_signs(), **setter.drawings}
    if printed.logo is not None:
        pictures[LOGO] = as_numbers(printed.logo.content)
    found = _unshown(setter.codes)
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
    if signer is not None:
        content = signed_pdf(content, signer, name=name, at=day)
    return Paper(content, found)


@cache
def _signs() -> Mapping[str, bytes]:
    """The signs of the verdicts, by the names of their files."""
    return {f"sign-{sign}.svg": mark(sign).encode() for sign in record_signs()}


def _type(name: str) -> str:
    return TYPES.get(name.rpartition(".")[2]) or mimetypes.guess_type(name)[0] or "application/octet-stream"


def _unshown(codes: Mapping[str, None]) -> tuple[Finding, ...]:
    if not codes:
        return ()
    told = ", ".join(list(codes)[:MOST_CODES])
    told = say("paper-unshown-more", codes=told) if len(codes) > MOST_CODES else told
    return (Finding("paper-unshown", Severity.NOTE, {"codes": told}),)
