"""From the options of a question of `steelyard reckon` to the desk."""

import argparse
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from steelyard.cli.files import read_file
from steelyard.cli.reckon_options import PLACED, QUESTIONS, SWITCHES

if TYPE_CHECKING:
    from steelyard.desk.reckon import Answer


def ask(args: argparse.Namespace) -> "Answer":
    """The desk's answer. Raises InputRefused, NotFound."""
    from steelyard.desk.reckon_asked import YES, reckon_asked

    typed: dict[str, str | None] = {}
    for option in QUESTIONS[args.question]:
        value = getattr(args, place(option))
        typed[option.removeprefix("--")] = "\n".join(value) if isinstance(value, list) else value
    for switch in SWITCHES.get(args.question, ()):
        typed[switch.removeprefix("--")] = YES if getattr(args, place(switch)) else None
    files: list[str] = []
    if args.question in PLACED:
        placed = getattr(args, PLACED[args.question][0])
        if PLACED[args.question][0] == "file":
            files = placed if isinstance(placed, list) else [placed]
        else:
            typed["torque"] = " ".join(placed)
    today = datetime.now(UTC).astimezone().date()
    return reckon_asked(args.question, typed, today=today, forms=[read_file(name) for name in files])


def place(option: str) -> str:
    """The attribute of an option."""
    return option.removeprefix("--").replace("-", "_")
