"""Serving a workshop to this computer: a fixed port, or the next free one."""

import socket
import threading
import webbrowser
from collections.abc import Callable

from steelyard.bootstrap import Workshop
from steelyard.errors import InputRefused
from steelyard.web.app import make_app

USUAL_PORT, DEMO_PORT = 8734, 8736
TRIED = 20
LOOPBACK = "127.0.0.1"


def free_port(usual: int) -> tuple[int, socket.socket]:
    """The usual port or the next free one, and the socket that holds it.

    Raises InputRefused where none of the next twenty is free.
    """
    for port in range(usual, usual + TRIED):
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((LOOPBACK, port))
            return port, listening
        except OSError:
            listening.close()
    raise InputRefused("port", usual, "want-free-port", most=usual + TRIED - 1)


def serve(
    workshop: Workshop,
    *,
    usual_port: int,
    opens_browser: bool,
    is_ready: Callable[[str, bool], None],
) -> None:
    """Serve until Ctrl-C.

    is_ready: called once with the address and whether the usual port was taken by somebody else.
    """
    import uvicorn

    port, listening = free_port(usual_port)
    address = f"http://{LOOPBACK}:{port}/"
    app = make_app(workshop)
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, ws_per_message_deflate=False
    )
    server = uvicorn.Server(config)
    is_ready(address, port != usual_port)
    if opens_browser:
        threading.Timer(0.8, webbrowser.open, [address]).start()
    with listening:
        server.run(sockets=[listening])
