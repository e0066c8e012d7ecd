"""What a reader is told of a check: sentences and pictures from what was kept, for pages and for paper alike.

In: bodies and views of the desk, the decimal mark of the reader. Out: lines, rows, tables of text, charts.
Judges nothing anew: the digits of a sealed record stand. Refuses nothing.
"""

from steelyard.telling import record_budget, record_points, record_words
from steelyard.telling.changes import changes_said, point_name, way_said
from steelyard.telling.days import at_hour, day_in_words
from steelyard.telling.happened import why
from steelyard.telling.judged import cause_said, doubt_said, judged_phases
from steelyard.telling.marks import (
    marked,
    marked_again,
    marked_as_kept,
    marked_text,
    said_in_mark,
    texts_in,
)

__all__ = [
    "at_hour",
    "cause_said",
    "changes_said",
    "day_in_words",
    "doubt_said",
    "judged_phases",
    "marked",
    "marked_again",
    "marked_as_kept",
    "marked_text",
    "point_name",
    "record_budget",
    "record_points",
    "record_words",
    "said_in_mark",
    "texts_in",
    "way_said",
    "why",
]
