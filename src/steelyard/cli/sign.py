"""`steelyard sign`: records that were sealed before there was a key."""

import argparse

from steelyard.cli.folder import folder_argument, opened
from steelyard.errors import InputRefused
from steelyard.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("record", type=int, nargs="*", metavar="RECORD", help=say("option-sign-record"))
    parser.add_argument("--all", action="store_true", help=say("option-sign-all"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Sign each; returns 0. Raises InputRefused where none is named, or the key is not there; NotFound."""
    from steelyard.desk.signing import sign_record, unsigned_records

    if not read.record and not read.all:
        raise InputRefused("RECORD", None, "want-records-to-sign")
    with opened(read) as workshop:
        acting = workshop.acting(device=say("device-command-line"))
        records = [*read.record, *(unsigned_records(workshop.ledger) if read.all else ())]
        for record in records:
            is_new = sign_record(acting, record)
            print(say("sign-done" if is_new else "sign-before", record=record))
    if not records:
        print(say("sign-none"))
    return 0
