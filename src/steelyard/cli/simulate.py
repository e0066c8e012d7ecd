"""`steelyard simulate QUESTION`: made-up tools, to see whether what is said of real ones holds."""

import argparse
import importlib

from steelyard.words import say

QUESTIONS = ("coverage", "threshold", "adjusting")
MISSED = 10


def arguments(parser: argparse.ArgumentParser) -> None:
    """The questions with their options."""
    parts = parser.add_subparsers(dest="question", metavar="QUESTION", required=True)
    for question in QUESTIONS:
        purpose = say(f"simulate-{question}")
        part = parts.add_parser(question, help=purpose, description=purpose, allow_abbrev=False)
        importlib.import_module(f"steelyard.cli.simulate_{question}").arguments(part)


def answer(read: argparse.Namespace) -> int:
    """Simulate, print, return 0 where every bound is kept and 10 where one is not."""
    is_kept = importlib.import_module(f"steelyard.cli.simulate_{read.question}").answer(read)
    return 0 if is_kept else MISSED
