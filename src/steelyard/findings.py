"""Doubts as values: what the work itself says against a result, or what a person should know about it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Severity(StrEnum):
    """NOTE: good to know. WARN: speaks against the result. GRAVE: the result should not be relied on."""

    NOTE = "note"
    WARN = "warn"
    GRAVE = "grave"


@dataclass(frozen=True)
class Finding:
    """A doubt as code and facts; the door makes the sentence (`words.say(code, **facts)`).

    code: key of a sentence in the catalogue.
    facts: what the sentence needs; numbers keep a spelled unit in their name.
    """

    code: str
    severity: Severity
    facts: Mapping[str, str | float | int] = field(default_factory=dict)
