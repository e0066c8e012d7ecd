"""Ratios of Steelyard's work to the least it could cost, each against its bound; exit 1 when one is over."""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src")]

from bench_engine import budget, draws, fleet, others  # noqa: E402
from bench_import import imports  # noqa: E402
from bench_page import pages  # noqa: E402
from bench_paper import papers  # noqa: E402
from bench_paper_beside import papers_beside  # noqa: E402
from bench_proof import proofs  # noqa: E402
from bench_ratio import Bar, best_of_three  # noqa: E402
from bench_shop import PULLS_A_TOOL, shops  # noqa: E402
from bench_start import start  # noqa: E402
from bench_store import ledgers  # noqa: E402
from bench_trials import trials  # noqa: E402

BARS: list[Bar] = [*budget(), *draws(), *start(), *fleet(), *others()]
SMALL, LARGE = 100, 10_000
"""Workshops, in tools."""


def run() -> int:
    """Print the table; 1 when a ratio is over its bound."""
    print(f"{'what':<66} {'ratio':>7} {'bound':>7}")
    over = measured([*BARS, *trials(), *papers(), *proofs(), *papers_beside()])
    with imports() as bars:
        over += measured(bars)
    print(f"Workshops of {SMALL} and {LARGE} tools, {PULLS_A_TOOL} pulls each; they take a minute or two.")
    with shops(SMALL, LARGE) as (small, large):
        over += measured([*ledgers(small, large), *pages(small, large)])
    return int(over > 0)


def measured(bars: list[Bar]) -> int:
    """Print a line for each; returns how many are over."""
    over = 0
    for bar in bars:
        ratio = best_of_three(bar)
        mark = "-" if bar.bound is None else "ok" if ratio <= bar.bound else "over"
        over += mark == "over"
        bound = "" if bar.bound is None else f"{bar.bound:g}"
        print(f"{bar.name:<66} {ratio:>7.3g} {bound:>7} {mark}", flush=True)
    return over


if __name__ == "__main__":
    sys.exit(run())
