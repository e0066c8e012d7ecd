"""A large ledger against a small one, and verifying it against the bare digests.

Opening: until it can be asked, and closed again; 1 000 000 entries and more against a hundredth.
Verifying: the whole of `store verify` of the small ledger (chain, columns, every document against a fresh
fold, files) against SHA-256 and json.loads of the bodies of its entries, already in memory. The documents,
nearly as many bytes again, are on the one side only; with them on both sides the ratio stands below it,
without a bound. Both sides grow with the entries; the small ledger is the same shop as the large one.
"""

import hashlib
import json
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing

from bench_ratio import Bar
from bench_shop import Shop

from steelyard.store import open_ledger, verify_ledger

OPENED_TIMES = 5


def ledgers(small: Shop, large: Shop) -> list[Bar]:
    """Opening and verifying."""
    entries, documents = bodies(small, "entry"), bodies(small, "document")
    verify = verifying(small)
    return [
        Bar(
            f"opening a ledger, {large.entries} entries : {small.entries}",
            opening(large),
            opening(small),
            1.5,
            OPENED_TIMES,
            OPENED_TIMES,
        ),
        Bar("verifying everything : bare digests of the entries", verify, digesting(entries), 3),
        Bar("verifying everything : of entries and documents", verify, digesting(entries + documents)),
    ]


def opening(shop: Shop) -> Callable[[], None]:
    """Open and close its file."""
    return lambda: open_ledger(shop.ledger.path).close()


def verifying(shop: Shop) -> Callable[[], None]:
    """Verify all of it; raises ValueError unless it is whole."""

    def verify() -> None:
        if not verify_ledger(shop.ledger).is_whole:
            raise ValueError(shop.ledger.place)

    return verify


def digesting(texts: Sequence[bytes]) -> Callable[[], None]:
    """The least that any reader of a chain does."""

    def digest() -> None:
        for text in texts:
            hashlib.sha256(text).hexdigest()
            json.loads(text)

    return digest


def bodies(shop: Shop, table: str) -> list[bytes]:
    """All bodies of a table. table: `entry` or `document`."""
    with closing(sqlite3.connect(shop.ledger.path)) as connection:
        return [text.encode() for (text,) in connection.execute(f"SELECT body FROM {table}")]
