"""A workshop that signs, and one record of it in each form in which it leaves."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from steelyard.bootstrap import Photographs, SystemDice, WallClock, Workshop
from steelyard.desk import Acting, record_export, record_file, set_workshop
from steelyard.desk.on_paper import keep_logo, record_to_print
from steelyard.paper import record_paper
from steelyard.paper.dcc import dcc_of
from steelyard.proof import WorkshopKey, signed_json
from steelyard.store import MemoryLedger

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAME = "Tern Point Boatyard"
KEY, OTHER = WorkshopKey(b"\1" * 32), WorkshopKey(b"\2" * 32)


class SignedShop:
    """Its record is number 1."""

    def __init__(self, key: WorkshopKey | None = KEY) -> None:
        self.key = key
        self.workshop = Workshop(Path(), MemoryLedger(), WallClock(), SystemDice(), Photographs())
        self.ledger = self.workshop.ledger
        set_workshop(self.acting(), {"name": NAME, "latitude": "54.3", "height": "12", "unit": "N·m"})
        content = (EXAMPLES / "click-wrench-on-adapter.toml").read_bytes()
        self.record = record_file(self.acting(), content)

    def acting(self) -> Acting:
        """Somebody who acts there."""
        return replace(self.workshop.acting(), signer=lambda: self.key)

    def json(self) -> bytes:
        """As JSON."""
        return signed_json(record_export(self.ledger, self.record), self.key)

    def dcc(self) -> bytes:
        """As a certificate."""
        return dcc_of(record_export(self.ledger, self.record), workshop=NAME, signer=self.key)

    def pdf(self) -> bytes:
        """On paper, with a logo."""
        return record_paper(record_to_print(self.ledger, self.record), signer=self.key).content


@cache
def shop() -> SignedShop:
    """The one that all tests read, with a picture on its paper."""
    made = SignedShop()
    keep_logo(made.acting(), _picture(), "image/png")
    return made


@cache
def leaving(form: str) -> bytes:
    """Its record in one form: `json`, `dcc` or `pdf`."""
    content: bytes = getattr(shop(), form)()
    return content


def _picture() -> bytes:
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (60, 20), (20, 90, 60)).save(out, "PNG")
    return out.getvalue()
