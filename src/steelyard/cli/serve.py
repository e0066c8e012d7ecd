"""`steelyard`, `steelyard serve`: the person's own workshop in the browser."""

import argparse

from steelyard.cli.serving import arguments, ended_kindly, serve_until_stopped
from steelyard.words import say

__all__ = ["answer", "arguments"]


def answer(read: argparse.Namespace) -> int:
    """Open the workshop, made where there is none, and serve it until Ctrl-C; returns 0."""
    with ended_kindly():
        from steelyard.bootstrap import find_folder, workshop
        from steelyard.web.serving import USUAL_PORT

        folder = find_folder(read.data)
        with workshop(folder) as opened:
            print(say("serving-folder", folder=folder))
            serve_until_stopped(opened, read, usual_port=USUAL_PORT)
    return 0
