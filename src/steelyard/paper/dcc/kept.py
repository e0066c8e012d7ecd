"""A record as it was exported, in the shape in which pages read one."""

from collections.abc import Mapping
from typing import Any

from steelyard.desk import Body, RecordView
from steelyard.records import day_there
from steelyard.telling import record_points

MARK = "."
"""Sentences in a file for programs have the decimal point."""
FROM_FILE = "file"


def view_of(export: Mapping[str, Any]) -> RecordView:
    """The view of a record from its export alone; of the tool as it is now it knows nothing."""
    content = export["content"]
    closed = {**export["sealed"], "digest": export["digest"], "record": export["record"]}
    body = {**content, "id": content["check"], "closed": closed, "corrections": export["corrections"]}
    entry = export["entry"]
    return RecordView(body, {}, export["is_intact"], entry["number"], entry["digest"], export["people"])


def judged_phases(body: Body) -> list[str]:
    """The phases that were judged, in order; the last one stands."""
    return [phase for phase in record_points.PHASES if phase in body["verdicts"]]


def first_and_last_day(body: Body) -> tuple[str, str]:
    """On which days the check was begun and sealed; a check from a file names one day for both."""
    opened, sealed = body["opened"], body["closed"]["day"]
    if body["why"] == FROM_FILE:
        return sealed, sealed
    return min(day_there(opened["at"], opened["offset_minutes"]), sealed), sealed
