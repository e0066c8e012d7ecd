"""A certificate in XML: signed within itself, and held against that signature byte for byte.

The signature stands last and is put in as text; what it signs is the certificate by the rules of XML and, in
an object of its own, the digest of the very bytes around it and of the certificate of its key. So the bytes
are looked at alone: nothing of a stranger's file is parsed, and no other way to write the same passes.
Source: W3C XML Signature Syntax and Processing 1.1 (structure, enveloped signature, objects), W3C Exclusive
XML Canonicalization 1.0, RFC 9231, 2.3.12 (Ed25519), FIPS 180-4 (SHA-256).
"""

import base64
import binascii
import hashlib
import re
from typing import TYPE_CHECKING, Any

from steelyard.errors import InputRefused
from steelyard.proof.certificate import own_certificate, public_in
from steelyard.proof.keys import is_signed
from steelyard.proof.seen import Form, Named, Seen, Standing, amiss

if TYPE_CHECKING:
    from steelyard.desk.ports import Signer

DS = "http://www.w3.org/2000/09/xmldsig#"
CANONICAL = "http://www.w3.org/2001/10/xml-exc-c14n#"
ENVELOPED = f"{DS}enveloped-signature"
ED25519 = "http://www.w3.org/2021/04/xmldsig-more#eddsa-ed25519"
SHA256 = "http://www.w3.org/2001/04/xmlenc#sha256"
OBJECT = "bytes"
"""Identifier of the object."""
BEGIN, END = b"<ds:Signature ", b"</ds:Signature>"
LAST = b"</dcc:digitalCalibrationCertificate>"
"""Ends every certificate that is written here; the signature stands just before it."""
ROOT, OURS = b"digitalCalibrationCertificate", b"steelyard-"
BASE64 = rb"([A-Za-z0-9+/]+={0,2})"
DIGEST = re.compile(rb'URI=""(?:.*?)<ds:DigestValue>' + BASE64 + rb"</ds:DigestValue>")
VALUE = re.compile(rb"<ds:SignatureValue>" + BASE64 + rb"</ds:SignatureValue>")
NAMED = re.compile(rb"<ds:X509Certificate>" + BASE64 + rb"</ds:X509Certificate>")
OWN = re.compile(rb"<dcc:uniqueIdentifier>steelyard-([0-9]{1,12})-([0-9a-f]{64})</dcc:uniqueIdentifier>")


def signed_xml(certificate: bytes, signer: "Signer", *, name: str) -> bytes:
    """A certificate in XML with the signature of the workshop as its last element.

    certificate: in UTF-8, as this program makes one. name: of the workshop.
    """
    from lxml import etree

    said = hashlib.sha256(_canonical(etree.fromstring(certificate))).digest()
    named = own_certificate(signer, name).dump()
    info = _info(said, _object(certificate, named))
    return _put(certificate, _signature(info, signer.sign(_canonical(info)), named, certificate))


def seen_in_xml(content: bytes) -> Seen:
    """What a certificate in XML says of itself. Raises InputRefused (`file`) where it is none."""
    if ROOT not in content:
        raise InputRefused("file", None, "want-dcc")
    if OURS not in content:
        raise InputRefused("file", None, "want-proof-file")
    named = _named(content)
    if DS.encode() not in content:
        return Seen(Form.DCC, Standing.UNSIGNED, named=named)
    public = _signed_by(content)
    if public is None:
        return Seen(Form.DCC, Standing.CHANGED, said=(amiss("proof-certificate-changed"),), named=named)
    return Seen(Form.DCC, Standing.INTACT, public, named=named)


def _signed_by(content: bytes) -> str | None:
    """The key by which every byte of a file is signed; None where one byte is not."""
    begin, end = content.rfind(BEGIN), content.rfind(END) + len(END)
    block = content[begin:end] if 0 <= begin < end else b""
    found = [pattern.search(block) for pattern in (DIGEST, VALUE, NAMED)]
    said, value, named = (_bytes(match[1]) if match is not None else b"" for match in found)
    public = public_in(named) if named else None
    if public is None:
        return None
    bare = content[:begin] + content[end:]
    info = _info(said, _object(bare, named))
    if not is_signed(value, _canonical(info), public=public):
        return None
    return public if _put(bare, _signature(info, value, named, bare)) == content else None


def _put(certificate: bytes, signature: bytes) -> bytes:
    """A certificate with a signature just before its last tag."""
    at = certificate.rfind(LAST)
    return certificate[:at] + signature + certificate[at:]


def _signature(info: Any, value: bytes, named: bytes, certificate: bytes) -> bytes:
    """The signature as it stands in the file."""
    from lxml import etree

    signature = etree.Element(f"{{{DS}}}Signature", nsmap={"ds": DS})
    signature.append(info)
    _element(signature, "SignatureValue").text = _text(value)
    data = _element(_element(signature, "KeyInfo"), "X509Data")
    _element(data, "X509Certificate").text = _text(named)
    signature.append(_object(certificate, named))
    return bytes(etree.tostring(signature))


def _info(said: bytes, signed_object: Any) -> Any:
    """What is signed. said: digest of the certificate in its canonical form; then that of the object."""
    from lxml import etree

    info = etree.Element(f"{{{DS}}}SignedInfo", nsmap={"ds": DS})
    _element(info, "CanonicalizationMethod", CANONICAL)
    _element(info, "SignatureMethod", ED25519)
    _refer(info, "", (ENVELOPED, CANONICAL), said)
    _refer(info, f"#{OBJECT}", (CANONICAL,), hashlib.sha256(_canonical(signed_object)).digest())
    return info


def _refer(info: Any, uri: str, transforms: tuple[str, ...], digest: bytes) -> None:
    reference = _element(info, "Reference")
    reference.set("URI", uri)
    listed = _element(reference, "Transforms")
    for how in transforms:
        _element(listed, "Transform", how)
    _element(reference, "DigestMethod", SHA256)
    _element(reference, "DigestValue").text = _text(digest)


def _object(certificate: bytes, named: bytes) -> Any:
    """The digests of the bytes of the file without its signature, and of the certificate of the key."""
    from lxml import etree

    signed = etree.Element(f"{{{DS}}}Object", nsmap={"ds": DS})
    signed.set("Id", OBJECT)
    for content in (certificate, named):
        _element(signed, "DigestValue").text = _text(hashlib.sha256(content).digest())
    return signed


def _canonical(element: Any) -> bytes:
    from lxml import etree

    return bytes(etree.tostring(element, method="c14n", exclusive=True, with_comments=False))


def _element(parent: Any, tag: str, algorithm: str | None = None) -> Any:
    from lxml import etree

    element = etree.SubElement(parent, f"{{{DS}}}{tag}")
    if algorithm is not None:
        element.set("Algorithm", algorithm)
    return element


def _named(content: bytes) -> Named | None:
    """Which record it says it is; None where it says none, or more than one."""
    found = OWN.findall(content)
    if len(found) != 1:
        return None
    ((record, digest),) = found
    return Named(int(record), digest.decode())


def _bytes(text: bytes) -> bytes:
    try:
        return base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError):
        return b""


def _text(content: bytes) -> str:
    return base64.b64encode(content).decode()
