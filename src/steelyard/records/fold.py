"""Folding entries into documents: what stands now of a subject, and how it is found again."""

from collections.abc import Callable, Mapping
from typing import Any

from steelyard.records.entry import Entry
from steelyard.records.fold_check import CHECK_FOLDS, check_listing
from steelyard.records.fold_rig import RIG_FOLDS, rig_listing
from steelyard.records.fold_tool import TOOL_FOLDS, tool_listing
from steelyard.records.fold_workshop import WORKSHOP_FOLDS, workshop_listing
from steelyard.records.kinds import Subject, subject_name, subject_sort
from steelyard.records.listing import Body, Fold, Listing

FOLDS: Mapping[str, Mapping[str, Fold]] = {
    Subject.WORKSHOP: WORKSHOP_FOLDS,
    Subject.TOOL: TOOL_FOLDS,
    Subject.RIG: RIG_FOLDS,
    Subject.CHECK: CHECK_FOLDS,
}
LISTINGS: Mapping[Subject, Callable[[Body], Listing]] = {
    Subject.WORKSHOP: workshop_listing,
    Subject.TOOL: tool_listing,
    Subject.RIG: rig_listing,
    Subject.CHECK: check_listing,
}


def fold(body: Body | None, entry: Entry) -> dict[str, Any]:
    """The document of a subject after one more entry of it; the document before is left as it was.

    body: what stood before; None for the first entry of a subject.
    Of JSON types only. Every document has `id`, the name in its subject, and its `first` and `last` entry.
    Raises KeyError for a kind that does not fit the subject: the caller's bug, or a chain tampered with.
    """
    before = dict(body) if body is not None else {"id": subject_name(entry.subject), "first": entry.number}
    sort, _, _ = entry.subject.partition(":")
    after = FOLDS[sort][entry.kind](before, entry)
    return {**after, "last": entry.number}


def listing(subject: str, body: Body) -> Listing:
    """How a document is found and where it stands in a list."""
    return LISTINGS[subject_sort(subject)](body)
