"""Many records of one shape, each of another tool with other readings."""

import re
from collections.abc import Callable
from functools import partial
from pathlib import Path
from random import Random

from steelyard.bootstrap import Photographs, SystemDice, WallClock, Workshop
from steelyard.desk import record_file, set_workshop
from steelyard.desk.on_paper import RecordToPrint, record_to_print
from steelyard.store import MemoryLedger

EXAMPLE = Path(__file__).resolve().parent.parent / "examples" / "click-wrench-on-adapter.toml"
NAME = "Tern Point"
READING = re.compile(r"\b\d+\.\d\b")
POINTS = "[[point]]"
FEW_DRAWS = "draws = 10000\n"
"""The paper is the same length; the figures are not looked at."""
SCATTER = 0.002
SEED = 1


def records_to_print(count: int) -> list[Callable[[], RecordToPrint]]:
    """As many records of an example, its tool and readings changed for each; each is read when it is called.

    Each lies in a small ledger of its own: a ledger in memory is searched from end to end.
    """
    chance, form = Random(SEED), EXAMPLE.read_text()
    return [_sealed(_another(form, f"T-{i + 1:03d}", chance)) for i in range(count)]


def _sealed(form: str) -> Callable[[], RecordToPrint]:
    shop = Workshop(Path(), MemoryLedger(), WallClock(), SystemDice(), Photographs())
    set_workshop(shop.acting(), {"name": NAME, "latitude": "54.3", "height": "12", "unit": "N·m"})
    record = record_file(shop.acting(), form.encode())
    return partial(record_to_print, shop.ledger, record)


def _another(form: str, number: str, chance: Random) -> str:
    """The same check of another tool."""
    head, point, pulls = form.partition(POINTS)
    numbered = re.sub(r'^number = ".*"', f'number = "{number}"', head, count=1, flags=re.MULTILINE)
    read = READING.sub(lambda found: f"{float(found[0]) * chance.gauss(1, SCATTER):.1f}", pulls)
    return numbered.replace("[place]", f"{FEW_DRAWS}\n[place]", 1) + point + read
