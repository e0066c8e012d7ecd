"""Signed files are still what they were: valid certificates, archived and accessible documents."""

import io

import pikepdf
import pypdfium2
import pytest

from paper.dcc.schema import faults, needs_schema
from proof.signed_shop import KEY, NAME, leaving, shop
from steelyard.desk.on_paper import record_to_print
from steelyard.paper import record_paper


@needs_schema
def test_a_signed_certificate_is_valid_after_the_published_schema() -> None:
    assert b"ds:Signature" in leaving("dcc")
    assert faults(leaving("dcc")) == []


@pytest.fixture
def document() -> pikepdf.Pdf:
    """The signed record, opened."""
    return pikepdf.open(io.BytesIO(leaving("pdf")))


def test_the_revision_adds_a_signature_and_changes_no_byte_of_the_document() -> None:
    printed = record_to_print(shop().ledger, shop().record)
    assert leaving("pdf").startswith(b"%PDF-1.7")
    assert len(record_paper(printed).content) < len(leaving("pdf"))
    assert leaving("pdf").count(b"%%EOF") == 2
    assert leaving("pdf").count(b"/Version") == 0  # PDF/A-3 is PDF 1.7: ISO 19005-3, 6.1.2


def test_only_a_signed_document_says_that_it_is() -> None:
    def said(content: bytes) -> str:
        pages = pypdfium2.PdfDocument(io.BytesIO(content))
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)

    printed, sentence = record_to_print(shop().ledger, shop().record), "This PDF is signed as a whole"
    assert sentence in said(leaving("pdf"))
    assert sentence not in said(record_paper(printed).content)


def test_the_marks_of_archive_and_access_stay(document: pikepdf.Pdf) -> None:
    with document.open_metadata() as said:
        assert (said["pdfaid:part"], said["pdfaid:conformance"], said["pdfuaid:part"]) == ("3", "A", "1")
    assert document.Root.MarkInfo.Marked


def test_the_field_lies_out_of_the_page_and_says_what_it_is(document: pikepdf.Pdf) -> None:
    (field,) = document.Root.AcroForm.Fields
    assert field.FT == "/Sig"
    assert str(field.TU) == "Signature of the workshop"  # ISO 14289-1, 7.18.4
    left, bottom, right, top = (float(side) for side in field.Rect)
    assert (left, bottom) == (right, top)
    assert left < 0  # ISO 14289-1, 7.18.1: nothing out of the crop box needs a tag
    assert int(field.F) & 4  # ISO 19005-3, 6.3.2: printed,
    assert not int(field.F) & (1 | 2 | 32)  # neither invisible nor hidden nor shown nowhere


def test_it_certifies_that_nothing_may_be_changed(document: pikepdf.Pdf) -> None:
    signature = document.Root.Perms.DocMDP
    assert signature.SubFilter == "/ETSI.CAdES.detached"
    (reference,) = signature.Reference
    assert (str(reference.TransformMethod), int(reference.TransformParams.P)) == ("/DocMDP", 1)


def test_it_covers_every_byte_but_its_own_place(document: pikepdf.Pdf) -> None:
    first, before, after, rest = (int(number) for number in document.Root.Perms.DocMDP.ByteRange)
    content = leaving("pdf")
    assert (first, after + rest) == (0, len(content))
    assert content[before:after].startswith(b"<3")
    assert content[before:after].endswith(b"0>")


def test_an_independent_library_finds_the_signature_good() -> None:
    """cryptography on the signed attributes, hashlib on the bytes: RFC 5652, 5.4, and RFC 8419."""
    import hashlib

    from asn1crypto import cms
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    with pikepdf.open(io.BytesIO(leaving("pdf"))) as pdf:
        signature = pdf.Root.Perms.DocMDP
        first, before, after, rest = (int(number) for number in signature.ByteRange)
        signed = cms.ContentInfo.load(bytes(signature.Contents))["content"]
    content = leaving("pdf")
    (signer,) = signed["signer_infos"]
    attributes = {each["type"].native: each["values"][0].native for each in signer["signed_attrs"]}
    said = hashlib.sha512(content[first:before] + content[after : after + rest]).digest()
    assert attributes["message_digest"] == said
    certificate = x509.load_der_x509_certificate(signed["certificates"][0].chosen.dump())
    public = certificate.public_key()
    assert isinstance(public, Ed25519PublicKey)
    public.verify(signer["signature"].native, signer["signed_attrs"].untag().dump())
    assert public.public_bytes_raw().hex() == KEY.public
    assert certificate.subject.rfc4514_string() == f"CN={NAME}"


def test_qpdf_finds_nothing_amiss(document: pikepdf.Pdf) -> None:
    """What `qpdf --check` looks at, by the library it is made of."""
    assert document.check_pdf_syntax() == []
