"""A PDF held against its own signature, and the record attached to it against that one's.

Source: ISO 32000-1, 12.8 and 7.11.4 (attachments), RFC 5652 (CMS), RFC 8419 (Ed25519 in it).
"""

import io
import logging
import zlib
from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Any

from steelyard.errors import InputRefused
from steelyard.findings import Severity
from steelyard.proof.certificate import public_in
from steelyard.proof.json_file import seen_in_json
from steelyard.proof.pdf_file import DIGEST, RESERVED_BYTES
from steelyard.proof.seen import Form, Seen, Standing, amiss
from steelyard.proof.xml_file import seen_in_xml

MOST_BYTES = 16_000_000
"""Of all that is packed in a file, unpacked: a small one could fill the memory. [bytes]"""
LARGEST_ATTACHED = 4_000_000
"""A record of many points takes a tenth of it. [bytes]"""
MOST_ATTACHED = 20
SIGNED = b"/ByteRange"
for library in ("pyhanko", "pyhanko_certvalidator"):  # what they say of a file would stand among our answers
    logging.getLogger(library).addHandler(logging.NullHandler())
RECORD, CERTIFICATE = "record.json", "dcc.xml"


def seen_in_pdf(content: bytes) -> Seen:
    """What a PDF says of itself. Raises InputRefused (`file`) where it cannot be read at all."""
    unreadable = _unreadable()
    try:
        reader = _reader(content)
        signatures = _signatures(reader)
        attached = _attached(reader)
    except unreadable:
        if SIGNED not in content:
            raise InputRefused("file", None, "want-readable-pdf") from None
        return Seen(Form.PDF, Standing.CHANGED, said=(amiss("proof-damaged"),))
    data = {name: _seen(name, attached[name]) for name in (RECORD, CERTIFICATE) if name in attached}
    try:
        public = _signed_by(content, signatures)
    except unreadable:
        public = None
    record = data.get(RECORD)
    named, export = (record.named, record.export) if record is not None else (None, None)
    if public is not None and all(_stands(seen, public) for seen in data.values()):
        return Seen(Form.PDF, Standing.INTACT, public, named=named, export=export)
    if not signatures and SIGNED not in content:
        return _without_signature(record, data, [name for name in attached if name not in data])
    said = tuple(_what(data, len(content), signatures))
    return Seen(Form.PDF, Standing.CHANGED, said=said, named=named, export=export)


def _unreadable() -> tuple[type[Exception], ...]:
    """What reading a broken PDF raises: its reader checks little by itself."""
    from cryptography.exceptions import InvalidSignature
    from pyhanko.pdf_utils.misc import PdfError
    from pyhanko_certvalidator.errors import PathError, ValidationError

    slips = (ArithmeticError, AssertionError, AttributeError, LookupError, TypeError, ValueError)
    limits = (NotImplementedError, OSError, RecursionError, zlib.error)
    return (*slips, *limits, PdfError, PathError, ValidationError, InvalidSignature)


def _reader(content: bytes) -> Any:
    from pyhanko.pdf_utils.decode_limits import DecodeLimits, DocumentDecodeBudget
    from pyhanko.pdf_utils.reader import PdfFileReader

    limits = DecodeLimits(document_budget=DocumentDecodeBudget(base_allowance=MOST_BYTES, max_ratio=1))
    return PdfFileReader(io.BytesIO(content), strict=True, decode_limits=limits)


def _signatures(reader: Any) -> list[Any]:
    """The signatures in a document, two at most: one is all there may be."""
    from pyhanko.sign.fields import enumerate_sig_fields
    from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature

    filled = islice(enumerate_sig_fields(reader, filled_status=True), 2)
    return [EmbeddedPdfSignature(reader, reference.get_object(), name) for name, _, reference in filled]


def _attached(reader: Any) -> dict[str, bytes]:
    """Content of each file attached, by its name; none where the document has no such list.

    Raises ValueError where a name stands twice, a file has two contents, or there are too many or too large
    ones: two programs could read two things in it.
    """
    listed = reader.root.get("/Names", {}).get("/EmbeddedFiles", {}).get("/Names", [])
    attached: dict[str, bytes] = {}
    for i in range(0, len(listed), 2):
        name, kept = str(listed[i]), listed[i + 1]["/EF"]
        content = bytes(kept["/F"].data)
        if "/UF" in kept and kept.raw_get("/UF") != kept.raw_get("/F"):
            raise ValueError("a file with two contents")
        if name in attached or len(attached) == MOST_ATTACHED or len(content) > LARGEST_ATTACHED:
            raise ValueError("too many or too large files")
        attached[name] = content
    return attached


