"""The key of a workshop: made, kept in a file, printed to be typed in again.

Source: RFC 8032 (Ed25519), RFC 8410 (its keys in PKCS #8), FIPS 180-4 (SHA-256).
"""

import hashlib
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from steelyard.desk.signing import PUBLIC
from steelyard.errors import InputRefused
from steelyard.proof.under_phrase import ENCRYPTED, LONGEST_ROUNDS, in_key_file, rounds_of, under_phrase
from steelyard.proof.weak_keys import is_weak

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

SEED_BYTES = 32
FINGERPRINT_DIGITS = 32
"""Of the SHA-256 of a public key: 128 bits, which nobody finds a second key for, and a person can compare."""
GROUP, GROUPS_A_LINE = 4, 4
CHECK_DIGITS = 4
BETWEEN = re.compile(r"[\s.\-:]+")
SHORTEST_PHRASE = 12


@dataclass(frozen=True)
class WorkshopKey:
    """A private key, as `desk.ports.Signer` says. It shows itself to nobody by accident."""

    _seed: bytes = field(repr=False)

    @property
    def public(self) -> str:
        """The public key: 64 hexadecimal digits."""
        return self._private().public_key().public_bytes_raw().hex()

    def sign(self, message: bytes) -> bytes:
        """The signature of a message, 64 bytes; always the same for the same one."""
        signature: bytes = self._private().sign(message)
        return signature

    def in_pem(self, phrase: str | None = None) -> bytes:
        """As a file in PEM, PKCS #8.

        phrase: it is encrypted under it. Raises InputRefused (`phrase`) where that is too short.
        """
        from cryptography.hazmat.primitives import serialization as how

        if phrase is not None:
            return under_phrase(self._private(), _phrase(phrase))
        plain = how.NoEncryption()
        return self._private().private_bytes(how.Encoding.PEM, how.PrivateFormat.PKCS8, plain)

    def lines(self) -> tuple[str, ...]:
        """To be printed and typed in again: each line ends in four digits that check it."""
        digits = self._seed.hex()
        width = GROUP * GROUPS_A_LINE
        rows = [digits[i : i + width] for i in range(0, len(digits), width)]
        return tuple(_in_groups(row + _check(number, row)) for number, row in enumerate(rows, 1))

    def _private(self) -> "Ed25519PrivateKey":
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

        return Ed25519PrivateKey.from_private_bytes(self._seed)


def new_key() -> WorkshopKey:
    """A key from the system's source of chance."""
    import secrets

    return WorkshopKey(secrets.token_bytes(SEED_BYTES))


def key_in_pem(content: bytes, phrase: str | None = None) -> WorkshopKey:
    """The key in a file.

    Raises InputRefused: `phrase` where it is another one, or needed; `key` where it is no such file.
    """
    from cryptography.exceptions import UnsupportedAlgorithm
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import load_der_private_key

    kind, sealed = in_key_file(content)
    is_locked = kind == ENCRYPTED
    if is_locked and not 0 < rounds_of(sealed) <= LONGEST_ROUNDS:
        raise InputRefused("key", None, "want-key-file")
    if is_locked and not phrase:
        raise InputRefused("phrase", None, "want-phrase-of-key")
    try:
        private = load_der_private_key(sealed, phrase.encode() if phrase and is_locked else None)
    except (ValueError, TypeError, UnsupportedAlgorithm):
        wrong = "phrase" if is_locked else "key"
        raise InputRefused(wrong, None, "want-phrase-of-key" if is_locked else "want-key-file") from None
    if not isinstance(private, Ed25519PrivateKey):
        raise InputRefused("key", None, "want-key-file")
    return WorkshopKey(private.private_bytes_raw())


def key_in_lines(typed: str) -> WorkshopKey:
    """The key from what is printed on its sheet; spaces, dashes and breaks are as one likes.

    Raises InputRefused (`lines`), which names the first line that does not check.
    """
    digits = BETWEEN.sub("", typed.casefold()).replace("o", "0").replace("l", "1")
    width = GROUP * GROUPS_A_LINE + CHECK_DIGITS
    whole = width * SEED_BYTES * 2 // (GROUP * GROUPS_A_LINE)
    if not re.fullmatch(r"[0-9a-f]+", digits) or len(digits) != whole:
        raise InputRefused("lines", None, "want-key-lines", digits=whole)
    seed = ""
    for number, start in enumerate(range(0, whole, width), 1):
        row, check = digits[start : start + width - CHECK_DIGITS], digits[start + width - CHECK_DIGITS :][:4]
        if _check(number, row) != check:
            raise InputRefused("lines", None, "want-key-line", number=number)
        seed += row
    return WorkshopKey(bytes.fromhex(seed))


def fingerprint(public: str) -> str:
    """What two people compare by telephone: 32 hexadecimal digits of a public key, in groups of four."""
    return _in_groups(hashlib.sha256(bytes.fromhex(public)).hexdigest()[:FINGERPRINT_DIGITS])


def read_fingerprint(typed: str) -> str:
    """The same as typed by a person. Raises InputRefused (`fingerprint`)."""
    digits = BETWEEN.sub("", typed.casefold())
    if not re.fullmatch(rf"[0-9a-f]{{{FINGERPRINT_DIGITS}}}", digits):
        raise InputRefused("fingerprint", typed, "want-fingerprint")
    return _in_groups(digits)


def is_signed(signature: bytes, message: bytes, *, public: str) -> bool:
    """Whether a signature is that of a message by a key; never by a weak one. Source: RFC 8032, 5.1.7."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    if not PUBLIC.fullmatch(public) or is_weak(bytes.fromhex(public)):
        return False
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(public)).verify(signature, message)
    except (InvalidSignature, ValueError):
        return False
    return True


def _phrase(typed: str) -> bytes:
    if len(typed) < SHORTEST_PHRASE:
        raise InputRefused("phrase", None, "want-longer-phrase", shortest=SHORTEST_PHRASE)
    return typed.encode()


def _check(number: int, row: str) -> str:
    return hashlib.sha256(f"{number} {row}".encode()).hexdigest()[:CHECK_DIGITS]


def _in_groups(digits: str) -> str:
    return " ".join(digits[i : i + GROUP] for i in range(0, len(digits), GROUP))
