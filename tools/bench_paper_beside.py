"""Records as PDFs by our typesetting, by reportlab and by WeasyPrint, in turn in one process.

All begin at the ledger, take the same words and set head, facts, tables of pulls, picture of the deviations,
budget and statements in the same font, warm. Ours is the paper as it leaves the house: tagged, PDF/A-3a and
PDF/UA-1, the certificate in XML made for it and three files inside. The others are laid out plainly, neither
tagged nor fit to be archived; WeasyPrint attaches the record as JSON, reportlab nothing.
"""

from collections.abc import Callable, Iterator
from itertools import cycle, islice

from bench_book import records_to_print
from bench_ratio import Bar
from bench_reportlab import reportlab_engine
from bench_weasyprint import weasyprint_engine

from steelyard.desk.on_paper import RecordToPrint
from steelyard.paper import record_paper

RECORDS, BATCH = 200, 20
"""By each engine; so many at a time, so that a busy moment of the machine meets both. WeasyPrint takes half a
minute for fifty.
"""
AT_MOST_OF_WEASYPRINT = 0.3
Engine = Callable[[RecordToPrint], bytes]
Read = Callable[[], RecordToPrint]


def papers_beside() -> list[Bar]:
    """Our paper against each engine that is here."""
    records = records_to_print(RECORDS)
    bars = [_beside(records, "reportlab", reportlab_engine(), None)]
    try:
        return [*bars, _beside(records, "WeasyPrint", weasyprint_engine(), AT_MOST_OF_WEASYPRINT)]
    except OSError:
        print("WeasyPrint is left out: it needs Pango, which this system does not have.")
        return bars


def _beside(records: list[Read], name: str, engine: Engine, bound: float | None) -> Bar:
    ours, theirs = _batches(_our_paper, records), _batches(engine, records)
    said = f"{RECORDS} records as PDFs : untagged by {name}"
    return Bar(said, ours, theirs, bound, rounds=RECORDS // BATCH)


def _our_paper(printed: RecordToPrint) -> bytes:
    return record_paper(printed).content


def _batches(engine: Engine, records: list[Read]) -> Callable[[], None]:
    """The next records each time, from the first again after the last."""
    ahead: Iterator[Read] = cycle(records)

    def batch() -> None:
        for record in islice(ahead, BATCH):
            engine(record())

    return batch
