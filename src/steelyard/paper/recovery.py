"""The recovery sheet of a workshop's key: its digits, to be typed in again when the computer is gone."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, time

from steelyard.desk.on_paper import PaperSize
from steelyard.paper.coverage import shown
from steelyard.paper.record import TYPST_SIZES
from steelyard.paper.typesetting import typeset
from steelyard.words import say

SENTENCES = ("key-sheet-secret", "key-sheet-use", "key-sheet-check")


def recovery_sheet(
    lines: Sequence[str], mark: str, *, shop: str, page: PaperSize, today: date, is_demo: bool = False
) -> bytes:
    """The sheet as a PDF; the same on the same day gives the same bytes.

    lines: of the key, as `WorkshopKey.lines` has them. mark: fingerprint of its public key. shop: name of the
    workshop, may be empty. page: size. today: when it was made.
    """
    data = {
        "title": say("key-sheet-title"),
        "workshop": shown(shop or say("workshop-unnamed"))[0],
        "paper": TYPST_SIZES[page],
        "demo": say("shell-demo") if is_demo else "",
        "day": (today.year, today.month, today.day),
        "lines": [(say("key-sheet-line", number=i), line) for i, line in enumerate(lines, 1)],
        "facts": [
            (say("key-fingerprint"), mark),
            (say("key-sheet-day"), today.isoformat()),
        ],
        "sentences": [say(code) for code in SENTENCES],
    }
    return typeset("key.typ", data, made=datetime.combine(today, time(), UTC))
