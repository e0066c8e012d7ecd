"""Digests of bytes, as files are kept by."""

import hashlib


def digest_of_bytes(content: bytes) -> str:
    """SHA-256, hexadecimal. Source: FIPS 180-4."""
    return hashlib.sha256(content).hexdigest()
