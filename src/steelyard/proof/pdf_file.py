"""A record on paper: every byte of the PDF signed, and held against that signature.

The signature certifies: a reader of PDF that knows the key's kind says that nothing may be changed after it.
Source: ISO 32000-1, 12.8 (signatures, ByteRange, DocMDP), ISO/TS 32002 (Ed25519), ETSI EN 319 142-1 (CAdES in
a PDF), RFC 5652 (CMS), RFC 8419 (Ed25519 in it, SHA-512), ISO 14289-1 7.18.1 (a widget out of the page).
"""

import asyncio
import hashlib
import io
from datetime import datetime
from typing import TYPE_CHECKING, Any

from steelyard.proof.certificate import own_certificate

if TYPE_CHECKING:
    from steelyard.desk.ports import Signer

FIELD = "Workshop"
FIELD_SAID = "Signature of the workshop"
DIGEST = "sha512"
RESERVED_BYTES = 2048
"""For the signature and its certificate, which take some 900. [bytes]"""
ID_BYTES = 16


def signed_pdf(content: bytes, signer: "Signer", *, name: str, at: datetime) -> bytes:
    """A PDF with one more revision that signs all of it; the same input gives the same bytes.

    content: as this program makes one, unsigned. name: of the workshop. at: what the signature says of its
    time, which is the word of the workshop's own clock.
    """
    from pyhanko.sign import fields, signers
    from pyhanko.sign.signers.cms_embedder import PdfCMSEmbedder, SigIOSetup, SigMDPSetup, SigObjSetup

    out_of_the_page = fields.InvisSigSettings(box_out_of_bounds=True)
    spec = fields.SigFieldSpec(FIELD, readable_field_name=FIELD_SAID, invis_sig_settings=out_of_the_page)
    placeholder = signers.SignatureObject(
        timestamp=at, subfilter=fields.SigSeedSubFilter.PADES, bytes_reserved=2 * RESERVED_BYTES
    )
    certified = SigMDPSetup(certify=True, docmdp_perms=fields.MDPPerm.NO_CHANGES, md_algorithm=DIGEST)
    steps = PdfCMSEmbedder(new_field_spec=spec).write_cms(FIELD, _revision(content))
    next(steps)
    steps.send(SigObjSetup(sig_placeholder=placeholder, mdp_setup=certified))
    digest, out = steps.send(SigIOSetup(md_algorithm=DIGEST, in_place=False))
    hand = _hand(signer, own_certificate(signer, name))
    signature = asyncio.run(hand.async_sign(digest.document_digest, DIGEST, use_pades=True))
    steps.send(signature.dump())
    made: bytes = out.getvalue()
    return made


def _revision(content: bytes) -> Any:
    """What writes the revision: it leaves the document's own account of itself as the typesetter wrote it.

    The marks of PDF/A and PDF/UA stand in there, and no date may be another one the next time.
    """
    from pyhanko.pdf_utils import generic
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    class Revision(IncrementalPdfFileWriter):
        def _update_meta(self) -> None:
            pass

        def ensure_output_version(self, version: tuple[int, int]) -> None:
            pass

        def register_extension(self, ext: object) -> None:
            pass

        @classmethod
        def _handle_id(cls, prev: Any) -> Any:
            first, _ = prev.trailer["/ID"]
            second = generic.ByteStringObject(hashlib.sha256(content).digest()[:ID_BYTES])
            return generic.ArrayObject([first, second])

    return Revision(io.BytesIO(content))


def _hand(signer: "Signer", certificate: Any) -> Any:
    """The workshop's signer as the library wants one: the private key stays where it is."""
    from pyhanko.sign.signers.pdf_cms import Signer as CmsSigner

    class Hand(CmsSigner):
        async def async_sign_raw(self, data: bytes, digest_algorithm: str, dry_run: bool = False) -> bytes:
            return signer.sign(data)

    return Hand(signing_cert=certificate)
