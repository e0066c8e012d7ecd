"""`steelyard export RECORD`: a record in the check form, as `steelyard check` reads it, or for others."""

import argparse
from pathlib import Path

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.new_file import hand_over
from steelyard.errors import InputRefused
from steelyard.words import say

PHASES = ("as-found", "as-left")
FORMS = ("form", "dcc")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("record", type=int, metavar="RECORD", help=say("option-record"))
    parser.add_argument("--phase", choices=PHASES, help=say("option-phase"))
    parser.add_argument("--as", dest="form", choices=FORMS, default=FORMS[0], help=say("option-as"))
    parser.add_argument("--out", type=Path, metavar="FILE", help=say("option-out"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Write it to a new file or to standard output; returns 0."""
    form = _form(read) if read.form == "form" else _dcc(read)
    if hand_over(form, read.out):
        print(say("export-done", record=read.record, file=read.out))
    return 0


def _form(read: argparse.Namespace) -> bytes:
    from steelyard.desk import record_form

    with opened(read) as workshop:
        return record_form(workshop.ledger, read.record, read.phase)


def _dcc(read: argparse.Namespace) -> bytes:
    """The record as a Digital Calibration Certificate. Raises InputRefused where a phase is asked for."""
    from steelyard.desk import record_export, settings
    from steelyard.paper.dcc import dcc_of

    if read.phase is not None:
        raise InputRefused("--phase", read.phase, "want-no-phase")
    with opened(read) as workshop:
        export = record_export(workshop.ledger, read.record)
        return dcc_of(export, workshop=settings(workshop.ledger).name, is_demo=workshop.is_demo)
