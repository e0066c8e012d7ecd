"""What becomes of every row of a table, as a CSV file: the refused rows first."""

import csv
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryFile

from steelyard.desk.taking_in import REFUSED, Fate
from steelyard.errors import InputRefused
from steelyard.sheets.guarding import guarded
from steelyard.words import say

HEAD = ("row", "fate", "name", "field", "sentence")


@contextmanager
def fates_file(path: Path) -> Iterator[Callable[[Fate], None]]:
    """Writes fates as they come; the file is whole once this is left without trouble.

    path: of a file that is not there yet. Raises InputRefused (`--fates`).
    """
    try:
        with (
            path.open("x", encoding="utf-8-sig", newline="") as whole,
            TemporaryFile("w+", encoding="utf-8", newline="") as others,
        ):
            first, then = csv.writer(whole), csv.writer(others)
            first.writerow([say(f"fate-head-{name}") for name in HEAD])
            yield lambda fate: (first if fate.state == REFUSED else then).writerow(_cells(fate))
            others.seek(0)
            shutil.copyfileobj(others, whole)
    except FileExistsError:
        raise InputRefused("--fates", path, "want-new-file") from None
    except OSError:
        raise InputRefused("--fates", path, "want-writable-file") from None


def _cells(fate: Fate) -> list[str]:
    said = (str(fate.row), say(f"fate-{fate.state}"), fate.name, fate.field, fate.sentence)
    return [guarded(text) for text in said]
