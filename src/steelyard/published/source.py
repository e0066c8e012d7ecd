"""Where a published figure comes from, and whether it was read there."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """A document and a place in it.

    document: its number or title. edition: year or number, empty where it has none.
    clause: where in it, or how it was read; "memory" where the figure is recalled.
    seen: True where the figure itself was read, in the document or in a text that quotes it.
    """

    document: str
    edition: str
    clause: str
    seen: bool

    @classmethod
    def memory(cls, document: str, edition: str = "") -> "Source":
        """A figure recalled, not read."""
        return cls(document, edition, "memory", seen=False)
