"""A printed record against the ledger: whether that entry is still there as it was printed."""

from collections.abc import Mapping

from steelyard.desk.book import record_body
from steelyard.desk.ports import Keeper, Ledger
from steelyard.errors import InputRefused, NotFound
from steelyard.findings import Finding, Severity

LONGEST_NUMBER = 12


def printed_stands(ledger: Ledger, keeper: Keeper, typed: Mapping[str, str]) -> tuple[Finding, ...]:
    """Nothing where the ledger still holds what was printed, else what is missing.

    typed: `record` or `entry`, one of the numbers on the record, and `digest`: of the entry, as printed; the
        first eight digits are enough.
    Raises InputRefused with the field; StoreTrouble.
    """
    record, entry = _number(typed, "record"), _number(typed, "entry")
    if not typed.get("digest", "").strip():
        raise InputRefused("digest", None, "want-digest")
    if entry is None and record is None:
        raise InputRefused("record", None, "want-printed-number")
    if entry is None:
        try:
            entry = int(record_body(ledger, record or 0)["closed"]["number"])
        except NotFound:
            return (Finding("record-cut", Severity.GRAVE, {"record": record or 0}),)
    return tuple(keeper.verify_against(entry, typed["digest"]))


def _number(typed: Mapping[str, str], field: str) -> int | None:
    text = typed.get(field, "").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and len(text) <= LONGEST_NUMBER):
        raise InputRefused(field, text, "want-printed-number")
    return int(text)
