"""What stands of a thing in the ledger, or that there is none of that name."""

from steelyard.desk.ports import Body, Ledger
from steelyard.errors import NotFound
from steelyard.records import Subject


def standing(ledger: Ledger, sort: Subject, name: str) -> Body:
    """The document of a subject. Raises NotFound."""
    body = ledger.document(sort.named(name))
    if body is None:
        raise NotFound(f"{sort} {name}")
    return body
