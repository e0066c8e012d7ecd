"""What happens on a check while its page is open: a second window is told at once."""

import asyncio
from contextlib import suppress

from fastapi import APIRouter, WebSocket, WebSocketDisconnect
from starlette.concurrency import run_in_threadpool

from steelyard.bootstrap import Workshop
from steelyard.desk import check_view
from steelyard.errors import NotFound, SteelyardError

router = APIRouter()
LOOK_SECONDS = 0.5
NOT_THERE, ENDING, LATER = 1008, 1012, 1013


@router.websocket("/live/{check}")
async def live(line: WebSocket, check: str) -> None:
    """Send `{"last": n}` at first and whenever a later entry stands in the check.

    It asks the ledger twice a second, since another program may write there too. Closes with 1008 where there
    is no such check, with 1012 when the server is to end, with 1013 where the ledger does not answer.
    """
    await line.accept()
    shop: Workshop = line.app.state.workshop
    heard = asyncio.create_task(_until_gone(line))
    try:
        await _tell(line, shop, check, heard)
    finally:
        heard.cancel()


async def _tell(line: WebSocket, shop: Workshop, check: str, heard: "asyncio.Task[None]") -> None:
    known, head = 0, -1
    while not heard.done():
        if line.app.state.is_ending():  # a line accepted in that very moment hears nothing of it otherwise
            await _end(line, ENDING)
            return
        try:
            now = await run_in_threadpool(lambda: shop.ledger.head().number)
            last = await run_in_threadpool(_last, shop, check) if now != head else known
        except SteelyardError as refused:
            await _end(line, NOT_THERE if isinstance(refused, NotFound) else LATER)
            return
        if last != known:
            with suppress(WebSocketDisconnect, RuntimeError):
                await line.send_json({"last": last})
        known, head = last, now
        await asyncio.wait([heard], timeout=LOOK_SECONDS)


def _last(shop: Workshop, check: str) -> int:
    """The last entry of a check. Raises NotFound, StoreTrouble."""
    return int(check_view(shop.ledger, check).body["last"])


async def _until_gone(line: WebSocket) -> None:
    """Return when the page is closed; what it sends is not heard."""
    with suppress(WebSocketDisconnect):
        while True:
            await line.receive_text()


async def _end(line: WebSocket, code: int) -> None:
    with suppress(WebSocketDisconnect, RuntimeError):
        await line.close(code)
