"""A private key under a pass phrase: PKCS #8 in PEM, slow to guess, and bounded where it is read.

Source: RFC 5958 (EncryptedPrivateKeyInfo), RFC 8018 (PBES2, PBKDF2), RFC 7468 (PEM). The library writes few
rounds into PKCS #8 and as many as one likes into PKCS #12, but there beside a check of the phrase of few
rounds again; so the key is taken out of that container, as the PKCS #8 it is, and the check thrown away.
"""

from typing import TYPE_CHECKING

from steelyard.errors import InputRefused

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

PLAIN, ENCRYPTED = "PRIVATE KEY", "ENCRYPTED PRIVATE KEY"
"""What PEM calls the two. Source: RFC 7468, 10 and 11."""
ROUNDS = 600_000
"""Of PBKDF2 with HMAC-SHA-256. Source: OWASP Password Storage Cheat Sheet, from memory."""
LONGEST_ROUNDS = 5_000_000
"""Of what is read, a few seconds: a copy may come from anywhere, and its field holds 2^31 and more."""
UNREADABLE = (AttributeError, LookupError, OverflowError, TypeError, ValueError)
"""What the reader of ASN.1 raises over what is none."""


def under_phrase(private: "Ed25519PrivateKey", phrase: bytes) -> bytes:
    """A key in PEM, encrypted under a pass phrase (AES-256-CBC)."""
    from asn1crypto import pem, pkcs12
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.serialization import PrivateFormat
    from cryptography.hazmat.primitives.serialization import pkcs12 as containers

    builder = PrivateFormat.PKCS12.encryption_builder().kdf_rounds(ROUNDS).hmac_hash(SHA256())
    locked = builder.key_cert_algorithm(containers.PBES.PBESv2SHA256AndAES256CBC).build(phrase)
    container = containers.serialize_key_and_certificates(None, private, None, None, locked)
    (safe,) = pkcs12.Pfx.load(container).authenticated_safe
    (bag,) = pkcs12.SafeContents.load(safe["content"].native)
    made: bytes = pem.armor(ENCRYPTED, bag["bag_value"].untag().dump())
    return made


def in_key_file(content: bytes) -> tuple[str, bytes]:
    """What a file in PEM holds, `PLAIN` or `ENCRYPTED`, and its bytes. Raises InputRefused (`key`)."""
    from asn1crypto import pem

    try:
        kind, _, inside = pem.unarmor(content)
    except UNREADABLE:
        raise InputRefused("key", None, "want-key-file") from None
    if kind not in (PLAIN, ENCRYPTED):
        raise InputRefused("key", None, "want-key-file")
    return kind, inside


def rounds_of(sealed: bytes) -> int:
    """How many rounds of PBKDF2 an encrypted key takes; 0 where it is none, or locked in another way."""
    from asn1crypto.keys import EncryptedPrivateKeyInfo

    try:
        how = EncryptedPrivateKeyInfo.load(sealed, strict=True)["encryption_algorithm"]
        if how["algorithm"].native != "pbes2" or how.kdf != "pbkdf2":
            return 0
        return int(how.kdf_iterations)
    except UNREADABLE:
        return 0
