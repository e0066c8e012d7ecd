"""Checks as written and as judged: the check form in, the content of a record out.

In: bytes of a form; results of an evaluation. Out: `CheckForm`; a complete, stable JSON-ready content.
Refuses: unknown fields and kinds, missing units and limits, anything it would have to guess.
"""

from steelyard.records.check_form import LARGEST_BYTES, CheckForm, Variation, read_check
from steelyard.records.form_place import Place
from steelyard.records.form_points import PointForm, PullForm
from steelyard.records.kit import HungKit, Kit, PaperFacts, TransducerKit

__all__ = [
    "LARGEST_BYTES",
    "CheckForm",
    "HungKit",
    "Kit",
    "PaperFacts",
    "Place",
    "PointForm",
    "PullForm",
    "TransducerKit",
    "Variation",
    "read_check",
]
