"""A certificate in XML: signed as a whole within itself, and held against that signature.

Source: W3C XML Signature Syntax and Processing 1.1 (structure, enveloped signature), W3C Exclusive XML
Canonicalization 1.0, RFC 9231, 2.3.12 (Ed25519), FIPS 180-4 (SHA-256).
"""

import base64
import binascii
import hashlib
from copy import deepcopy
from typing import TYPE_CHECKING, Any

from lxml import etree

from steelyard.errors import InputRefused
from steelyard.proof.certificate import own_certificate, public_in
from steelyard.proof.keys import is_signed
from steelyard.proof.seen import Form, Seen, Standing, amiss

if TYPE_CHECKING:
    from steelyard.desk.ports import Signer

DS = "http://www.w3.org/2000/09/xmldsig#"
CANONICAL = "http://www.w3.org/2001/10/xml-exc-c14n#"
ENVELOPED = f"{DS}enveloped-signature"
ED25519 = "http://www.w3.org/2021/04/xmldsig-more#eddsa-ed25519"
SHA256 = "http://www.w3.org/2001/04/xmlenc#sha256"
CERTIFICATE = "{https://ptb.de/dcc}digitalCalibrationCertificate"
VALUE, NAMED = f".//{{{DS}}}SignatureValue", f".//{{{DS}}}X509Certificate"


def signed_xml(certificate: bytes, signer: "Signer", *, name: str) -> bytes:
    """A certificate in XML with the signature of the workshop as its last element.

    certificate: in UTF-8, as this program makes one. name: of the workshop.
    """
    return _put(_parsed(certificate), signer, own_certificate(signer, name).dump())


def seen_in_xml(content: bytes) -> Seen:
    """What a certificate in XML says of itself. Raises InputRefused (`file`) where it is none.

    Canonical XML leaves comments out, and readers break a text at them: a file with some is a changed one.
    """
    try:
        root = _parsed(content)
    except InputRefused:
        if DS.encode() not in content:
            raise
        return Seen(Form.DCC, Standing.CHANGED, said=(amiss("proof-damaged"),))
    signature = _signature(root)
    if signature is None:
        return Seen(Form.DCC, Standing.UNSIGNED)
    value, named = _base64(signature.find(VALUE)), _base64(signature.find(NAMED))
    public = public_in(named)
    if public is None:
        return Seen(Form.DCC, Standing.CHANGED, said=(amiss("proof-signature-changed"),))
    bare, tail = deepcopy(root), signature.tail
    bare.remove(bare[-1])
    is_plain = tail is None and next(root.iter(etree.Comment), None) is None
    if not is_plain or not is_signed(value, _canonical(_info(bare)), public=public):
        return Seen(Form.DCC, Standing.CHANGED, said=(amiss("proof-certificate-changed"),))
    if _put(bare, _Known(public, value), named) == content:
        return Seen(Form.DCC, Standing.INTACT, public)
    return Seen(Form.DCC, Standing.DATA_ONLY, public, (amiss("proof-rewritten"),))


class _Known:
    """Stands in for a signer whose signature is at hand."""

    def __init__(self, public: str, value: bytes) -> None:
        self.public, self._value = public, value

    def sign(self, message: bytes) -> bytes:
        """The signature that was made."""
        return self._value


def _put(root: Any, signer: "Signer", named: bytes) -> bytes:
    """The whole file with the signature of a tree that has none."""
    info = _info(root)
    signature = etree.SubElement(root, f"{{{DS}}}Signature", nsmap={"ds": DS})
    signature.append(info)
    _element(signature, "SignatureValue").text = _text(signer.sign(_canonical(info)))
    data = _element(_element(signature, "KeyInfo"), "X509Data")
    _element(data, "X509Certificate").text = _text(named)
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8"))


def _info(root: Any) -> Any:
    """What is signed: which tree, by which rules, and its digest."""
    info = etree.Element(f"{{{DS}}}SignedInfo", nsmap={"ds": DS})
    _element(info, "CanonicalizationMethod", CANONICAL)
    _element(info, "SignatureMethod", ED25519)
    reference = _element(info, "Reference")
    reference.set("URI", "")
    transforms = _element(reference, "Transforms")
    for how in (ENVELOPED, CANONICAL):
        _element(transforms, "Transform", how)
    _element(reference, "DigestMethod", SHA256)
    _element(reference, "DigestValue").text = _text(hashlib.sha256(_canonical(root)).digest())
    return info


def _canonical(element: Any) -> bytes:
    return bytes(etree.tostring(element, method="c14n", exclusive=True, with_comments=False))


def _element(parent: Any, tag: str, algorithm: str | None = None) -> Any:
    element = etree.SubElement(parent, f"{{{DS}}}{tag}")
    if algorithm is not None:
        element.set("Algorithm", algorithm)
    return element


def _signature(root: Any) -> Any | None:
    """The signature that stands last; None where none does."""
    last = root[-1] if len(root) else None
    return last if last is not None and last.tag == f"{{{DS}}}Signature" else None


def _parsed(content: bytes) -> Any:
    parser = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False)
    try:
        root = etree.fromstring(content, parser)
    except (etree.XMLSyntaxError, ValueError):
        raise InputRefused("file", None, "want-readable-xml") from None
    if root.getroottree().docinfo.internalDTD is not None or root.tag != CERTIFICATE:
        raise InputRefused("file", None, "want-dcc")
    return root


def _base64(element: Any | None) -> bytes:
    try:
        return base64.b64decode((element.text or "") if element is not None else "", validate=True)
    except (binascii.Error, ValueError):
        return b""


def _text(content: bytes) -> str:
    return base64.b64encode(content).decode()
