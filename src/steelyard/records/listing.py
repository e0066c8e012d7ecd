"""How a document is found: the few words and days that a list narrows or sorts by."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.records.entry import Entry

Body = Mapping[str, Any]
Fold = Callable[[Mapping[str, Any], Entry], dict[str, Any]]
NUMBER_IN_TEXT = re.compile(r"\d+")
WIDTH = 12


@dataclass(frozen=True)
class Listing:
    """What a ledger keeps beside a document.

    key: its place in a list; rising text order. state: one word. day, due: `2026-11-25`.
    owner: subject of the tool a check is of. who: key of a person. words: small letters, to be searched in.
    """

    key: str
    state: str
    day: str | None = None
    due: str | None = None
    owner: str | None = None
    who: str | None = None
    words: str = ""


def natural(text: str) -> str:
    """A key in which T-2 stands before T-10."""
    return NUMBER_IN_TEXT.sub(lambda found: found[0].zfill(WIDTH), text.casefold())


def searchable(*texts: object) -> str:
    """What a search looks at, in small letters."""
    return " ".join(str(text).casefold() for text in texts if text)
