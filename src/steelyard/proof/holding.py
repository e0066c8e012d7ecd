"""Any file of ours, told apart by how it begins, and held against itself."""

from dataclasses import dataclass

from steelyard.desk.held_against import Beside, beside_ledger
from steelyard.desk.ports import Ledger
from steelyard.desk.signing import known_keys, own_keys
from steelyard.errors import InputRefused
from steelyard.proof.json_file import seen_in_json
from steelyard.proof.keys import fingerprint, read_fingerprint
from steelyard.proof.pdf_seen import seen_in_pdf
from steelyard.proof.seen import Seen, Standing
from steelyard.proof.xml_file import seen_in_xml

LARGEST_BYTES = 8_000_000
"""Of a file that is held against its signature; a record with a large logo takes a tenth of it. [bytes]"""
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
    was told just now; None where nobody knows it. beside: how it stands beside the ledger.
    """

    seen: Seen
    standing: Standing
    fingerprint: str
    whose: str | None
    is_own: bool
    beside: Beside | None


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
    is_own = seen.public in own_keys(ledger)
    beside = None
    if seen.named is not None and (is_own or seen.public is None):
        beside = beside_ledger(ledger, *seen.named, seen.export)
    return Held(seen, _standing(seen, whose, is_own, beside), mark, whose, is_own, beside)


def _standing(seen: Seen, whose: str | None, is_own: bool, beside: Beside | None) -> Standing:
    if not seen.stands:
        return seen.standing
    if whose is None:
        return Standing.UNKNOWN_KEY
    if is_own and (beside is None or not beside.is_same):
        return Standing.DISPUTED
    return seen.standing
