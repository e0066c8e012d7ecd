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
LONGEST = 80


@dataclass(frozen=True)
class Difference:
    """One place. where: its way through the record, `content · pulls · 3 · typed`. there, here: in the file
    and in the ledger, as short text; empty where there is nothing."""

    where: str
    there: str
    here: str


@dataclass(frozen=True)
class Beside:
    """How a record in a file stands beside the ledger. is_there: it has one of that number. differences: the
    first places that are not the same."""

    is_there: bool
    differences: tuple[Difference, ...] = ()

    @property
    def is_same(self) -> bool:
        """The ledger has that record, as far as it was compared."""
        return self.is_there and not self.differences


def beside_ledger(ledger: Ledger, record: int, digest: str, export: Mapping[str, Any] | None) -> Beside:
    """A record in a file beside the one of that number.

    record, digest: as the file names it. export: the whole of it as it was read, perhaps anything; None where
    only number and digest are known.
    """
    try:
        own = record_export(ledger, record)
    except (NotFound, OverflowError):
        return Beside(is_there=False)
    said = {"record": record, "digest": digest} if export is None else export
    found = (place for name in COMPARED if name in said for place in _between(said[name], own[name], (name,)))
    return Beside(True, tuple(place for place, _ in zip(found, range(MOST), strict=False)))


def _between(there: Any, here: Any, way: tuple[str, ...]) -> Iterator[Difference]:
    if isinstance(there, Mapping) and isinstance(here, Mapping):
        for name in sorted({*there, *here}):
            yield from _between(there.get(name), here.get(name), (*way, name))
    elif isinstance(there, list) and isinstance(here, list):
        for number in range(max(len(there), len(here))):
            yield from _between(_at(there, number), _at(here, number), (*way, str(number + 1)))
    elif there != here or isinstance(there, bool) != isinstance(here, bool):
        yield Difference(" · ".join(map(harmless, way)), _short(there), _short(here))


def _at(rows: list[Any], number: int) -> Any:
    return rows[number] if number < len(rows) else None


def _short(value: Any) -> str:
    if value is None:
        return ""
    return "…" if isinstance(value, Mapping | list) else harmless(str(value))


def harmless(text: str) -> str:
    """A text from anywhere, cut short and fit for a terminal: nothing in it steers one or turns a line."""
    return "".join(sign if sign.isprintable() else "·" for sign in text[:LONGEST])
