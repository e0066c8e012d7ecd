"""A table of a workshop as a file."""

from collections.abc import Iterator, Mapping

from steelyard.bootstrap.opened import Workshop
from steelyard.desk.tables_out import table_out


def table_file(opened: Workshop, what: str, typed: Mapping[str, str], *, form: str) -> Iterator[bytes]:
    """The bytes of a table, piece by piece.

    what, typed: as in `table_out`. form: csv, xlsx or json. What is refused is so before the first piece.
    Raises NotFound, InputRefused, StoreTrouble.
    """
    from steelyard.sheets.writing import written

    return written(table_out(opened.ledger, what, typed), form)
