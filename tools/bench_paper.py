"""A record as a PDF against the bare typesetter, warm: same template, fonts, attachments and standards.

The typesetter keeps what it set before, so each run has another name of the workshop.
"""

from itertools import count
from pathlib import Path
from typing import Any
from unittest.mock import patch

import typst
from bench_ratio import Bar

from steelyard.bootstrap import Photographs, SystemDice, WallClock, Workshop
from steelyard.desk import record_file, set_workshop
from steelyard.desk.on_paper import record_to_print
from steelyard.paper import record_paper
from steelyard.store import MemoryLedger

EXAMPLE = Path(__file__).resolve().parent.parent / "examples" / "click-wrench-on-adapter.toml"
NAME = "Tern Point"


def papers() -> list[Bar]:
    """Three points of five pulls: from the ledger to the bytes, against the typesetter alone."""
    shop = Workshop(Path(), MemoryLedger(), WallClock(), SystemDice(), Photographs())
    set_workshop(shop.acting(), {"name": NAME, "latitude": "54.3", "height": "12", "unit": "N·m"})
    record = record_file(shop.acting(), EXAMPLE.read_bytes())
    names = (f"{NAME} {i}" for i in count())

    def whole() -> bytes:
        set_workshop(shop.acting(), {"name": next(names)})
        return record_paper(record_to_print(shop.ledger, record)).content

    given, options = _handed_over(whole)
    data = options.pop("sys_inputs")["data"]

    def bare() -> object:
        renamed = data.replace(f"{NAME} 0", next(names))
        return typst.compile(given, **options, sys_inputs={"data": renamed})

    return [Bar("a record as a PDF : the bare typesetter", whole, bare, None, 3, 3)]


def _handed_over(whole: Any) -> tuple[Any, dict[str, Any]]:
    """What one record hands to the typesetter."""
    with patch("typst.compile_with_warnings", wraps=typst.compile_with_warnings) as spy:
        whole()
    (given,), options = spy.call_args
    return given, dict(options)
