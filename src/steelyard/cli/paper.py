"""`steelyard paper RECORD`: a record as a PDF, to be printed, sent and kept."""

import argparse
import sys
from pathlib import Path

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.new_file import hand_over
from steelyard.cli.sentences import findings
from steelyard.errors import InputRefused
from steelyard.words import say

PAGES = ("a4", "letter")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("record", type=int, metavar="RECORD", help=say("option-record"))
    parser.add_argument("--out", type=Path, metavar="FILE", help=say("option-out"))
    parser.add_argument("--page", choices=PAGES, help=say("option-page"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Write the PDF to a new file or to standard output; returns 0.

    What could not be shown is said on standard error. Raises InputRefused rather than fill a screen with it.
    """
    from steelyard.desk.on_paper import record_to_print
    from steelyard.paper import record_paper

    if read.out is None and sys.stdout.isatty():
        raise InputRefused("--out", None, "want-new-file")
    with opened(read) as workshop:
        printed = record_to_print(workshop.ledger, read.record)
        signer = workshop.keyring.for_leaving()
        paper = record_paper(printed, page=read.page, is_demo=workshop.is_demo, signer=signer)
    if hand_over(paper.content, read.out):
        print(say("paper-done", record=read.record, file=read.out))
    if paper.findings:
        print(*findings(paper.findings), sep="\n", file=sys.stderr)
    return 0
