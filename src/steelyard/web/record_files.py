"""A record as a file to be sent and kept, for its page and for a program alike."""

from steelyard.desk import record_export
from steelyard.desk.on_paper import page_size, record_to_print
from steelyard.paper import record_paper
from steelyard.paper.dcc import dcc_of
from steelyard.proof import signed_json
from steelyard.web.asked import Ask


def record_pdf(ask: Ask, record: int, page: str) -> bytes:
    """On paper. page: its size as asked for; empty takes the workshop's. Raises NotFound, InputRefused."""
    size = page_size(page)
    printed = record_to_print(ask.workshop.ledger, record)
    workshop = ask.workshop
    signer = workshop.keyring.for_leaving()
    return record_paper(printed, page=size, is_demo=workshop.is_demo, signer=signer).content


def record_dcc(ask: Ask, record: int) -> bytes:
    """In the open exchange format. Raises NotFound."""
    export = record_export(ask.workshop.ledger, record)
    workshop = ask.workshop
    signer = workshop.keyring.for_leaving()
    return dcc_of(export, workshop=ask.settings.name, is_demo=workshop.is_demo, signer=signer)


def record_json(ask: Ask, record: int) -> bytes:
    """All of it, as JSON. Raises NotFound."""
    return signed_json(record_export(ask.workshop.ledger, record), ask.workshop.keyring.for_leaving())
