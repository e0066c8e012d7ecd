"""`steelyard export WHAT`: a record, a table or the whole workshop, as a file for others or to come back."""

import argparse
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.new_file import hand_over, hand_over_pieces
from steelyard.errors import InputRefused
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.bootstrap import Workshop

PHASES = ("as-found", "as-left")
FORM, DCC, JSON = RECORD_FORMS = ("form", "dcc", "json")
CSV, XLSX, _ = TABLE_FORMS = ("csv", "xlsx", JSON)
TABLES = ("rack", "rigs", "records", "pulls")
WORKSHOP = "workshop"
NAMED = (*TABLES, WORKSHOP)
NARROWING = {
    "--words": "words",
    "--tool": "tool",
    "--who": "who",
    "--verdict": "verdict",
    "--from": "day_from",
    "--to": "day_to",
}
"""Options that narrow records and pulls, and the fields of the book they fill."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("what", type=_what, metavar="WHAT", help=say("option-export-what"))
    parser.add_argument("--phase", choices=PHASES, help=say("option-phase"))
    forms = tuple(dict.fromkeys((*RECORD_FORMS, *TABLE_FORMS)))
    parser.add_argument("--as", dest="form", choices=forms, help=say("option-as"))
    parser.add_argument("--out", type=Path, metavar="FILE", help=say("option-out"))
    for option, field in NARROWING.items():
        parser.add_argument(option, dest=field, metavar="TEXT", help=say(f"option-export-{option[2:]}"))
    folder_argument(parser)


def _what(text: str) -> int | str:
    """The number of a record, or one of the names. Raises ArgumentTypeError."""
    try:
        return text if text in NAMED else int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(say("want-export-what", names=", ".join(NAMED))) from None


def answer(read: argparse.Namespace) -> int:
    """Write it to a new file or to standard output; returns 0."""
    if isinstance(read.what, int):
        return _record(read, read.what)
    if read.phase is not None:
        raise InputRefused("--phase", read.phase, "want-phase-of-record")
    return _whole(read) if read.what == WORKSHOP else _table(read)


def _record(read: argparse.Namespace, record: int) -> int:
    form = read.form or FORM
    if form not in RECORD_FORMS:
        raise InputRefused("--as", form, "want-one-of", names=", ".join(RECORD_FORMS))
    _refuse_narrowing(read)
    content = RECORDS[form](read, record)
    if hand_over(content, read.out):
        print(say("export-done", record=record, file=read.out))
    return 0


def _form(read: argparse.Namespace, record: int) -> bytes:
    from steelyard.desk import record_form

    with opened(read) as workshop:
        return record_form(workshop.ledger, record, read.phase)


def _dcc(read: argparse.Namespace, record: int) -> bytes:
    """The record as a Digital Calibration Certificate. Raises InputRefused where a phase is asked for."""
    from steelyard.desk import record_export, settings
    from steelyard.paper.dcc import dcc_of

    if read.phase is not None:
        raise InputRefused("--phase", read.phase, "want-no-phase")
    with opened(read) as workshop:
        export = record_export(workshop.ledger, record)
        name, signer = settings(workshop.ledger).name, workshop.keyring.for_leaving()
        return dcc_of(export, workshop=name, is_demo=workshop.is_demo, signer=signer)


def _json(read: argparse.Namespace, record: int) -> bytes:
    """Everything in the record. Raises InputRefused where a phase is asked for."""
    from steelyard.desk import record_export
    from steelyard.proof import signed_json

    if read.phase is not None:
        raise InputRefused("--phase", read.phase, "want-no-phase-in-json")
    with opened(read) as workshop:
        return signed_json(record_export(workshop.ledger, record), workshop.keyring.for_leaving())


RECORDS: dict[str, Callable[[argparse.Namespace, int], bytes]] = {FORM: _form, DCC: _dcc, JSON: _json}


def _table(read: argparse.Namespace) -> int:
    from steelyard.bootstrap import table_file

    form = read.form or CSV
    if form not in TABLE_FORMS:
        raise InputRefused("--as", form, "want-one-of", names=", ".join(TABLE_FORMS))
    _refuse_a_screen(read, is_binary=form == XLSX)
    typed = {field: getattr(read, field) or "" for field in NARROWING.values()}
    with opened(read) as workshop, _options_named():
        is_file = hand_over_pieces(table_file(workshop, read.what, typed, form=form), read.out)
    if is_file:
        print(say("export-table-done", what=say(f"exchange-{read.what}"), file=read.out))
    return 0


def _whole(read: argparse.Namespace) -> int:
    """The whole workshop; Ctrl-C ends it, and takes away what was written."""
    if read.form is not None:
        raise InputRefused("--as", read.form, "want-no-form-of-workshop")
    _refuse_narrowing(read)
    _refuse_a_screen(read, is_binary=True)
    with opened(read) as workshop:
        is_file = hand_over_pieces(_pieces(workshop), read.out, is_private=True)
        number = workshop.ledger.head().number
    if is_file:
        print(say("export-workshop-done", count=number, file=read.out))
    return 0


def _pieces(workshop: "Workshop") -> Iterator[bytes]:
    """Raises KeyboardInterrupt where it was stopped."""
    from steelyard.bootstrap import workshop_zip
    from steelyard.cli.progress import stoppable_steps

    is_stopped = False
    with stoppable_steps() as steps:

        def step(done: int, of: int) -> bool:
            nonlocal is_stopped
            is_stopped = not steps(done, of)
            return not is_stopped

        yield from workshop_zip(workshop, step)
    if is_stopped:
        raise KeyboardInterrupt


def _refuse_a_screen(read: argparse.Namespace, *, is_binary: bool) -> None:
    """Raise InputRefused rather than fill a screen with what nobody can read."""
    if is_binary and read.out is None and sys.stdout.isatty():
        raise InputRefused("--out", None, "want-new-file")


def _refuse_narrowing(read: argparse.Namespace) -> None:
    for option, field in NARROWING.items():
        if getattr(read, field) is not None:
            raise InputRefused(option, getattr(read, field), "want-narrowed-table")


@contextmanager
def _options_named() -> Iterator[None]:
    """A refused field told by the option that filled it."""
    options = {"as": "--as", **{field: option for option, field in NARROWING.items()}}
    try:
        yield
    except InputRefused as refused:
        field = options.get(refused.field, refused.field)
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from None
