"""What comes into the workshop, for programs: a table, tried or kept as a whole."""

import tempfile
from pathlib import Path
from typing import Annotated

from fastapi import APIRouter, Body
from pydantic import BaseModel

from steelyard.bootstrap.taking_in import Tried, digest_of_file, keep_table, kept_before, try_table
from steelyard.desk import Acting
from steelyard.desk.columns_in import WHATS
from steelyard.desk.ports import Streamed
from steelyard.desk.taking_in import Fate
from steelyard.errors import NotFound
from steelyard.web.api_sent import Asked, Text, Token
from steelyard.web.asked import Typed
from steelyard.web.exchange_in import file_name

router = APIRouter(tags=["exchange"])
ANY_TABLE = "text/csv"
"""As the body is described; which of the forms it is, is found out from the body itself."""


class RowRefused(BaseModel):
    """A row that cannot be used.

    row: its number in the file. name: which it is, in a few words. field: the column. sentence: why.
    """

    row: int
    name: str
    field: str
    sentence: str


class TableTaken(BaseModel):
    """What becomes of the rows of a table: how many are new, there already, refused.

    rows: the first 200 refused ones. digest: SHA-256 of the file. is_kept: the new ones are written, from
    entry first to last. Nothing is kept while a row is refused.
    """

    what: str
    digest: str
    new: int
    there: int
    refused: int
    rows: list[RowRefused]
    is_kept: bool
    first: int | None
    last: int | None


@router.post("/api/tables/{what}")
def post_table(
    ask: Asked,
    what: str,
    content: Annotated[bytes, Body(media_type=ANY_TABLE)],
    keep: bool = False,
    name: Text = "",
    submission: Token | None = None,
) -> TableTaken:
    """Take in a table of tools (`rack`), references (`rigs`), an old notebook (`history`), records of another
    workshop (`records`) or readings for checks in hand (`pulls`).

    The body is the file: CSV, XLSX, ODS or JSON. Without `keep` nothing is written; with it all rows or none.
    """
    if what not in WHATS:
        raise NotFound(what)
    acting = ask.acting(Typed({"submission": submission} if submission else {}))
    with tempfile.TemporaryDirectory(prefix="steelyard-") as folder:
        table = Path(folder) / "table"
        table.write_bytes(content)
        before = kept_before(acting, table) if keep else None
        if before is not None:
            return _kept_then(what, table, before)
        tried = try_table(ask.acting(), table, asked=what, name=file_name(name))
        return _answer(tried, _kept(acting, table, tried) if keep else None)


def _kept(acting: Acting, table: Path, tried: Tried) -> Streamed | None:
    return None if tried.tally.refused else keep_table(acting, table, tried)


def _kept_then(what: str, table: Path, written: Streamed) -> TableTaken:
    """The answer to a repeat: what was written then."""
    tried = Tried(what, table.name, digest_of_file(table), is_whole=True)
    tried.tally.new = written.count
    return _answer(tried, written)


def _answer(tried: Tried, written: Streamed | None) -> TableTaken:
    tally = tried.tally
    has_entries = written is not None and written.count > 0
    return TableTaken(
        what=tried.what,
        digest=tried.digest,
        new=tally.new,
        there=tally.there,
        refused=tally.refused,
        rows=[_row(fate) for fate in tally.first_refused],
        is_kept=written is not None,
        first=written.first if written is not None and has_entries else None,
        last=written.first + written.count - 1 if written is not None and has_entries else None,
    )


def _row(fate: Fate) -> RowRefused:
    return RowRefused(row=fate.row, name=fate.name, field=fate.field, sentence=fate.sentence)
