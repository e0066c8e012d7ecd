"""From entries to the row of a document, the same for every kind of ledger."""

import json
from collections.abc import Callable
from typing import Any

from steelyard.records import Entry, fold, listing, subject_name, subject_sort

Body = dict[str, Any]
APART = "  "
"""Stands between the key of a listing and the name, so that T-1 comes before T-1 B whatever their names."""
MOST_WORDS, LONGEST_WORD = 40, 100


def fold_into(documents: dict[str, Body], entry: Entry, stored: Callable[[str], str | None]) -> None:
    """Fold an entry into the document of its subject.

    documents: by subject, those folded so far. stored: JSON of the document of a subject before; None where
    nothing was written of it.
    """
    if entry.subject in documents:
        before: Body | None = documents[entry.subject]
    else:
        text = stored(entry.subject)
        before = None if text is None else body_from(text)
    documents[entry.subject] = fold(before, entry)


def row_of(subject: str, body: Body) -> dict[str, Any]:
    """The row of a document: its body as JSON, and all that it is found by.

    Its key is that of the listing and its name: no two documents share one, so that a page never skips one.
    """
    found = listing(subject, body)
    return {
        "subject": subject,
        "sort": subject_sort(subject).value,
        "key": f"{found.key}{APART}{subject_name(subject)}",
        "state": found.state,
        "day": found.day,
        "due": found.due,
        "owner": found.owner,
        "who": found.who,
        "words": found.words,
        "last": body["last"],
        "body": json.dumps(body, ensure_ascii=False, sort_keys=True, separators=(",", ":")),
    }


def body_from(text: str) -> Body:
    """A document from its JSON. Raises json.JSONDecodeError for anything else."""
    body: Body = json.loads(text)
    return body


def sought(words: str) -> tuple[str, ...]:
    """The words a search looks for, in small letters; of a long text only the beginning counts."""
    return tuple(dict.fromkeys(word[:LONGEST_WORD] for word in words.casefold().split()))[:MOST_WORDS]
