"""Public keys under which anybody can sign anything: the points of small order on the curve.

Source: RFC 8032, 5.1 (curve) and 5.1.2 (coding); the points are own arithmetic, computed again in
tests/proof/test_keys.py.
"""

SMALL_ORDER = frozenset(
    bytes.fromhex(digits)
    for digits in (
        "0000000000000000000000000000000000000000000000000000000000000000",  # y = 0, order 4
        "0100000000000000000000000000000000000000000000000000000000000000",  # y = 1, order 1
        "26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05",  # order 8
        "c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a",  # order 8
        "ecffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",  # y = p - 1, order 2
        "edffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",  # y = p, which is 0 again
        "eeffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",  # y = p + 1, which is 1 again
    )
)
"""Every coding of y of a point whose order divides eight; the sign of x stands in the highest bit, here 0."""
ALL_BUT_SIGN = 0x7F


def is_weak(public: bytes) -> bool:
    """Whether a public key, 32 bytes, is one of them, whatever its sign."""
    return public[:-1] + bytes([public[-1] & ALL_BUT_SIGN]) in SMALL_ORDER
