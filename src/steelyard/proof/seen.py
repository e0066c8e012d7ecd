"""What is seen in a file by itself, and what that says once it is known whose keys are known."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, NamedTuple

from steelyard.findings import Finding, Severity


class Form(StrEnum):
    """In which form a record left the workshop."""

    PDF = "pdf"
    DCC = "dcc"
    JSON = "json"


class Standing(StrEnum):
    """What a file is worth.

    INTACT: every byte is as it was signed. DATA_ONLY: the record in it is as it was signed, the file around
    it is another one. CHANGED: something is not as it was signed. UNSIGNED: nothing in it is signed.
    UNKNOWN_KEY: what would be intact, or its data, by a key nobody here knows. DISPUTED: by this workshop's
    own key, and its ledger says otherwise.
    """

    INTACT = "intact"
    DATA_ONLY = "data-only"
    CHANGED = "changed"
    UNSIGNED = "unsigned"
    UNKNOWN_KEY = "unknown-key"
    DISPUTED = "disputed"


class Named(NamedTuple):
    """Which record a file says it is: its number and the digest of its content."""

    record: int
    digest: str


@dataclass(frozen=True)
class Seen:
    """What a file says of itself.

    standing: never UNKNOWN_KEY nor DISPUTED. public: the key that signed what stands, 64 hexadecimal digits;
    None where nothing stands. said: what is amiss, the gravest first. named: which record it says it is; None
    where it says none. export: the record in it, as `desk.record_export` makes it; None where the form has
    none or it cannot be read. Where the standing is INTACT or DATA_ONLY all that is in `export` is signed;
    else it is anything at all.
    """

    form: Form
    standing: Standing
    public: str | None = None
    said: tuple[Finding, ...] = ()
    named: Named | None = None
    export: Mapping[str, Any] | None = None

    @property
    def stands(self) -> bool:
        """Something in it is as it was signed."""
        return self.standing in (Standing.INTACT, Standing.DATA_ONLY)


def amiss(code: str, severity: Severity = Severity.GRAVE, **facts: str | int) -> Finding:
    """One thing that is not as it was signed."""
    return Finding(code, severity, dict(facts))
