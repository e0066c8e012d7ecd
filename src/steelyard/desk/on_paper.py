"""What a record on paper is made from: the record, the workshop's own head, and the files that go with it.

The doors take all that is about paper from here.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.book import RecordView, check_form, exported, record_view
from steelyard.desk.ports import KeptFile, Ledger
from steelyard.desk.workshop import PAPER_SIZES, PaperSize, Settings, settings
from steelyard.records import AS_FOUND, AS_LEFT, THE_WORKSHOP, Draft, Fields, Kind

__all__ = [
    "LARGEST_LOGO",
    "PAPER_SIZES",
    "PaperSize",
    "RecordToPrint",
    "as_json",
    "drop_logo",
    "keep_logo",
    "page_size",
    "record_to_print",
]
LARGEST_LOGO = 150_000
"""As it is kept: it is set a few centimetres wide, into each paper. [bytes]"""
CONTENT_FILE = "record.json"


@dataclass(frozen=True)
class RecordToPrint:
    """A record with all that its paper needs.

    export: as `record_export` makes it. logo: as it is kept; None where the workshop has none. files: name:
    content, of what goes with it for machines.
    """

    view: RecordView
    export: Mapping[str, Any]
    workshop: Settings
    logo: KeptFile | None
    files: Mapping[str, bytes]


def record_to_print(ledger: Ledger, record: int) -> RecordToPrint:
    """A record by its number. Raises NotFound."""
    view, said = record_view(ledger, record), settings(ledger)
    export = exported(view)
    forms = {
        f"check-{phase}.toml": check_form(ledger, view.body, phase)
        for phase in (AS_FOUND, AS_LEFT)
        if phase in view.body["verdicts"]
    }
    return RecordToPrint(
        view=view,
        export=export,
        workshop=said,
        logo=ledger.file(said.logo) if said.logo else None,
        files={CONTENT_FILE: as_json(export), **forms},
    )


def page_size(typed: str) -> PaperSize | None:
    """A size of paper as typed; None where nothing was. Raises InputRefused with the field `page`."""
    chosen = Fields({"page": typed} if typed else {}, place="").choice("page", str, list(PAPER_SIZES))
    return next((size for size in PAPER_SIZES if size == chosen), None)


def as_json(export: Mapping[str, Any]) -> bytes:
    """An export as it is written to a file."""
    return json.dumps(export, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()


def keep_logo(acting: Acting, content: bytes, media_type: str) -> None:
    """Keep a picture that stands at the head of what is printed, in the place of one before.

    content, media_type: as the darkroom made it.
    """
    digest = acting.ledger.keep_file(content, media_type)
    acting.write(Draft(Kind.WORKSHOP_SET, THE_WORKSHOP, {"logo": digest}))


def drop_logo(acting: Acting) -> None:
    """Print without a logo from now on."""
    acting.write(Draft(Kind.WORKSHOP_SET, THE_WORKSHOP, {"logo": None}))
