"""Any file of ours, told apart by how it begins, and held against itself."""

from dataclasses import dataclass

from steelyard.desk.held_against import Difference, differences
from steelyard.desk.ports import Ledger
from steelyard.desk.signing import known_keys, own_keys
from steelyard.errors import InputRefused
from steelyard.proof.json_file import seen_in_json
from steelyard.proof.keys import fingerprint, read_fingerprint
from steelyard.proof.pdf_seen import seen_in_pdf
from steelyard.proof.seen import Seen, Standing
from steelyard.proof.xml_file import seen_in_xml

LARGEST_BYTES = 20_000_000
"""Of a file that is held against its signature. [bytes]"""
MARK = b"\xef\xbb\xbf"
PDF, XML, JSON = b"%PDF-", b"<", b"{"


def seen_in(content: bytes) -> Seen:
    """What a PDF, a certificate in XML or a record in JSON says of itself; told apart by how it begins.

    Raises InputRefused (`file`) where it is none of them, cannot be read, or is too large.
    """
    if len(content) > LARGEST_BYTES:
        raise InputRefused("file", None, "want-smaller-file")
    begins = content.removeprefix(MARK).lstrip()[:5]
    if begins.startswith(PDF):
        return seen_in_pdf(content)
    if begins.startswith(XML):
        return seen_in_xml(content)
    if begins.startswith(JSON):
        return seen_in_json(content)
    raise InputRefused("file", None, "want-proof-file")


@dataclass(frozen=True)
class Held:
    """A file held against the keys that are known here.

    seen: what it says of itself. standing: what it is worth here. fingerprint: of the key that signed it,
    empty where none did. whose: the name that key is known by; empty for this workshop's own and for one that
    was told just now; None where nobody knows it. differences: from the record of that number in the ledger;
    None where it was not compared: the key is not this workshop's, or the ledger has no such record.
    """

    seen: Seen
    standing: Standing
    fingerprint: str
    whose: str | None
    is_own: bool
    differences: tuple[Difference, ...] | None

    @property
    def is_missing(self) -> bool:
        """This workshop signed a record that is not in its ledger."""
        return self.is_own and self.seen.export is not None and self.differences is None


def hold(content: bytes, ledger: Ledger, *, told: str = "") -> Held:
    """A file against itself, the keys known to a workshop, and its ledger.

    told: fingerprint of a key that somebody vouches for just now, as typed.
    Raises InputRefused (`file`, `fingerprint`).
    """
    vouched = read_fingerprint(told) if told.strip() else ""
    seen, known = seen_in(content), known_keys(ledger)
    mark = fingerprint(seen.public) if seen.public is not None else ""
    whose = known.get(seen.public) if seen.public is not None else None
    if whose is None and mark and mark == vouched:
        whose = ""
    stands = seen.standing in (Standing.INTACT, Standing.DATA_ONLY)
    is_own = seen.public in own_keys(ledger)
    may_compare = seen.export is not None and (is_own or seen.public is None)
    return Held(
        seen=seen,
        standing=Standing.UNKNOWN_KEY if stands and whose is None else seen.standing,
        fingerprint=mark,
        whose=whose,
        is_own=is_own,
        differences=differences(ledger, seen.export) if seen.export is not None and may_compare else None,
    )
