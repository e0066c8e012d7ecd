"""Signatures: what signing adds to a record on paper, and what holding one against its signature costs."""

from bench_book import records_to_print
from bench_ratio import Bar

from steelyard.paper import record_paper
from steelyard.proof import WorkshopKey, seen_in

KEY = WorkshopKey(bytes(range(32)))
ROUNDS, TRIES = 15, 3
RECORDS = ROUNDS * TRIES + 1


def proofs() -> list[Bar]:
    """Against the same record set without a signature; each run sets one that was not set before."""
    records = records_to_print(3 * RECORDS)
    signing, bare, beside = (iter(records[i * RECORDS : (i + 1) * RECORDS]) for i in range(3))
    document = record_paper(records[0](), signer=KEY).content

    def signed() -> bytes:
        return record_paper(next(signing)(), signer=KEY).content

    def unsigned() -> bytes:
        return record_paper(next(bare)()).content

    def set_beside() -> bytes:
        return record_paper(next(beside)()).content

    signed(), unsigned(), set_beside()
    return [
        Bar("a record as a signed PDF : unsigned", signed, unsigned, 2.5, rounds=ROUNDS),
        Bar(
            "a signed PDF held against its signature : setting it",
            lambda: seen_in(document),
            set_beside,
            2,
            rounds=ROUNDS,
        ),
    ]
