"""Serving a workshop to this computer: a fixed port, or the next free one."""

import socket
import sys
from collections.abc import Callable

from steelyard.bootstrap import Workshop
from steelyard.errors import InputRefused
from steelyard.web.app import make_app
from steelyard.web.browser import open_browser

USUAL_PORT, DEMO_PORT = 8734, 8736
TRIED = 20
LOOPBACK = "127.0.0.1"
PATIENCE_SECONDS = 5
"""How long a request under way may take when the server is to end. [s]"""


def free_port(usual: int, *, is_exact: bool = False) -> tuple[int, socket.socket]:
    """The usual port or the next free one, and the socket that listens there.

    usual: 0 takes any. is_exact: this one or none.
    Raises InputRefused where it is not free, or none of the next twenty.
    """
    last = usual if is_exact or not usual else min(usual + TRIED, 65_536) - 1
    for port in range(usual, last + 1):
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        try:
            _take(listening, port)
        except OSError:
            listening.close()
            continue
        return int(listening.getsockname()[1]), listening
    if is_exact:
        raise InputRefused("port", usual, "want-that-port")
    raise InputRefused("port", usual, "want-free-port", most=last)


def _take(listening: socket.socket, port: int) -> None:
    """Listen at a port that nobody else has. Raises OSError.

    Source: on Windows SO_REUSEADDR shares a port in use (Microsoft, Using SO_REUSEADDR and
    SO_EXCLUSIVEADDRUSE); elsewhere it only takes one that was left a moment ago.
    """
    if sys.platform == "win32":
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
    else:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    listening.bind((LOOPBACK, port))
    listening.listen()


def serve(
    workshop: Workshop,
    *,
    usual_port: int,
    opens_browser: bool,
    is_ready: Callable[[str, bool], None],
    is_exact: bool = False,
) -> None:
    """Serve until Ctrl-C, which comes through as KeyboardInterrupt once everything is put away.

    is_ready: called once with the address and whether the usual port was taken by somebody else.
    is_exact: at the usual port or not at all. Raises InputRefused where no port is free.
    """
    import uvicorn

    port, listening = free_port(usual_port, is_exact=is_exact)
    app = make_app(workshop)
    with listening:
        config = uvicorn.Config(
            app,
            log_level="warning",
            access_log=False,
            server_header=False,
            ws_per_message_deflate=False,
            timeout_graceful_shutdown=PATIENCE_SECONDS,
        )
        address = f"http://{LOOPBACK}:{port}/"
        is_ready(address, usual_port not in (0, port))
        if opens_browser:
            open_browser(address)
        server = uvicorn.Server(config)
        app.state.is_ending = lambda: server.should_exit
        server.run(sockets=[listening])
