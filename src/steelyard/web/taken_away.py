"""What leaves the workshop as a file, for its page and for a program alike; sent piece by piece."""

from collections.abc import Mapping

from fastapi.responses import StreamingResponse

from steelyard.bootstrap import WHOLE_FILE, table_file, workshop_zip
from steelyard.sheets.tables import MEDIA_TYPES
from steelyard.web.asked import Ask

ZIP = "application/zip"


def table_answer(ask: Ask, what: str, typed: Mapping[str, str], *, form: str) -> StreamingResponse:
    """A table as a file. Raises NotFound, InputRefused, StoreTrouble before anything is sent."""
    pieces = table_file(ask.workshop, what, typed, form=form)
    return StreamingResponse(pieces, media_type=MEDIA_TYPES[form], headers=_named(f"{what}.{form}"))


def whole_answer(ask: Ask) -> StreamingResponse:
    """The whole workshop as a zip. Raises NotFound for a ledger in memory.

    Where something stands in the way later, the answer breaks off: whoever loads it sees that it failed.
    """
    return StreamingResponse(workshop_zip(ask.workshop), media_type=ZIP, headers=_named(WHOLE_FILE))


def _named(name: str) -> dict[str, str]:
    return {"Content-Disposition": f'attachment; filename="{name}"'}
