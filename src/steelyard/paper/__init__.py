"""Documents of a check and its tool, made from what was sealed, for people and for machines.

In: bodies and views of the desk, the workshop's facts and marks. Out: bytes of a document that says all of
it, with findings for what could not be shown. Judges nothing, reads no ledger and no clock. Refuses nothing
of a record: a character no font has is shown by its number.
"""

from steelyard.paper.record import Paper, record_paper

__all__ = ["Paper", "record_paper"]
