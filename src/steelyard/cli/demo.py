"""`steelyard demo`: a made-up workshop to try everything on, thrown away at the end."""

import argparse
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.serving import arguments, ended_kindly, serve_until_stopped
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.bootstrap import Workshop

__all__ = ["answer", "arguments"]


def answer(read: argparse.Namespace) -> int:
    """Make the workshop, fill it, serve it until Ctrl-C; returns 0.

    A folder that is named is kept and opened as it is the next time. Raises InputRefused where a workshop
    lies there that is no made-up one.
    """
    with ended_kindly():
        from steelyard.bootstrap import demo_workshop
        from steelyard.web.serving import DEMO_PORT

        with _folder(read.data) as folder, demo_workshop(folder) as opened:
            print(say("demo-kept", folder=folder) if read.data else say("demo-thrown-away"), flush=True)
            serve_until_stopped(
                opened,
                read,
                usual_port=DEMO_PORT,
                before=lambda: _fill(opened),
            )
    return 0


def _fill(workshop: "Workshop") -> None:
    """Play the story, where nothing is written yet."""
    from steelyard.bootstrap import fill_demo

    if workshop.ledger.head().number == 0:
        print(say("demo-filling"), flush=True)
        fill_demo(workshop)


@contextmanager
def _folder(named: Path | None) -> Iterator[Path]:
    if named is not None:
        yield named.absolute()
        return
    with tempfile.TemporaryDirectory(prefix="steelyard-demo-", ignore_cleanup_errors=True) as passing:
        yield Path(passing)