def _seen(name: str, content: bytes) -> Seen:
    """What an attached file says of itself; one that cannot be read is a changed one."""
    form, see = (Form.JSON, seen_in_json) if name == RECORD else (Form.DCC, seen_in_xml)
    try:
        return see(content)
    except InputRefused:
        return Seen(form, Standing.CHANGED)


def _stands(seen: Seen, public: str) -> bool:
    return seen.standing == Standing.INTACT and seen.public == public


def _without_signature(record: Seen | None, data: Mapping[str, Seen], others: list[str]) -> Seen:
    """Of a document without a signature of its own: what the files in it say, all of them.

    others: files that have no signature of their own.
    """
    page = amiss("proof-page-unsigned", Severity.WARN)
    public = record.public if record is not None else None
    named, export = (record.named, record.export) if record is not None else (None, None)
    wrong = [name for name, seen in data.items() if not _is_sound(seen, public)]
    if wrong:
        said = (*(amiss("proof-attachment-changed", name=name) for name in wrong), page)
        return Seen(Form.PDF, Standing.CHANGED, None, said, named, export)
    if public is None:
        return Seen(Form.PDF, Standing.UNSIGNED, None, (page,), named, export)
    beside = (amiss("proof-others-unsigned", Severity.WARN, names=", ".join(others)[:200]),) if others else ()
    return Seen(Form.PDF, Standing.DATA_ONLY, public, (page, *beside), named, export)


def _is_sound(seen: Seen, public: str | None) -> bool:
    """A file in a document without a signature is signed by the record's key, or nothing in it is signed."""
    return seen.standing == Standing.UNSIGNED if public is None else _stands(seen, public)


def _signed_by(content: bytes, signatures: list[Any]) -> str | None:
    """The key by which every byte of a document is signed; None where one byte is not."""
    from pyhanko.sign.validation import validate_pdf_signature
    from pyhanko.sign.validation.status import SignatureCoverageLevel
    from pyhanko_certvalidator import ValidationContext

    if len(signatures) != 1:
        return None
    (signature,) = signatures
    certificate = signature.signer_cert
    public = public_in(certificate.dump())
    if public is None or not _is_as_made(content, signature, certificate):
        return None
    trust = ValidationContext(trust_roots=[certificate], allow_fetching=False)
    status = validate_pdf_signature(signature, signer_validation_context=trust)
    is_whole = status.coverage == SignatureCoverageLevel.ENTIRE_FILE and signature.docmdp_level is not None
    return public if status.bottom_line and is_whole else None


def _is_as_made(content: bytes, signature: Any, certificate: Any) -> bool:
    """What the signature itself cannot cover, its own place in the file, is as `signed_pdf` fills it."""
    first, before, after, rest = (int(number) for number in signature.byte_range)
    made = _container(signature, certificate).hex().upper().ljust(2 * RESERVED_BYTES, "0")
    return first == 0 and after + rest == len(content) and content[before:after] == f"<{made}>".encode()


def _container(signature: Any, certificate: Any) -> bytes:
    """The container as it has to be, around what in it is signed."""
    from asn1crypto import cms

    found = signature.signer_info
    digest = {"algorithm": DIGEST}
    signer = {
        "version": "v1",
        "sid": cms.SignerIdentifier(
            {
                "issuer_and_serial_number": cms.IssuerAndSerialNumber(
                    {"issuer": certificate.issuer, "serial_number": certificate.serial_number}
                )
            }
        ),
        "digest_algorithm": digest,
        "signed_attrs": found["signed_attrs"],
        "signature_algorithm": {"algorithm": "ed25519"},
        "signature": found["signature"].native,
    }
    data = {
        "version": "v1",
        "digest_algorithms": [digest],
        "encap_content_info": {"content_type": "data"},
        "certificates": [certificate],
        "signer_infos": [signer],
    }
    made = cms.ContentInfo({"content_type": "signed_data", "content": cms.SignedData(data)})
    return bytes(made.dump())


def _what(data: Mapping[str, Seen], length: int, signatures: list[Any]) -> Iterator[Any]:
    """What can be told of where a document was changed."""
    ends = max((_end(signature) for signature in signatures), default=length)
    if not signatures:
        yield amiss("proof-signature-changed")
    if ends < length:
        yield amiss("proof-added-after", bytes=length - ends)
    for name, seen in data.items():
        if seen.standing not in (Standing.INTACT, Standing.UNSIGNED):
            yield amiss("proof-attachment-changed", name=name)
            yield from seen.said
    if all(seen.standing == Standing.INTACT for seen in data.values()) and ends >= length:
        yield amiss("proof-pages-changed")


def _end(signature: Any) -> int:
    """Where what a signature speaks of ends; 0 where it does not say."""
    try:
        *_, after, rest = (int(number) for number in signature.byte_range)
    except (TypeError, ValueError):
        return 0
    return after + rest
