"""Turns a template of this room and data into a PDF: fonts, files and time come in, nothing else is read."""

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from datetime import datetime

    import typst

HERE = Path(__file__).parent
TEMPLATES = HERE / "templates"
FONTS = HERE / "fonts"


def typeset(
    template: str, data: Mapping[str, Any], *, made: "datetime", files: Mapping[str, bytes] | None = None
) -> bytes:
    """A PDF after PDF/A-3a and PDF/UA-1; the same input gives the same bytes.

    template: name of a file in `templates`, which may import the others there.
    data: what the template reads with `json(bytes(sys.inputs.data))`; every text in it stays text.
    made: moment the document says it was made, with its zone.
    files: name: content in UTF-8, of drawings and attachments the template reads; a name never that of a
    template. Other bytes come `as_numbers`.
    Raises RuntimeError where the template, a font or a mark in it is wrong: always our own fault.
    """
    import typst

    extra = dict(files or {})
    sources = dict(_templates(TEMPLATES))
    if clash := sources.keys() & extra.keys():
        raise ValueError(f"{sorted(clash)}: names of templates")
    given: Any = {"main.typ": sources.pop(template), **sources, **extra}
    made_pdf, warnings = typst.compile_with_warnings(
        given,
        format="pdf",
        font_paths=fonts(),
        sys_inputs={"data": json.dumps(data, ensure_ascii=False, sort_keys=True)},
        pdf_standards=["a-3a", "ua-1"],
        timestamp=int(made.timestamp()),
    )
    if warnings:
        raise RuntimeError("; ".join(f"{warning.message} {warning.diagnostic}" for warning in warnings))
    return made_pdf


def as_numbers(content: bytes) -> bytes:
    """Bytes of any kind as a JSON list, which a template reads with `bytes(json(name))`: the typesetter takes
    texts alone from memory.
    """
    return json.dumps(list(content), separators=(",", ":")).encode()


@cache
def _templates(folder: Path) -> Mapping[str, bytes]:
    """Every template by the name of its file; read once, as code is."""
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*.typ"))}


@cache
def fonts() -> "typst.Fonts":
    """The fonts of the package and no others: a page looks alike on every machine."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])
