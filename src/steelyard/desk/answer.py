"""The answer to a quick question: sentences by code, numbers for a machine, doubts."""

from collections.abc import Mapping
from dataclasses import dataclass

from steelyard.findings import Finding

Said = tuple[str, Mapping[str, str]]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the desk says.

    lines: code of a sentence and the facts that fill it, numbers already rounded; the main number first.
    numbers: the same unrounded; each key ends in its unit.
    findings: what a person should know before relying on it.
    """

    lines: tuple[Said, ...]
    numbers: Mapping[str, float | str]
    findings: tuple[Finding, ...] = ()
