"""The certificate of a workshop's key, made by itself: what a signature in a PDF or in XML names its key by.

Nobody vouches for it; whoever reads it compares the fingerprint. The same key and name give the same bytes.
Source: RFC 5280 (profile, 4.1.2.5 for no end), RFC 8410 (Ed25519 in certificates), ITU-T X.690 (DER).
"""

import hashlib
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from steelyard.proof.keys import is_signed

if TYPE_CHECKING:
    from asn1crypto.x509 import Certificate

    from steelyard.desk.ports import Signer

SERIAL_BYTES = 16
LONGEST_NAME = 64
"""Letters of a common name. Source: RFC 5280, appendix A.1, ub-common-name."""
UNNAMED = "Workshop"
BEGINS = datetime(2020, 1, 1, tzinfo=UTC)
NEVER_ENDS = datetime(9999, 12, 31, 23, 59, 59, tzinfo=UTC)
ED25519 = "ed25519"


def own_certificate(signer: "Signer", name: str) -> "Certificate":
    """The certificate of a key. name: of the workshop, perhaps empty."""
    from asn1crypto import keys, x509

    public = bytes.fromhex(signer.public)
    named = x509.Name.build({"common_name": name[:LONGEST_NAME].strip() or UNNAMED})
    body = x509.TbsCertificate(
        {
            "version": "v3",
            "serial_number": _serial(public),
            "signature": {"algorithm": ED25519},
            "issuer": named,
            "validity": {"not_before": x509.Time({"utc_time": BEGINS}), "not_after": _never()},
            "subject": named,
            "subject_public_key_info": keys.PublicKeyInfo(
                {"algorithm": {"algorithm": ED25519}, "public_key": public}
            ),
            "extensions": [
                {"extn_id": "basic_constraints", "critical": True, "extn_value": {"ca": False}},
                {
                    "extn_id": "key_usage",
                    "critical": True,
                    "extn_value": {"digital_signature", "non_repudiation"},
                },
            ],
        }
    )
    made: Certificate = x509.Certificate(
        {
            "tbs_certificate": body,
            "signature_algorithm": {"algorithm": ED25519},
            "signature_value": signer.sign(body.dump()),
        }
    )
    return made


def public_in(certificate: bytes) -> str | None:
    """The public key in a certificate as `own_certificate` makes it, signed by that key; else None."""
    from asn1crypto import x509

    try:
        read = x509.Certificate.load(certificate, strict=True)
        body = read["tbs_certificate"]
        public: str = bytes(body["subject_public_key_info"]["public_key"].native).hex()
        signature, message = read["signature_value"].native, body.dump()
        as_made = x509.Certificate(
            {
                "tbs_certificate": body,
                "signature_algorithm": {"algorithm": ED25519},
                "signature_value": signature,
            }
        )
        is_as_made = as_made.dump() == certificate
    except (ValueError, TypeError, KeyError):
        return None
    return public if is_as_made and is_signed(signature, message, public=public) else None


def _serial(public: bytes) -> int:
    """A positive number that no other key has. Source: RFC 5280, 4.1.2.2."""
    return int.from_bytes(hashlib.sha256(public).digest()[:SERIAL_BYTES]) >> 1 or 1


def _never() -> object:
    from asn1crypto import x509

    return x509.Time({"general_time": NEVER_ENDS})
