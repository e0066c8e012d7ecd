"""The quantities of a table in a certificate, in every form the D-SI has for them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from steelyard.errors import InputRefused
from steelyard.paper.dcc.elements import DCC, SI
from steelyard.paper.dcc.safely import Element

NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([Ee][-+]?\d{1,3})?")
LARGEST_POWER = 30
LONGEST_NUMBER = 40
MEANINGS = {
    "measuredValue": "shown",
    "indicatedValue": "shown",
    "indication": "shown",
    "referenceValue": "true",
    "nominalValue": "nominal",
    "measurementError": "error",
    "measurementError_error": "error",
    "measurementErrorRelative": "error",
    "correction": "correction",
    "measurementError_correction": "correction",
}
"""What a refType says of a quantity, by what stands behind its prefix."""
UNCERTAINTIES = (
    ("valueExpandedMU", True),
    ("valueStandardMU", False),
    ("uncertainty", True),
    ("standardUnc", False),
)
"""Where an uncertainty stands, in the forms of 2.2.1 and the deprecated ones; whether it is expanded."""
ONE_STANDARD = "1"
FOR_ALL = (f"{{{SI}}}listMeasurementUncertaintyUnivariate", f"{{{SI}}}listUnivariateUnc")


@dataclass(frozen=True)
class Cell:
    """One value of a table.

    unit: as the D-SI spells it. expanded: its U in the same unit; coverage: its k; each empty where none is
    stated.
    """

    number: Decimal
    unit: str
    expanded: str = ""
    coverage: str = ""


Column = tuple[Cell, ...]


def tables_in(root: Element) -> Iterator[dict[str, Column]]:
    """Every table of the results that stand, its columns by what they mean; history is left out."""
    blocks = root.findall(f"{{{DCC}}}measurementResults/{{{DCC}}}measurementResult")
    after = [block for block in blocks if _has_status(block, "after")]
    for block in after or blocks:
        for data in block.findall(f"{{{DCC}}}results/{{{DCC}}}result/{{{DCC}}}data"):
            yield from _tables(data)


def _has_status(block: Element, beginning: str) -> bool:
    path = f"{{{DCC}}}influenceConditions/{{{DCC}}}influenceCondition/{{{DCC}}}status"
    return any((status.text or "").strip().startswith(beginning) for status in block.findall(path))


def _tables(parent: Element) -> Iterator[dict[str, Column]]:
    columns: dict[str, Column] = {}
    for quantity in parent.findall(f"{{{DCC}}}quantity"):
        meaning = _meaning(quantity.get("refType", ""))
        if meaning and meaning not in columns:
            columns[meaning] = tuple(_cells(quantity))
    if columns:
        yield columns
    for inner in parent.findall(f"{{{DCC}}}list"):
        yield from _tables(inner)


def _meaning(kinds: str) -> str | None:
    return next((m for kind in kinds.split() if (m := MEANINGS.get(kind.partition("_")[2]))), None)


def _cells(quantity: Element) -> Iterator[Cell]:
    """The values of a quantity; of one in several units those of the first."""
    for parent in (quantity, *quantity.findall(f"{{{SI}}}hybrid"), *quantity.iterfind(f"{{{SI}}}list")):
        for element in parent.iterchildren(f"{{{SI}}}real", f"{{{SI}}}realListXMLList", f"{{{SI}}}realList"):
            yield from _of(element)
            return


def _of(element: Element) -> Iterator[Cell]:
    if element.tag == f"{{{SI}}}real":
        yield from _one_by_one(element, "")
    elif element.tag == f"{{{SI}}}realListXMLList":
        yield from _one_by_one(element, "XMLList")
    else:
        yield from _in_a_list(element)


def _in_a_list(element: Element) -> Iterator[Cell]:
    """The numbers of a list; unit and uncertainty may stand once for all of them."""
    unit = element.findtext(f"{{{SI}}}listUnit", "")
    common: tuple[list[str], list[str]] = ([], [])
    for once in element.iterchildren(*FOR_ALL):
        common = _uncertainty(once, "")
    for real in element.findall(f"{{{SI}}}real"):
        yield from _one_by_one(real, "", unit=unit, common=common)


def _one_by_one(
    element: Element, ending: str, *, unit: str = "", common: tuple[list[str], list[str]] = ([], [])
) -> Iterator[Cell]:
    numbers = _texts(element, f"value{ending}")
    units = _each(_texts(element, f"unit{ending}") or [unit], len(numbers))
    own = _uncertainty(element, ending)
    expanded, coverage = own if own[0] else common
    stated = _each(expanded or [""], len(numbers))
    factors = _each(coverage or [""], len(numbers))
    for number, spelling, u, k in zip(numbers, units, stated, factors, strict=True):
        yield Cell(number_of(number), spelling, u, k)


def _uncertainty(element: Element, ending: str) -> tuple[list[str], list[str]]:
    """U and k of each value; a standard uncertainty has k = 1."""
    for name, is_expanded in UNCERTAINTIES:
        found = next(element.iter(f"{{{SI}}}{name}{ending}"), None)
        if found is None:
            continue
        parent = found.getparent()
        coverage = _texts(parent, f"coverageFactor{ending}") if parent is not None else []
        return (found.text or "").split(), coverage if is_expanded else [ONE_STANDARD]
    return [], []


def _texts(element: Element, name: str) -> list[str]:
    return (element.findtext(f"{{{SI}}}{name}") or "").split()


def _each(texts: list[str], count: int) -> list[str]:
    """One text for each value; one alone serves all. Raises InputRefused for any other count."""
    if len(texts) == count:
        return texts
    if len(texts) != 1:
        raise InputRefused("", " ".join(texts), "want-dcc-even", count=count)
    return texts * count


def number_of(text: str) -> Decimal:
    """A number with the digits as written. Raises InputRefused."""
    if len(text) > LONGEST_NUMBER or not NUMBER.fullmatch(text):
        raise InputRefused("", text, "want-dcc-number")
    number = Decimal(text)
    if abs(number.adjusted()) > LARGEST_POWER:
        raise InputRefused("", text, "want-dcc-number")
    return number
