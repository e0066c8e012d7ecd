"""`steelyard backup`: a copy of the workshop's ledger that was read back."""

import argparse
from pathlib import Path

from steelyard.cli.folder import folder_argument, opened
from steelyard.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    folder_argument(parser)
    parser.add_argument("--to", type=Path, metavar="DIR", help=say("option-to-folder"))
    parser.add_argument("--with-key", action="store_true", help=say("option-with-key"))
    parser.add_argument("--phrase-file", type=Path, metavar="FILE", help=say("option-phrase-file"))


def answer(read: argparse.Namespace) -> int:
    """Copy, say where; returns 0. The key goes along only where that is asked for."""
    from steelyard.cli.key import asked_phrase

    phrases = asked_phrase(read.phrase_file, is_new=True) if read.with_key else None
    with opened(read) as workshop:
        if phrases is not None:
            place = workshop.keyring.copy(read.to or workshop.backup_folder, *phrases)
            print(say("key-copied", place=place))
        print(say("backup-made", copy=workshop.back_up(read.to)))
    return 0
