"""A record that came back in a file, against the one in the ledger: what is not the same."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.book import record_export
from steelyard.desk.ports import Ledger
from steelyard.errors import NotFound

COMPARED = ("record", "digest", "entry", "sealed", "content")
"""What never changes once it is sealed; corrections and signatures follow, names are forgotten."""
MOST = 20


@dataclass(frozen=True)
class Difference:
    """One place. where: its way through the record, `content · pulls · 3 · typed`. there, here: in the file
    and in the ledger, as short text; empty where there is nothing."""

    where: str
    there: str
    here: str


def differences(ledger: Ledger, export: Mapping[str, Any]) -> tuple[Difference, ...] | None:
    """Where a record in a file is not the one of that number in the ledger, at most twenty places.

    export: as it was read, perhaps anything. None where the ledger has no record of that number.
    """
    record = export.get("record")
    try:
        own = record_export(ledger, record) if type(record) is int else None
    except NotFound:
        own = None
    if own is None:
        return None
    found = (place for name in COMPARED for place in _between(export.get(name), own[name], (name,)))
    return tuple(place for place, _ in zip(found, range(MOST), strict=False))


def _between(there: Any, here: Any, way: tuple[str, ...]) -> Iterator[Difference]:
    if isinstance(there, Mapping) and isinstance(here, Mapping):
        for name in sorted({*there, *here}):
            yield from _between(there.get(name), here.get(name), (*way, name))
    elif isinstance(there, list) and isinstance(here, list):
        for number in range(max(len(there), len(here))):
            yield from _between(_at(there, number), _at(here, number), (*way, str(number + 1)))
    elif there != here or type(there) is not type(here):
        yield Difference(" · ".join(way), _short(there), _short(here))


def _at(rows: list[Any], number: int) -> Any:
    return rows[number] if number < len(rows) else None


def _short(value: Any) -> str:
    if value is None:
        return ""
    return "…" if isinstance(value, Mapping | list) else str(value)[:80]
