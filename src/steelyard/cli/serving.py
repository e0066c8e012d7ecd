"""Serving a workshop from the command line, until somebody ends it."""

import argparse
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from steelyard.cli.folder import folder_argument
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.bootstrap import OneServer, Workshop

LIKE_CTRL_C = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
"""Signals that end a program: Ctrl-C, asked to, or its terminal closed. Not all are there on every system."""
HIGHEST_PORT = 65_535
BROWSER_SECONDS = 5


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of every part that serves."""
    folder_argument(parser)
    parser.add_argument("--port", type=port, metavar="N", help=say("option-port"))
    parser.add_argument("--no-browser", action="store_true", help=say("option-no-browser"))


def port(typed: str) -> int:
    """The number of a port. Raises argparse.ArgumentTypeError."""
    if typed.isascii() and typed.isdigit() and int(typed) <= HIGHEST_PORT:
        return int(typed)
    raise argparse.ArgumentTypeError(say("port-number", given=typed, most=HIGHEST_PORT))


def serve_until_stopped(
    workshop: "Workshop",
    read: argparse.Namespace,
    *,
    usual_port: int,
    before: Callable[[], None] = lambda: None,
) -> None:
    """Serve an open workshop at the port that is asked for, else the usual one.

    Where it is served already its address is said and opened instead. before: what is done once no other can
    serve it. Raises InputRefused where a port is taken.
    """
    from steelyard.bootstrap import one_server

    with one_server(workshop.folder) as server:
        if server.other is not None:
            _point_at(server.other, read)
        else:
            before()
            _serve(workshop, server, read, usual_port)


def _serve(workshop: "Workshop", server: "OneServer", read: argparse.Namespace, usual_port: int) -> None:
    from steelyard.bootstrap import start_daily_backups
    from steelyard.web.browser import is_browser_here
    from steelyard.web.serving import serve

    def is_ready(address: str, is_other_port: bool) -> None:
        server.announce(address)
        if is_other_port:
            print(say("serving-other-port", port=usual_port))
        print(say("serving-address", address=address))
        print(say("serving-how-to-end"), flush=True)

    end_backups = start_daily_backups(workshop, _backup_trouble)
    try:
        serve(
            workshop,
            usual_port=usual_port if read.port is None else read.port,
            is_exact=read.port is not None,
            opens_browser=not read.no_browser and is_browser_here(),
            is_ready=is_ready,
        )
    finally:
        end_backups()


def _backup_trouble(trouble: Exception) -> None:
    print(say("serving-no-backup", trouble=trouble), file=sys.stderr, flush=True)


def _point_at(address: str, read: argparse.Namespace) -> None:
    from steelyard.web.browser import is_browser_here, open_browser

    print(say("serving-already", address=address), flush=True)
    if not read.no_browser and is_browser_here():
        open_browser(address).join(BROWSER_SECONDS)


def _interrupt(*_: object) -> None:
    raise KeyboardInterrupt


def _as_ctrl_c(*_: object) -> None:
    """The way that the server knows how to end by."""
    signal.raise_signal(signal.SIGINT)


@contextmanager
def ended_kindly() -> Iterator[None]:
    """Ctrl-C, and whatever else asks a program to end, ends what is inside with a sentence and no trouble.

    A closed terminal does not end a program that was started so as to outlive it.
    """
    before = {
        number: signal.signal(number, _interrupt if number == signal.SIGINT else _as_ctrl_c)
        for name in LIKE_CTRL_C
        if (number := getattr(signal, name, None)) is not None
        and not (name == "SIGHUP" and signal.getsignal(number) is signal.SIG_IGN)
    }
    try:
        yield
    except KeyboardInterrupt:
        print(f"\n{say('serving-ended')}", flush=True)
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
