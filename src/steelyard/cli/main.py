"""The one command with its parts; each part is loaded only when it is asked for."""

import argparse
import importlib
import os
import sys
from collections.abc import Sequence

from steelyard.errors import SteelyardError
from steelyard.words import say

PARTS = (
    "serve",
    "demo",
    "check",
    "able",
    "adjust",
    "next",
    "reckon",
    "due",
    "export",
    "import",
    "paper",
    "label",
    "verify",
    "sign",
    "key",
    "dcc",
    "backup",
    "restore",
    "store",
    "simulate",
)
USUAL = "serve"
"""What is meant where no part is named."""
OWN_OPTIONS = ("-h", "--help", "--version")
STOPPED = 130
OUR_FAULT = 70


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit status.

    arguments: without the program's name; None takes those of the process.
    """
    given = list(sys.argv[1:] if arguments is None else arguments)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # no matrix here is large; threads only slow the start
    try:
        return _answer([USUAL, *given] if _names_no_part(given) else given)
    except SteelyardError as trouble:
        print(trouble, file=sys.stderr)
        return trouble.exit_code
    except KeyboardInterrupt:
        print(say("program-stopped"), file=sys.stderr)
        return STOPPED
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as fault:  # noqa: BLE001 — the door: our own fault is said in one sentence
        print(say("program-fault", kind=type(fault).__name__, detail=fault), file=sys.stderr)
        return OUR_FAULT


def _names_no_part(given: Sequence[str]) -> bool:
    return not given or (given[0].startswith("-") and given[0] not in OWN_OPTIONS)


def _answer(given: list[str]) -> int:
    parser = argparse.ArgumentParser(
        prog="steelyard", description=say("program-purpose"), epilog=say("program-exit")
    )
    parser.add_argument("--version", action="store_true", help=say("option-version"))
    parts = parser.add_subparsers(dest="part", metavar="PART")
    wanted = next((word for word in given if not word.startswith("-")), None)
    answer = None
    for name in PARTS:
        part = parts.add_parser(name, help=say(f"program-{name}"), description=say(f"program-{name}"))
        if name == wanted:
            module = importlib.import_module(f"steelyard.cli.{name}")
            module.arguments(part)
            answer = module.answer
    read = parser.parse_args(given)
    if read.version:
        from importlib.metadata import version

        print(version("steelyard"))
        return 0
    if answer is None:
        parser.print_help()
        return 0
    return int(answer(read))
