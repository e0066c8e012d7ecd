"""A record as a PDF against the bare typesetter, warm: same template, fonts, attachments and standards.

Every run on either side sets a record that was not set before: the typesetter keeps what it has seen. It
works on all cores, so the processor's time counts: the clock on the wall tells what else the machine does.
"""

import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any
from unittest.mock import patch

import typst
from bench_book import records_to_print
from bench_ratio import Bar

from steelyard.desk.on_paper import RecordToPrint
from steelyard.paper import record_paper

ROUNDS, TRIES = 25, 3
RECORDS = ROUNDS * TRIES + 1
"""For each side."""


def papers() -> list[Bar]:
    """Three points of five pulls: from the ledger to the bytes, against the typesetter alone."""
    records = records_to_print(2 * RECORDS)
    ours, bare = iter(records[:RECORDS]), _handed_over(records[RECORDS:])

    def whole() -> bytes:
        return record_paper(next(ours)()).content

    def typesetter() -> object:
        given, options = next(bare)
        return typst.compile(given, **options)

    whole(), typesetter()
    name = "a record as a PDF : the bare typesetter, processor"
    return [Bar(name, whole, typesetter, 1.2, rounds=ROUNDS, clock=time.process_time)]


def _handed_over(records: Sequence[Callable[[], RecordToPrint]]) -> Iterator[tuple[Any, dict[str, Any]]]:
    """What each record hands to the typesetter, which is kept from setting it."""
    with patch("typst.compile_with_warnings", return_value=(b"", [])) as typesetter:
        for record in records:
            record_paper(record())
    return iter([(given, options) for (given,), options in typesetter.call_args_list])
