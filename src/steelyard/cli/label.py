"""`steelyard label`: labels for tools as a PDF."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.new_file import hand_over
from steelyard.errors import InputRefused
from steelyard.paper.label_sheets import SHEETS, SINGLE, typed_sheet, typed_skip, usual_sheet
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.paper.label_sheets import LabelSheet

SETS = {"due": "due", "quarantine": "quarantined", "all": "here"}
"""Options for many tools at once, and how the rack calls them."""
OPTIONS = {"single_width": "--size", "single_height": "--size", "skip": "--skip"}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("tools", nargs="*", metavar="TOOL", help=say("option-label-tool"))
    sets = parser.add_mutually_exclusive_group()
    for name, which in SETS.items():
        told = say(f"option-label-{name}")
        sets.add_argument(f"--{name}", dest="which", action="store_const", const=which, default="", help=told)
    paper = parser.add_mutually_exclusive_group()
    told = say("option-label-sheet", names=", ".join(SHEETS))
    paper.add_argument("--sheet", choices=SHEETS, metavar="NAME", help=told)
    paper.add_argument("--size", metavar="MMxMM", help=say("option-label-size"))
    parser.add_argument("--skip", default="", metavar="N", help=say("option-label-skip"))
    parser.add_argument("--out", type=Path, metavar="FILE", help=say("option-label-out"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Write the PDF to a new file or to standard output; returns 0."""
    from steelyard.desk import settings
    from steelyard.desk.labelling import tools_to_label
    from steelyard.paper.labels import label_pdf

    if read.out is None and sys.stdout.isatty():
        raise InputRefused("--out", None, "want-file-for-pdf")
    with opened(read) as workshop:
        said, today = settings(workshop.ledger), workshop.clock.now().date()
        views = tools_to_label(workshop.ledger, read.tools, read.which, today=today)
    sheet, skip = _paper(read, said.paper)
    pdf = label_pdf(views, sheet, skip, address=said.label_address, shop=said.name, today=today)
    if hand_over(pdf, read.out):
        print(say("label-done", file=read.out, count=len(views)))
    return 0


def _paper(read: argparse.Namespace, usual: str) -> tuple["LabelSheet", int]:
    """The sheet and the positions used up. Raises InputRefused with the option as its field."""
    typed = {"sheet": read.sheet or usual_sheet(usual)}
    if read.size is not None:
        width, cross, height = read.size.lower().replace("×", "x").partition("x")
        if not (width.strip() and cross and height.strip()):
            raise InputRefused("--size", read.size, "want-label-size")
        typed = {"sheet": SINGLE, "single_width": width, "single_height": height}
    try:
        sheet = typed_sheet(typed)
        return sheet, typed_skip(read.skip, sheet)
    except InputRefused as refused:
        raise InputRefused(OPTIONS[refused.field], refused.given, refused.wanted, **refused.facts) from None
