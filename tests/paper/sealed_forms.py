"""Records made from check forms, and their papers, for tests that read a PDF."""

from steelyard.bootstrap import Workshop
from steelyard.desk import record_file
from steelyard.desk.on_paper import RecordToPrint, record_to_print
from steelyard.paper import Paper, record_paper
from web.shop import make_workshop

HEAD = """\
steelyard_check = 1
date = 2026-11-20
title = "{title}"
exercise_pulls = 5
draws = 10000

[tool]
number = "{number}"
kind = "click-adjustable"
make = "{make}"
lowest = "20 N·m"
highest = "400 N·m"
graduation = "0.5 N·m"

[limit]
percent = 4
source = "{source}"

[kit]
kind = "transducer"
name = "{kit}"
resolution = "0.1 N·m"
stated_of_reading = "0.5 %"
axis = "vertical"
zeroed = "with-tool"
mode = "first-peak"
"""
TEXTS = {
    "title": "spring round",
    "number": "T-04",
    "make": "a maker",
    "source": "our own list",
    "kit": "adapter A-1",
}


def form(points: int = 3, pulls: int = 5, *, struck: int = 0, reason: str = "slipped", **texts: str) -> str:
    """A check of `points` targets from 20 N·m up; `struck` more pulls of the first point do not count.

    texts: of `TEXTS`, each a text that stands in a TOML string.
    """
    rows = [HEAD.format(**{**TEXTS, **texts})]
    for i in range(points):
        target = 20 + 30 * i
        good = [f'{{ reading = "{target * (0.99 + 0.001 * (k % 3)):.1f} N·m" }}' for k in range(pulls)]
        bad = [
            f'{{ reading = "{target + 1 + k / 10:.1f} N·m", struck_out = "{reason}" }}' for k in range(struck)
        ]
        counts = bad + good if i == 0 else good
        rows.append(f'\n[[point]]\ntarget = "{target} N·m"\npulls = [\n  ' + ",\n  ".join(counts) + "\n]\n")
    return "".join(rows)


def sealed(text: str, workshop: Workshop | None = None) -> RecordToPrint:
    """A form kept as a record, in a workshop of its own where none is given."""
    opened = workshop or make_workshop()
    return record_to_print(opened.ledger, record_file(opened.acting(), text.encode()))


def on_paper(text: str) -> Paper:
    """A form kept as a record, on paper."""
    return record_paper(sealed(text))
