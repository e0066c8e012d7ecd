"""The form of a whole workshop in one zip: its parts, the lines in them, and how large each may be."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

FORM = 1
MARK = "steelyard_workshop"
"""The first key of the first part; its value is the form."""
WORKSHOP, ENTRIES, NAMES, SUBMISSIONS, FILES = PARTS = (
    "workshop.json",
    "entries.jsonl",
    "names.jsonl",
    "submissions.jsonl",
    "files.jsonl",
)
FOLDER = "files/"
FILE_NAME = re.compile(rf"{FOLDER}[0-9a-f]{{64}}")
LONGEST_HEAD = 64_000
"""Of `workshop.json`. [bytes]"""
LONGEST_LINE = 4_000_000
"""Of one entry or row: a check form has 1 MB at most, twice that with every sign escaped; a verdict less.
Photographs stand in no entry. [bytes]"""
SALT = re.compile(r"[0-9a-f]{32}")
"""What a name is salted with; of one length, so that no sign of it passes for the beginning of a name."""
LONGEST_NAME = 80
"""Of a person. [characters]"""
LARGEST_FILE = 64_000_000
"""Of one file kept; the pages take no larger body. [bytes]"""
MOST_PARTS = 1_000_000
LARGEST_RATIO, FREE_BYTES = 100, 50_000_000
"""What is unpacked has at most so many times the bytes of the zip, and this many on top."""


@dataclass(frozen=True)
class WholeCounts:
    """What a whole workshop holds.

    head_number, head_digest: of its last entry. is_demo: it is marked as made up.
    """

    head_number: int
    head_digest: str
    entries: int
    names: int
    submissions: int
    files: int
    is_demo: bool


def head_line(counts: WholeCounts, program: str) -> bytes:
    """The content of `workshop.json`. program: version that wrote it."""
    said = {
        MARK: FORM,
        "program": program,
        "head": {"number": counts.head_number, "digest": counts.head_digest},
        "counts": {name: getattr(counts, name) for name in ("entries", "names", "submissions", "files")},
        "is_demo": counts.is_demo,
    }
    return json.dumps(said, indent=1).encode() + b"\n"


def line_of(row: Mapping[str, Any]) -> bytes:
    """One row of a part, with the end of its line."""
    return json.dumps(row, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"
